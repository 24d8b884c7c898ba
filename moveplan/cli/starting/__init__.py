"""``moveplan new``: from questions, an example or an old plan to a plan file."""
