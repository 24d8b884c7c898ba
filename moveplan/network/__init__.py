"""Tasks, links, gaps and gear: what waits for what, and which chain decides the end.

Answers: in which order, how early, how late, with how much float? Knows no calendar (times are plain
minutes) and no aquarium. May import the standard library and the small shared types.
Start reading in ``task.py`` and ``link.py``; ``passes.py`` computes early and late times.
"""
