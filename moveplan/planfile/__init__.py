"""The border between the keeper's file and the plan: YAML and pydantic live here and in the journal only.

Answers: what did the keeper write, is it sound, and where is the mistake? ``text.py`` reads YAML as a tree of
texts with lines, ``sections.py`` settles ids, ``draft.py`` types every entry by the models in ``schema/``,
``crosschecks.py`` holds the rules between sections, and ``fill/`` completes what was not said and lists it as
assumptions. May import plan, science and what lies below. Start reading in ``reader.py``.
"""

from moveplan.planfile.reader import read_plan

__all__ = ["read_plan"]
