"""Why there is no schedule."""
