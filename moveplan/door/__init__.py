"""What every finished schedule is asked before anything is made of it.

Start reading in ``door.py``. A checker shares no code with what it checks.
"""
