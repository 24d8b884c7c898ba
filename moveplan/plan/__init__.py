"""What the keeper told us, as frozen values with units already converted.

Answers: which tanks, animals, people, vehicles, places, dates and prices does this move have? Every value is
complete: what the keeper did not say is filled with an assumption, listed in ``Plan.assumptions``. May import
only the small shared types. Start reading in ``move.py``.
"""
