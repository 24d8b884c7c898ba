"""``moveplan record`` and what writes records."""
