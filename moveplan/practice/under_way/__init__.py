"""A move that has begun: what has happened, what is left, and a new schedule with the fewest changes."""
