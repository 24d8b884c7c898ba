"""Rules between entries and sections, one module a subject; listed in ``crosschecks.py``."""
