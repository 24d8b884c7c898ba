"""The plan file as typed models: one module a section, each value a leaf that reads its own text.

Answers: is each value sound by itself, and what does it mean in the program's units? What concerns two
sections is in ``crosschecks.py``. May import the small shared types and the values of ``plan``. Start reading
in ``move.py``; ``leaves.py`` holds the single values.
"""

from moveplan.planfile.schema.move import PlanEntry

__all__ = ["PlanEntry"]
