"""How the simulation was reckoned, in words for people."""

from __future__ import annotations

from moveplan.practice.project import Project
from moveplan.risk.register.default import table
from moveplan.risk.register.words import note_words


def notes_of(
    project: Project, slips: tuple[int, ...], losses: tuple[float, float, float] | None = None
) -> tuple[str, ...]:
    """Say how the runs were made.

    Parameters
    ----------
    project : Project
        What was simulated.
    slips : tuple of int
        By how many days each moving day slips where it is missed. [day]
    losses : tuple of (float, float, float), optional
        Expected loss of animals in their containers: likely, low and high, in the plan's currency.
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
        over = policy["overtime"]
        notes.append(note_words("causes", causes=causes))
        notes.append(note_words("policy", overtime=over["minutes"] // 60, eve=over["eve_minutes"] // 60))
        tolerance = policy["slip"]["tolerance_min"]
        notes += [note_words("slip", tolerance=tolerance, days=days) for days in dict.fromkeys(slips)]
        if losses is not None:
            notes.append(_losses(losses))
    return (*notes, note_words("gaps"))


def _losses(losses: tuple[float, float, float]) -> str:
    all_at = table("policy")["loss"]["all_at"]
    loss, low, high = (f"{one:.2g}" for one in losses)
    return note_words(
        "losses",
        likely=all_at["likely"],
        loss=loss,
        low=low,
        high=high,
        latest=all_at["high"],
        soonest=all_at["low"],
    )
