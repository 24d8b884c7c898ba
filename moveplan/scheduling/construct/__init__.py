"""A schedule without a solver: the serial scheme, again and again."""
