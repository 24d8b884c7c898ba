"""From a firm file to a firm, or to everything that is wrong with it. Start reading in ``reader.py``."""
