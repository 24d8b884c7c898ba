"""Ways of moving side by side, as values: what became of each, and what changes with one thing."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from moveplan.errors import Problem
from moveplan.outputs.outlook import Outlook
from moveplan.plan.move import Plan
from moveplan.risk.register.ranked import Offer, best_offers

MEASURES = 5
"""Most measures listed as what could be done beforehand. [-]"""


@dataclass(frozen=True, slots=True)
class Weighed:
    """One way of one plan, scheduled.

    Parameters
    ----------
    way : str
        Name of the way.
    fits : bool
        Whether the facts allow it.
    why : str
        What speaks for it, or what rules it out.
    verdict : str
        As the outlook has it; empty where the facts rule the way out.
    reasons : tuple of Problem
        Why it is unsafe, undecided or cannot be done, or which line of the plan rules it out.
    outlook : Outlook or None
        The whole of it; None where the facts rule the way out.
    at_risk : tuple of (str, float)
        Groups of animals and the share of simulated runs in which each passes its safe time.
    leaving : int
        Animals that find new keepers.
    transit_min : int
        Longest time of any group in one container. [min]
    cost : Decimal or None
        Total and reserve.
    weeks : float
        From the first task to the last animal home and safe. [week]
    settled : int or None
        When the last animal is home and safe, else when all is over, as planned, UTC. [min]
    settled_by : int or None
        By when that is so in 8 of 10 simulated runs, UTC. [min]
    loss : Decimal or None
        Expected loss from what can go wrong.
    labour_h : float
        Hours of work of all people. [h]
    holds : tuple of str
        Hold points up to the last animal, what must go right.
    """

    way: str
    fits: bool
    why: str
    verdict: str = ""
    reasons: tuple[Problem, ...] = ()
    outlook: Outlook | None = None
    at_risk: tuple[tuple[str, float], ...] = ()
    leaving: int = 0
    transit_min: int = 0
    cost: Decimal | None = None
    weeks: float = 0.0
    settled: int | None = None
    settled_by: int | None = None
    loss: Decimal | None = None
    labour_h: float = 0.0
    holds: tuple[str, ...] = ()

    @property
    def follows(self) -> bool:
        """Whether it can be carried out."""
        return self.outlook is not None and self.outlook.verdict.follows

    @property
    def worst(self) -> float:
        """Greatest share of runs in which some group passes its safe time."""
        return max((share for _, share in self.at_risk), default=0.0)


@dataclass(frozen=True, slots=True)
class WeighedPlan:
    """All ways of one plan.

    Parameters
    ----------
    plan : Plan
        As read, changes included.
    label : str
        File name, and the changes if there are any.
    ways : tuple of Weighed
        The best first, those that are out last.
    plain : WeighedPlan or None
        The same plan without the changes; None where this is it.
    contradictions : tuple of Problem
        Why the changes do not go with the rest of the plan; there are no ways then.
    """

    plan: Plan
    label: str
    ways: tuple[Weighed, ...]
    plain: WeighedPlan | None = None
    contradictions: tuple[Problem, ...] = ()

    @property
    def best(self) -> Weighed | None:
        """The first that can be carried out."""
        return next((one for one in self.ways if one.follows), None)

    @property
    def offers(self) -> tuple[Offer, ...]:
        """What could be done beforehand against the risks of the best way, what brings most first."""
        outlook = self.best.outlook if self.best else None
        return (
            best_offers(outlook.project, outlook.risk.register, MEASURES) if outlook and outlook.risk else ()
        )

    @property
    def difference(self) -> Difference | None:
        """What the changes make of the way that would be taken without them; None where nothing is to compare."""
        before = self.plain.best if self.plain else None
        if before is None or self.contradictions:
            return None
        after = next(one for one in self.ways if one.way == before.way)
        return Difference(before, after, None if after.follows else self.best)


@dataclass(frozen=True, slots=True)
class Difference:
    """One way, before and after some changes.

    Parameters
    ----------
    before, after : Weighed
        The same way.
    instead : Weighed or None
        The way to take where it cannot be taken any more; None: there is none, or no need.
    """

    before: Weighed
    after: Weighed
    instead: Weighed | None

    @property
    def compared(self) -> Weighed | None:
        """What stands in place of the way before; None where nothing can."""
        return self.after if self.after.follows else self.instead


@dataclass(frozen=True, slots=True)
class Weighing:
    """Plans and their ways, side by side.

    Parameters
    ----------
    plans : tuple of WeighedPlan
        In the order asked for; with changes each plan stands twice, as it is and changed.
    """

    plans: tuple[WeighedPlan, ...]
