"""A schedule as the journal keeps it, and what a record of a plan may name."""

from __future__ import annotations

import math

from moveplan.journal.gate_table import gates_of
from moveplan.journal.known import Known, KnownTask
from moveplan.journal.snapshot import PlannedStay, PlannedTask, Snapshot
from moveplan.network.task import Kind, State, Task
from moveplan.outputs.livestock import DatedRoute, dated_routes
from moveplan.outputs.outlook import Outlook
from moveplan.practice.project import Moment, Project
from moveplan.practice.story import cycles_of
from moveplan.scheduling.schedule import Placement


def snapshot_of_outlook(outlook: Outlook) -> Snapshot:
    """Take down a schedule, to be kept in the journal.

    Parameters
    ----------
    outlook : Outlook
        With a schedule. [-]
    """
    project, plan = outlook.project, outlook.project.plan
    tasks = {task.id: task for task in project.network.tasks}
    waits: dict[str, list[str]] = {}
    for link in project.network.links:
        if link.min_gap_min is not None:
            waits.setdefault(link.after, []).append(link.before)
    known = known_of_project(project)
    return Snapshot(
        title=plan.title,
        zone=plan.zone.key,
        now=outlook.now,
        locale=plan.locale,
        currency=plan.currency,
        way=project.way,
        tasks=tuple(
            _planned(tasks[one.task], one, outlook, known.tasks[one.task])
            for one in outlook.schedule.placements
            if outlook.states.get(one.task) is not State.CANCELLED
        ),
        stays=tuple(stay for route in dated_routes(outlook) for stay in _stays(route)),
        waits={after: tuple(dict.fromkeys(before)) for after, before in waits.items()},
        people=known.people,
        vehicles=known.vehicles,
        groups=known.groups,
        systems=known.systems,
        milestones=dict(project.network.milestones),
        cost={name: str(amount) for name, amount in outlook.cost.groups} if outlook.cost else {},
        cycles=cycles_of(plan, tasks),
        policy=dict(plan.policy),
        rates={helper.id: str(helper.cost_per_hour) for helper in plan.people if helper.cost_per_hour},
    )


def known_of_project(project: Project) -> Known:
    """Tell what a record may name.

    Parameters
    ----------
    project : Project
        The plan with its tasks. [-]
    """
    plan = project.plan
    systems = {system.id: system.name for system in plan.systems}
    return Known(
        {
            task.id: KnownTask(
                task.title,
                task.kind,
                task.repeats.times if task.repeats else 1,
                gates_of(task.id, systems, plan.policy) if task.kind is Kind.HOLD_POINT else (),
            )
            for task in project.network.tasks
        },
        {helper.id: helper.name for helper in plan.people},
        {vehicle.id: vehicle.name for vehicle in plan.vehicles},
        {group.id: group.name for group in plan.livestock},
        systems,
        plan.zone,
    )


def _planned(task: Task, placement: Placement, outlook: Outlook, known: KnownTask) -> PlannedTask:
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
    )


def _worked(task: Task, placement: Placement) -> int:
    pieces = placement.segments
    return pieces[0].minutes if task.repeats else sum(piece.minutes for piece in pieces)


def _stays(dated: DatedRoute) -> tuple[PlannedStay, ...]:
    """Take down the stays of one group; their edges are those of the stops they begin and end with."""
    made = []
    for stay in dated.stays:
        stops = [
            stop for stop in dated.route.stops if stop.safe == stay.safe and stop.container == stay.container
        ]
        shut, opened = stops[0].since, stops[-1].until
        if shut is not None and opened is not None:
            made.append((stay, shut, opened))
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
            limited_by=stay.safe.limited_by,
        )
        for stay, shut, opened in made
    )


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
