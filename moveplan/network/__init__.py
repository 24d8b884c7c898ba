"""Tasks, links, gaps and gear: what waits for what, and how early and how late it may be.

Knows no calendar (times are plain minutes) and no aquarium. May import the standard library, networkx and the small
shared types. Start reading in ``task.py`` and ``link.py``; ``passes.py`` computes early and late times.
"""
