"""From typed entries to the plan's values: whatever the keeper did not say is assumed, with its reason.

Answers: what is the value where nothing is written, and why that one? The numbers and reasons stand in
``usual.py``. May import the schema and the values of ``plan``. Start reading in ``whole.py``.
"""

from moveplan.planfile.fill.whole import filled

__all__ = ["filled"]
