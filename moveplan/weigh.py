"""Every way of moving that the facts allow, each fully scheduled, side by side; and plans against each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from moveplan.errors import Problem
from moveplan.network.task import Kind
from moveplan.outputs.livestock import dated_routes
from moveplan.outputs.outlook import Outlook
from moveplan.pipeline import Settings, compose, schedule, weigh_up
from moveplan.plan.move import Plan
from moveplan.planfile.reader import read_plan
from moveplan.practice.ways import SHUT_DOWN, WayFit, ways_of
from moveplan.times import MINUTES_A_DAY

DECISIVE = 6
"""Most hold points listed as what must go right. [-]"""


@dataclass(frozen=True, slots=True)
class Weighed:
    """One way of one plan, scheduled.

    Parameters
    ----------
    way : str
        Name of the way. [-]
    fits : bool
        Whether the facts allow it. [-]
    why : str
        What speaks for it, or what rules it out. [-]
    verdict : str
        As the outlook has it; empty where the facts rule the way out. [-]
    reasons : tuple of Problem
        Why it is unsafe, undecided or cannot be done, or which line of the plan rules it out. [-]
    outlook : Outlook or None
        The whole of it; None where the facts rule the way out. [-]
    at_risk : tuple of (str, float)
        Groups of animals and the share of simulated runs in which each passes its safe time. [-]
    leaving : int
        Animals that find new keepers. [-]
    transit_min : int
        Longest time of any group in one container. [min]
    cost : Decimal or None
        Total and reserve. [-]
    weeks : float
        From the first task to the last animal home and safe. [week]
    labour_h : float
        Hours of work of all people. [h]
    holds : tuple of str
        Hold points up to the last animal, what must go right. [-]
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
    labour_h: float = 0.0
    holds: tuple[str, ...] = ()

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
        As read, changes included. [-]
    label : str
        File name, and the changes if there are any. [-]
    ways : tuple of Weighed
        The best first, those that are out last. [-]
    """

    plan: Plan
    label: str
    ways: tuple[Weighed, ...]

    @property
    def best(self) -> Weighed | None:
        """The first that can be carried out."""
        return next((one for one in self.ways if one.verdict == "ok"), None)


@dataclass(frozen=True, slots=True)
class Weighing:
    """Plans and their ways, side by side.

    Parameters
    ----------
    plans : tuple of WeighedPlan
        In the order asked for; with changes each plan stands twice, as it is and changed. [-]
    """

    plans: tuple[WeighedPlan, ...]


def weigh(paths: Sequence[Path], settings: Settings, changes: Sequence[str] = ()) -> Weighing:
    """Compute every way that the facts of each plan allow.

    Parameters
    ----------
    paths : sequence of Path
        Plan files. [-]
    settings : Settings
        How hard to look, and how often to simulate. [-]
    changes : sequence of str
        What if: ``dates.access-from=2027-03-27``, ``people.tom=none``; shown beside the plan as it is. [-]
    """
    rows: list[WeighedPlan] = []
    for path in paths:
        rows.append(_weighed_plan(read_plan(path, settings.now), path.name, settings))
        if changes:
            label = f"{path.name} with {', '.join(changes)}"
            rows.append(_weighed_plan(read_plan(path, settings.now, changes), label, settings))
    return Weighing(tuple(rows))


def _weighed_plan(plan: Plan, label: str, settings: Settings) -> WeighedPlan:
    if plan.purpose == "own-tasks":
        own = _weighed(plan, WayFit("", True, "tasks of the keeper's own", 1), settings)
        return WeighedPlan(plan, label, (own,))
    found = [_weighed(plan, fit, settings) for fit in ways_of(plan)]
    return WeighedPlan(plan, label, tuple(sorted(found, key=_order)))


def _order(one: Weighed) -> int:
    """Sort ways by what became of them; within that they stay ranked as the facts rank them."""
    return {"ok": 0, "undecided": 1, "unsafe": 2, "cannot-be-done": 3}.get(one.verdict, 4)


def _weighed(plan: Plan, fit: WayFit, settings: Settings) -> Weighed:
    if not fit.fits:
        reason = Problem(fit.why, fit.where, fit.remedy)
        return Weighed(fit.way, False, fit.why, reasons=(reason,))
    project, found = schedule(compose(replace(plan, way=fit.way)), settings)
    outlook = weigh_up(project, found, settings)
    if not found.placements:
        return Weighed(fit.way, True, fit.why, outlook.verdict.value, outlook.problems, outlook)
    return Weighed(
        fit.way,
        True,
        fit.why,
        outlook.verdict.value,
        outlook.problems,
        outlook,
        at_risk=_at_risk(outlook),
        leaving=_leaving(plan, fit.way),
        transit_min=_transit_min(outlook),
        cost=_cost(outlook),
        weeks=_weeks(outlook),
        labour_h=_labour_h(outlook),
        holds=_holds(outlook),
    )


def _at_risk(outlook: Outlook) -> tuple[tuple[str, float], ...]:
    if outlook.risk is None:
        return ()
    names = {route.livestock: route.name for route in outlook.project.routes}
    rows = [(names[one], share) for one, share in outlook.risk.over_limit if share > 0 and one in names]
    return tuple(sorted(rows, key=lambda row: (-row[1], row[0])))


def _leaving(plan: Plan, way: str) -> int:
    there = [group for group in plan.livestock if not group.wished]
    return sum(group.count if way == SHUT_DOWN else group.leaves for group in there)


def _transit_min(outlook: Outlook) -> int:
    stays = (stay for dated in dated_routes(outlook) for stay in dated.stays)
    return max((stay.span.minutes for stay in stays), default=0)


def _cost(outlook: Outlook) -> Decimal | None:
    return None if outlook.cost is None else outlook.cost.total + (outlook.cost.reserve or Decimal(0))


def _weeks(outlook: Outlook) -> float:
    settled = dict(outlook.project.network.milestones).get("settled")
    stands = outlook.schedule.placements
    first = min(one.start for one in stands)
    last = outlook.schedule.of(settled).finish if settled else max(one.finish for one in stands)
    return (last - first) / (7 * MINUTES_A_DAY)


def _labour_h(outlook: Outlook) -> float:
    return (
        sum(
            len(one.people) * sum(piece.minutes for piece in one.segments)
            for one in outlook.schedule.placements
        )
        / 60
    )


def _holds(outlook: Outlook) -> tuple[str, ...]:
    """List the hold points up to the last animal home, the latest last."""
    settled = dict(outlook.project.network.milestones).get("settled")
    end = outlook.schedule.of(settled).finish if settled else None
    rows = [
        (outlook.schedule.of(task.id).start, task.title)
        for task in outlook.project.network.tasks
        if task.kind is Kind.HOLD_POINT
    ]
    titles = [title for start, title in sorted(rows) if end is None or start < end]
    return tuple(dict.fromkeys(titles))[:DECISIVE]
