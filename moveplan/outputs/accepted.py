"""A schedule as the journal keeps it, and what a record of a plan may name."""

from __future__ import annotations

import math
from typing import Any

from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.snapshot import PlannedStay, PlannedTask, Snapshot, Tie
from moveplan.journal.records import Accepted
from moveplan.journal.taking.known import Known, KnownTask
from moveplan.journal.waters.gate_table import gates_of
from moveplan.journal.waters.names import new_water_of
from moveplan.network.task import Kind, State, Task
from moveplan.outputs.agenda import agenda
from moveplan.outputs.livestock import DatedRoute, dated_routes, in_use
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.premises import premises_of_outlook
from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.practice.drafting.pace import Paces, paces_of
from moveplan.practice.drafting.wording import Wording
from moveplan.practice.project import Moment, Project
from moveplan.practice.under_way.story import beside, cycles_of
from moveplan.practice.ways.fitting import HOLD_OVER
from moveplan.quantities.keeping.entry import entry_of
from moveplan.quantities.keeping.gates import fish_alone
from moveplan.risk.runs.model import with_ends
from moveplan.scheduling.schedule import Placement
from moveplan.times import Interval


def accepted_of(outlook: Outlook, reason: str) -> Accepted:
    """Make the record of a schedule that is accepted.

    Parameters
    ----------
    reason : str
        Why it is, where it has problems; not kept where it has none.
    """
    return Accepted(
        at=outlook.now,
        schedule=snapshot_data(snapshot_of_outlook(outlook)),
        reason=(reason or "the point of no return is passed") if outlook.problems else "",
    )


def snapshot_of_outlook(outlook: Outlook) -> Snapshot:
    """Take down a schedule, to be kept in the journal."""
    project, plan = outlook.project, outlook.project.plan
    tasks = {task.id: task for task in project.network.tasks}
    ties = tuple(
        Tie(link.before, link.after, link.relation, link.min_gap_min)
        for link in project.network.links
        if link.min_gap_min is not None
    )
    waits: dict[str, list[str]] = {}
    pairs: dict[tuple[str, str], list[Tie]] = {}
    for tie in ties:
        waits.setdefault(tie.after, []).append(tie.before)
        pairs.setdefault((tie.before, tie.after), []).append(tie)
    known = known_of_project(project)
    paces = paces_of(plan, Wording(plan.units, silent=True).kinds)
    numbers = {line.task.id: line.number for line in agenda(outlook).lines}
    return Snapshot(
        title=plan.title,
        zone=plan.zone.key,
        now=outlook.now,
        locale=plan.locale,
        currency=plan.currency,
        way=project.way,
        tasks=tuple(
            _planned(tasks[one.task], one, outlook, known.tasks[one.task], numbers[one.task], paces)
            for one in outlook.schedule.placements
            if outlook.states.get(one.task) is not State.CANCELLED
        ),
        stays=tuple(stay for route in dated_routes(outlook) for stay in _stays(route, outlook)),
        waits={after: tuple(dict.fromkeys(before)) for after, before in waits.items()},
        gaps=tuple(tie for pair, several in pairs.items() if several != [Tie(*pair)] for tie in several),
        people=known.people,
        vehicles=known.vehicles,
        groups=known.groups,
        systems=known.systems,
        milestones=dict(project.network.milestones),
        cost={name: str(amount) for name, amount in outlook.cost.groups} if outlook.cost else {},
        cycles=cycles_of(plan, tasks),
        policy=dict(plan.policy) | _alarms(plan),
        rates={helper.id: str(helper.cost_per_hour) for helper in plan.people if helper.cost_per_hour},
        terms={
            one: {"fee": str(late.fee), "within_days": late.within_days, "assumed": assumed}
            for one, _, late, assumed in plan.late_changes
        },
        skills={one.id: one.skills for one in project.scheduling.people},
        premises=premises_of_outlook(outlook, known),
        promise=_promise(outlook),
        labels=_labels(outlook),
    )


def _labels(outlook: Outlook) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Take down which number stands for what, buckets of sand included."""
    vessels = [use.vessel for use in outlook.project.ledger.containers]
    rows = [(one.number, one.what) for one in vessels]
    stowed = (item for load in outlook.project.loads for _, items in load.stowed for item in items)
    known = {one.number for one in vessels}
    rows += [(item.number, (item.name,)) for item in stowed if item.number and item.number not in known]
    return tuple(dict.fromkeys(rows))


def _alarms(plan: Plan) -> dict[str, float]:
    """Give the alarm of oxygen as the air at the plan's places has it: of several heights that of the lowest."""
    rows = [entry_of(plan, system, place).alarm for system in plan.systems for place in plan.places]
    return {"alarm_oxygen": max(rows)} if rows else {}


def _entries(plan: Plan, place: Place | None) -> dict[str, dict[str, float]]:
    """Give what each system's animals ask of water at a place before they go into it."""
    rows = ((one.id, entry_of(plan, one, place)) for one in plan.systems if place)
    return {one: {"entry_nitrate": row.nitrate, "entry_oxygen": row.oxygen} for one, row in rows}


def _stated(plan: Plan) -> dict[str, dict[str, float]]:
    """Give what the plan says that the water of each system reads."""
    return {
        one.id: {
            "temperature": one.temperature_c,
            "salinity": one.salinity_psu,
            "ph": one.ph_nbs,
            "alkalinity": one.alkalinity_dkh,
        }
        for one in plan.systems
    }


