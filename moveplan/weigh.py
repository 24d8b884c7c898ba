"""Every way of moving that the facts allow, each fully scheduled, side by side; and plans against each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from moveplan.cost.book import check_prices
from moveplan.errors import PlanFileError, Problem
from moveplan.network.task import Kind
from moveplan.outputs.livestock import dated_routes
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.weighed import Weighed, WeighedPlan, Weighing
from moveplan.pipeline import foresee
from moveplan.plan.move import Plan
from moveplan.planfile.problems import ContradictionError
from moveplan.planfile.reader import read_plan
from moveplan.practice.project import Project
from moveplan.practice.ways.fitting import SHUT_DOWN, WayFit, ways_of
from moveplan.quantities.water.amounts import proposed_share
from moveplan.risk.register.ranked import check_risks
from moveplan.stages.reading import Settings, composed
from moveplan.times import MINUTES_A_DAY

DECISIVE = 6
"""Most hold points listed as what must go right. [-]"""


def weigh(paths: Sequence[Path], settings: Settings, changes: Sequence[str] = ()) -> Weighing:
    """Compute every way that the facts of each plan allow.

    Parameters
    ----------
    paths : sequence of Path
        Plan files.
    settings : Settings
        How hard to look, and how often to simulate.
    changes : sequence of str
        What if: ``dates=+14 days``, ``people.tom=none``; shown beside the plan as it is.

    Raises
    ------
    PlanFileError
        Where a plan is not sound, or a change cannot be read.
    """
    found = [(path, *_composed_both(path, settings, changes)) for path in paths]
    rows: list[WeighedPlan] = []
    for path, plain, changed in found:
        rows.append(_weighed_plan(plain, path.name, settings))
        if changed is not None:
            label = f"{path.name} with {', '.join(changes)}"
            rows.append(_weighed_change(changed, rows[-1], label, settings))
    return Weighing(tuple(rows))


@dataclass(frozen=True, slots=True)
class _Composed:
    """A plan, and what there is to do in each of its ways; None where the facts rule a way out."""

    plan: Plan
    ways: tuple[tuple[WayFit, Project | None], ...]


_Change = _Composed | tuple[Problem, ...] | None


def _composed_both(path: Path, settings: Settings, changes: Sequence[str]) -> tuple[_Composed, _Change]:
    """Read and compose a plan as it is and changed, so that what cannot be read is told before the search."""
    plain = _composed(read_plan(path, settings.now))
    if not changes:
        return plain, None
    changed = _changed(path, plain.plan, settings, changes)
    return plain, _composed(changed) if isinstance(changed, Plan) else changed


def _composed(plan: Plan) -> _Composed:
    """Compose every way; PlanFileError where the plan's risks fit none of them."""
    fits = (
        (WayFit("", True, "tasks of the keeper's own", 1),) if plan.purpose == "own-tasks" else ways_of(plan)
    )
    check_prices(plan)
    found = tuple((fit, composed(replace(plan, way=fit.way)) if fit.fits else None) for fit in fits)
    errors = [_risk_error(project) for _fit, project in found if project is not None]
    if errors and errors[0] is not None and None not in errors:
        raise errors[0]
    return _Composed(plan, found)


def _risk_error(project: Project) -> PlanFileError | None:
    try:
        check_risks(project)
    except PlanFileError as error:
        return error
    return None


def _changed(
    path: Path, plan: Plan, settings: Settings, changes: Sequence[str]
) -> Plan | tuple[Problem, ...]:
    """Read a plan with changes; where they do not go with the rest of it, why."""
    kept = {f"systems.{one.id}.water-kept": f"{100 * proposed_share(one)[0]:g} %" for one in plan.systems}
    try:
        return read_plan(path, settings.now, changes, kept)
    except ContradictionError as error:
        return error.problems


def _weighed_change(
    changed: _Composed | tuple[Problem, ...], plain: WeighedPlan, label: str, settings: Settings
) -> WeighedPlan:
    if isinstance(changed, _Composed):
        return replace(_weighed_plan(changed, label, settings), plain=plain)
    return WeighedPlan(plain.plan, label, (), plain, changed)


def _weighed_plan(found: _Composed, label: str, settings: Settings) -> WeighedPlan:
    ways = [_weighed(fit, project, settings) for fit, project in found.ways]
    return WeighedPlan(found.plan, label, tuple(sorted(ways, key=_order)))


def _order(one: Weighed) -> int:
    """Sort ways by what became of them, the tight among those that can be done; the rest is as the facts rank them."""
    return {"ok": 0, "tight": 0, "undecided": 1, "unsafe": 2, "cannot-be-done": 3}.get(one.verdict, 4)


def _weighed(fit: WayFit, whole: Project | None, settings: Settings) -> Weighed:
    if whole is None:
        reason = Problem(fit.why, fit.where, fit.remedy)
        return Weighed(fit.way, False, fit.why, reasons=(reason,))
    outlook = foresee(whole, settings, tell=False)
    if not outlook.schedule.placements:
        return Weighed(fit.way, True, fit.why, outlook.verdict.value, outlook.problems, outlook)
    return Weighed(
        fit.way,
        True,
        fit.why,
        outlook.verdict.value,
        outlook.problems,
        outlook,
        at_risk=_at_risk(outlook),
        leaving=_leaving(outlook.project.plan, fit.way),
        transit_min=_transit_min(outlook),
        cost=_cost(outlook),
        weeks=_weeks(outlook),
        settled=_settled(outlook),
        settled_by=_settled_by(outlook),
        loss=outlook.cost.expected_loss if outlook.cost else None,
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
    first = min(one.start for one in outlook.schedule.placements)
    return (_settled(outlook) - first) / (7 * MINUTES_A_DAY)


def _settled(outlook: Outlook) -> int:
    settled = dict(outlook.project.network.milestones).get("settled")
    stands = outlook.schedule.placements
    return outlook.schedule.of(settled).finish if settled else max(one.finish for one in stands)


def _settled_by(outlook: Outlook) -> int | None:
    found = (outlook.risk.settled or outlook.risk.finish) if outlook.risk else None
    return found.p80 if found else None


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
