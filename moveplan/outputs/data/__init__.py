"""``result.json`` and ``tasks.csv``: values for other programs."""
