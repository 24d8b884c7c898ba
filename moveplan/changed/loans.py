"""What a plan would say in which nothing that is short has to be ordered: tried before it is named."""

from __future__ import annotations

from dataclasses import replace

from moveplan.changed.trials import Foreseen, Trials, told
from moveplan.errors import MoveplanError, Problem
from moveplan.outputs.outlook import Outlook
from moveplan.plan.move import Plan
from moveplan.practice.project import Project
from moveplan.practice.ways.courses import course_of
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.containers.vessels import Vessel
from moveplan.quantities.leg.shortages import Needed, Writes, lent, shorts_of
from moveplan.stages.reading import Settings

ROUNDS = 2
"""Containers are chosen anew for what is borrowed, so often. [-]"""


def with_loans(outlook: Outlook, settings: Settings, foresee: Foreseen) -> Outlook:
    """Say beside gear that is ordered what to write where it is borrowed."""
    project = outlook.project
    shorts = shorts_of(project.plan, project.gear_needed) if outlook.verdict.follows else ()
    if not any(one.item for one in shorts):
        return outlook
    plan, writes = lent(project.plan, shorts)
    if not _same_containers(project, plan):
        writes = _lent_until_enough(Trials(outlook, settings, foresee))
    return replace(outlook, project=replace(project, findings=_said(project, writes))) if writes else outlook


def _lent_until_enough(trials: Trials) -> Writes:
    """Borrow what is short, and what is short then; nothing where the plan is not to be followed with it."""
    project, needed = trials.outlook.project, trials.outlook.project.gear_needed
    for _ in range(ROUNDS):
        plan, writes = lent(project.plan, shorts_of(project.plan, needed))
        seen = trials.seen(plan)
        if not isinstance(seen, Outlook) or not seen.verdict.follows:
            return ()
        if not shorts_of(plan, seen.project.gear_needed):
            return writes
        needed = _most(needed, seen.project.gear_needed)
    return ()


def _most(before: Needed, after: Needed) -> tuple[tuple[str, int, int], ...]:
    """Take the greater need of each kind; what there is is that of the plan as it stands."""
    known, most = {row[0] for row in before}, {kind: needed for kind, needed, _ in after}
    fresh = tuple(row for row in after if row[0] not in known)
    return (*((kind, max(needed, most.get(kind, 0)), there) for kind, needed, there in before), *fresh)


def _said(project: Project, writes: Writes) -> tuple[Problem, ...]:
    """Put all that is borrowed beside the first thing that is short: it was tried together."""
    lines = [project.plan.where(key) for key, _ in writes if key.endswith(".count")]
    first = next(one for one in project.findings if one.where in lines)
    remedy = f"or borrow it, with all else that is short: {told(writes)} (tried: nothing is ordered then)"
    return tuple(replace(one, remedy=remedy) if one is first else one for one in project.findings)


def _same_containers(project: Project, plan: Plan) -> bool:
    """Whether everything travels as it did when all that is short is there, so that nothing else changes."""
    before = {_alike(use.vessel) for use in project.ledger.containers}
    try:
        legs = [
            facts_of(plan, leg, measured)
            for leg, measured in zip(course_of(plan, project.way).legs, project.measured, strict=True)
        ]
    except MoveplanError:
        return False
    vessels = [vessel for facts in legs for one in facts.systems for vessel in one.vessels]
    return not any(shorts_of(plan, facts.gear_needed) for facts in legs) and {*map(_alike, vessels)} <= before


def _alike(vessel: Vessel) -> Vessel:
    """Leave out the number: that of a thing of the plan begins as its id does."""
    return replace(
        vessel, number="", gear="", holds=tuple(one for one in vessel.holds if one.what != "container")
    )
