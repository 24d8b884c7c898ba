"""On which day is each job's moving day, and who goes? Start reading in ``choose.py``."""
