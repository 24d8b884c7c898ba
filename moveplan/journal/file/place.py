"""Where the journal of a plan lies; who only asks whether there is one need not load what reads it."""

from __future__ import annotations

from pathlib import Path


def journal_path(plan: Path) -> Path:
    """Place of the journal: beside the plan, the same name, ending in ``.journal.jsonl``.

    >>> journal_path(Path("plans/reef.yaml")).as_posix()
    'plans/reef.journal.jsonl'
    """
    return plan.with_name(f"{plan.stem}.journal.jsonl")
