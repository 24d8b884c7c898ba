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
    low, high = project.plan.low_high
    ends = (low, high) == (0.0, 1.0)
    notes = [
        note_words("ends") if ends else note_words("quantiles", low=f"{100 * low:g}", high=f"{100 * high:g}")
    ]
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