def _promise(outlook: Outlook) -> dict[str, Any]:
    """Take down what was simulated, so that it can be run again from what is done."""
    risk = outlook.risk
    if risk is None or risk.promise is None or not risk.model:
        return {}
    return {"confidence": risk.promise.confidence, **with_ends(risk.model)}


def known_of_project(project: Project) -> Known:
    """Tell what a record may name.

    Parameters
    ----------
    project : Project
        The plan with its tasks.
    """
    plan = project.plan
    tasks = {task.id for task in project.network.tasks}
    waters = {system.id: system.name for system in plan.systems} | {
        new_water_of(one): f"{plan.system(one).name}, new tank" for one in beside(plan, tasks)
    }
    fish = {
        system.id
        for system in plan.systems
        if fish_alone(group for group in plan.livestock if group.system == system.id)
    }
    places = {place.id: place for place in plan.places}
    held = [system.id for system in plan.systems if system.role == "holding" and project.way == HOLD_OVER]
    holding = held[0] if held else ""
    return Known(
        {
            task.id: KnownTask(
                task.title,
                task.kind,
                task.repeats.times if task.repeats else 1,
                gates_of(
                    task.id,
                    waters,
                    plan.policy,
                    fish,
                    holding,
                    _entries(plan, places.get(task.place)),
                    _stated(plan),
                    tasks,
                )
                if task.kind is Kind.HOLD_POINT
                else (),
            )
            for task in project.network.tasks
        },
        {helper.id: helper.name for helper in plan.people},
        {vehicle.id: vehicle.name for vehicle in plan.vehicles},
        {group.id: group.name for group in plan.livestock},
        waters,
        plan.zone,
        places={place.id: place.name for place in plan.places},
    )


def _planned(
    task: Task, placement: Placement, outlook: Outlook, known: KnownTask, number: int, paces: Paces
) -> PlannedTask:
    times = outlook.times.get(task.id)
    places = {place.id: place.name for place in outlook.project.plan.places}
    return PlannedTask(
        id=task.id,
        title=task.title,
        kind=task.kind,
        segments=placement.segments,
        minutes=_worked(task, placement),
        low=round(task.estimate.low),
        high=round(task.estimate.high),
        phase=task.phase,
        place=places.get(task.place, task.place),
        people=placement.people,
        vehicles=placement.vehicles,
        times=known.times,
        critical=bool(times and times.critical),
        day=task.day,
        gates=known.gates,
        number=number,
        hands=task.crew.count if task.crew else 0,
        needs=task.crew.skills if task.crew else (),
        pace=paces.of(task.id, moving_day=bool(task.day)) if task.kind is Kind.WORK and task.crew else 1.0,
        steps=task.steps,
    )


def _worked(task: Task, placement: Placement) -> int:
    pieces = placement.segments
    return pieces[0].minutes if task.repeats else sum(piece.minutes for piece in pieces)


def _stays(dated: DatedRoute, outlook: Outlook) -> tuple[PlannedStay, ...]:
    """Take down the stays of one group; their edges are those of the stops they begin and end with."""
    made = []
    for stay in dated.stays:
        stops = [
            stop for stop in dated.route.stops if stop.safe == stay.safe and stop.container == stay.container
        ]
        shut, opened = stops[0].since, stops[-1].until
        if shut is not None and opened is not None:
            made.append((stay, shut, opened, stops))
    return tuple(
        PlannedStay(
            group=dated.route.livestock,
            name=dated.route.name,
            container=stay.container,
            count=dated.route.count,
            **_edges(shut, opened),
            shut=stay.span.start,
            opened=stay.span.finish,
            safe_low_min=_whole(stay.safe.estimate.low),
            safe_likely_min=_whole(stay.safe.estimate.likely),
            safe_high_min=_whole(stay.safe.estimate.high),
            in_vehicle_min=None if stay.in_vehicle_min is None else _whole(stay.in_vehicle_min),
            aboard_min=None if stay.aboard_min is None else _whole(stay.aboard_min),
            limited_by=stay.safe.limited_by,
            containers=containers_of(dated.route.livestock, stay.span, outlook),
            places=tuple(
                (stop.where, stop.since.task, stop.since.edge) for stop in stops if stop.since is not None
            ),
        )
        for stay, shut, opened, stops in made
    )


def containers_of(group: str, span: Interval, outlook: Outlook) -> tuple[tuple[str, int], ...]:
    """Give the numbers of the containers in which a group is during a stay, each with its count.

    Parameters
    ----------
    group : str
        Id of the group.
    span : Interval
        The stay, UTC. [min]
    """
    placed = {one.task: one for one in outlook.schedule.placements}
    found = []
    for use in outlook.project.ledger.containers:
        own = in_use(use, placed)
        if own and own.overlaps(span):
            found += [
                (use.vessel.number, held.count)
                for held in use.vessel.holds
                if held.what == "livestock" and held.id == group
            ]
    return tuple(found)


def _whole(minutes: float) -> int | None:
    """Whole minutes of a safe time; None where nothing limits it."""
    return int(minutes) if math.isfinite(minutes) else None


def _edges(shut: Moment, opened: Moment) -> dict[str, str]:
    return {
        "shut_task": shut.task,
        "shut_edge": shut.edge,
        "open_task": opened.task,
        "open_edge": opened.edge,
    }
