"""How the simulation was reckoned, in words for people."""

from __future__ import annotations

from moveplan.practice.project import Project
from moveplan.risk.default import table
from moveplan.risk.words import note_words

_A_DAY = 1440


def notes_of(project: Project, slip_min: int | None) -> tuple[str, ...]:
    """Say how the runs were made.

    Parameters
    ----------
    project : Project
        What was simulated. [-]
    slip_min : int or None
        By how much a missed moving day slips; None: there is no moving day. [min]
    """
    low, high = (_quantile(level, end) for level, end in zip(project.plan.low_high, (0.0, 1.0), strict=True))
    notes = [note_words("distribution", low=low, high=high)]
    if project.way:
        policy = table("policy")
        causes = "; ".join(
            note_words("cause", meaning=row["meaning"], share=round(100 * row["share"]))
            for row in table("causes").values()
        )
        notes.append(note_words("causes", causes=causes))
        notes.append(note_words("policy", overtime=policy["overtime"]["minutes"] // 60))
        if slip_min is not None:
            tolerance = policy["slip"]["tolerance_min"]
            notes.append(note_words("slip", tolerance=tolerance, days=round(slip_min / _A_DAY)))
    return (*notes, note_words("gaps"))


def _quantile(level: float, end: float) -> str:
    return note_words("ends") if level == end else note_words("quantile", percent=f"{100 * level:g}")
