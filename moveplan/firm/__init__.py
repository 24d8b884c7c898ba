"""Many moves, one crew: the jobs of a service firm in one schedule.

Answers: on which day is each client's move, who goes, with what, and what would a further job cost the others? Each job
is a plan of its own and goes the usual way (``pipeline.py``); only what they share is decided here. Start reading in
``dispatch.py``; the firm file is read in ``file/``, days are chosen in ``days/``, documents made in ``papers/``.
"""
