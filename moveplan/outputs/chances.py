"""What the runs tell beside the dates: how often the day is missed or runs over, and what for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.risk.summary import RiskSummary

WORTH_SAYING = 0.05
"""A chance from here on is told beside the verdict; assumed. [-]"""
TOO_OFTEN = 1 / 3
"""A day that is missed more often than this is no plan to promise by; assumed. [-]"""
CAUSES = 2


@dataclass(frozen=True, slots=True)
class Stake:
    """What a keeper should know before anything else about a plan that can be done.

    Parameters
    ----------
    chances : tuple of (str, float, float)
        Name, chance and standard error of what is likely enough to be told first. [-]
    causes : tuple of (str, float)
        Title of the task that a missed day is most often missed for, and the share of runs. [-]
    too_often : bool
        Whether the day is missed more often than a promise bears. [-]
    settled_p50 : int or None
        When half of the runs have the last animal home, where that is later than planned, UTC. [min]
    """

    chances: tuple[tuple[str, float, float], ...]
    causes: tuple[tuple[str, float], ...]
    too_often: bool
    settled_p50: int | None

    def __bool__(self) -> bool:
        return bool(self.chances)


def stake_of(outlook: Outlook) -> Stake:
    """Pick what is told beside the verdict; nothing where the plan cannot be followed or was not simulated.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]
    """
    risk = outlook.risk
    if risk is None or not risk.runs or outlook.verdict is not Verdict.OK:
        return Stake((), (), too_often=False, settled_p50=None)
    titles = {task.id: task.title for task in outlook.project.network.tasks}
    told = tuple(one for one in chances_of(risk) if one[1] >= WORTH_SAYING)
    missed = risk.day_missed or 0.0
    causes = risk.day_missed_by[:CAUSES] if missed >= WORTH_SAYING else ()
    return Stake(
        told,
        tuple((titles[task], share) for task, share in causes),
        missed > TOO_OFTEN,
        _later(outlook, risk),
    )


def _later(outlook: Outlook, risk: RiskSummary) -> int | None:
    planned = outlook.milestones().get("settled")
    found = None if risk.settled is None else risk.settled.p50
    return found if planned is not None and found is not None and found > planned else None


def chances_of(risk: RiskSummary | None) -> Iterator[tuple[str, float, float]]:
    """Give the chances that the runs tell beside those of the animals, by name, each with its standard error.

    Parameters
    ----------
    risk : RiskSummary or None
        What was simulated. [-]
    """
    if risk is None:
        return
    errors = dict(risk.errors)
    for name, chance in named_chances(risk):
        if chance is not None:
            yield name, chance, short(errors.get(name, 0.0))


def named_chances(risk: RiskSummary) -> Sequence[tuple[str, float | None]]:
    """Give every chance that is kept, by name.

    Parameters
    ----------
    risk : RiskSummary
        What was simulated. [-]
    """
    return (
        ("day-missed", risk.day_missed),
        ("overtime", risk.overtime),
        ("second-hire", risk.second_hire),
        ("keys-back-missed", risk.keys_back_missed),
    )


def cost_error(risk: RiskSummary | None) -> Decimal | None:
    """Give the standard error of the cost that eight runs in ten keep to; None where nothing was simulated.

    Parameters
    ----------
    risk : RiskSummary or None
        What was simulated. [-]
    """
    error = dict(risk.errors).get("cost.p80") if risk else None
    return None if error is None else Decimal(str(error)).quantize(Decimal("0.01"))


def short(error: float) -> float:
    """Keep one digit of a standard error.

    >>> short(0.00454)
    0.005
    """
    return float(f"{error:.1g}")
