"""Early and late dates, float and what drives each task of a finished schedule."""
