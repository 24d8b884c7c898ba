"""The schedule that people are told: the moving day at times that half of the runs reach, and what follows it anew.

Where that keeps no longer every limit, which is so where the day is tight, the schedule stays as it was planned, and
the chance that stands beside each start says how often it is reached.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from moveplan.door import door
from moveplan.network.link import Link
from moveplan.network.reach import reached
from moveplan.network.task import Task, Timing
from moveplan.practice.attendance.long_days import long_days
from moveplan.practice.comfort.unfed import long_fasts
from moveplan.practice.project import Project, Route
from moveplan.practice.under_way.story import Story
from moveplan.risk.prepared.stays import stays_of
from moveplan.risk.promise.values import Promise
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Placement, Schedule, Status
from moveplan.scheduling.solve import solve
from moveplan.times import Interval

QUICK_S = 0.05
"""Effort for what follows the moving day, by the quick engine. [s]"""

Spans = Mapping[str, Interval]
"""When each task of a moving day is told to be, by its id."""


@dataclass(frozen=True, slots=True)
class Told:
    """A project with the durations that people are told, and its schedule."""

    project: Project
    schedule: Schedule


def told_of(project: Project, found: Schedule, promise: Promise, effort: Effort) -> Told | None:
    """Make the schedule that people are told; None where it breaks a limit.

    Parameters
    ----------
    promise : Promise
        With the told times.
    """
    spans = {one.task: Interval(one.start, one.finish) for one in promise.told}
    longer = with_lengths(project, {one.task: one for one in found.placements}, spans)
    if longer is None or not spans:
        return None
    moved = tuple(_moved(one, spans.get(one.task)) for one in found.placements)
    planned = {one.task: one.start for one in found.placements}
    whole, told = replace(found, placements=moved), frozenset(spans)
    for soonest in (planned | dict(promise.after), planned):
        schedule = _followed(longer, whole, told, soonest, effort)
        if schedule is not None and all(
            len(broken(longer, schedule)) <= len(broken(project, found)) for broken in (long_fasts, long_days)
        ):
            return Told(longer, schedule)
    return None


def as_accepted(project: Project, story: Story) -> Project:
    """Give a project the durations of the schedule in force, so that nothing of it moves without need.

    Parameters
    ----------
    project : Project
        On the day of that schedule.
    """
    planned = [one for one in (story.last.tasks if story.last else ()) if one.day and len(one.segments) == 1]
    known = {task.id for task in project.network.tasks if task.day}
    spans = {one.id: Interval(one.start, one.finish) for one in planned if one.id in known}
    placed = {one.id: Placement(one.id, one.start, one.finish, one.segments, one.people) for one in planned}
    return with_lengths(project, placed, spans) or project


def with_lengths(project: Project, placed: Mapping[str, Placement], spans: Spans) -> Project | None:
    """Give a project the durations that people are told; None where a safe time would be passed.

    What is told holds already a part of what was allowed for delays, so the greatest gaps grow by that part.

    Parameters
    ----------
    placed : Mapping of str to Placement
        Who does each task.
    spans : Mapping of str to Interval
        The told times of the moving days. [min]
    """
    tasks = tuple(
        _lasting(task, placed[task.id], spans[task.id].minutes) if task.id in spans else task
        for task in project.network.tasks
    )
    over = {link: gap for link in project.network.links if (gap := _exceeds(link, spans)) is not None}
    if any(not _is_safe(project, link, gap) for link, gap in over.items()):
        return None
    links = tuple(
        replace(link, max_gap_min=over[link]) if link in over else link for link in project.network.links
    )
    network = replace(project.network, tasks=tasks, links=links)
    return replace(
        project,
        network=network,
        scheduling=replace(project.scheduling, network=network),
        routes=tuple(_allowed(route, over) for route in project.routes),
    )


def _lasting(task: Task, stands: Placement, minutes: int) -> Task:
    """Plan a task for the told minutes, with the crew that it has."""
    usual = next((one.minutes for one in task.larger_crews if one.count == len(stands.people)), task.minutes)
    if minutes == usual:
        return task
    share = usual / task.minutes if task.minutes else 1.0
    estimate = replace(
        task.estimate,
        low=task.estimate.low * share,
        likely=task.estimate.likely * share,
        high=task.estimate.high * share,
    )
    crew = replace(task.crew, count=len(stands.people)) if task.crew else None
    return replace(task, estimate=estimate, crew=crew, larger_crews=(), planned_min=minutes)


def _exceeds(link: Link, spans: Spans) -> int | None:
    """Give the told gap where it is greater than the greatest."""
    if link.max_gap_min is None or link.before not in spans or link.after not in spans:
        return None
    gap = link.gap_between(spans[link.before], spans[link.after])
    return gap if gap > link.max_gap_min else None


def _is_safe(project: Project, link: Link, gap: int) -> bool:
    """Whether a greatest gap is one of stays, and stays within the low end of their safe times."""
    stays = [
        one for one in stays_of(project) if (one.since.task, one.until.task) == (link.before, link.after)
    ]
    return bool(stays) and all(gap <= one.safe.estimate.low for one in stays)


def _allowed(route: Route, over: Mapping[Link, int]) -> Route:
    ends = {
        (stop.since.task if stop.since else "", stop.until.task if stop.until else "") for stop in route.stops
    }
    begun, ended = {since for since, _ in ends}, {until for _, until in ends}
    used = [
        gap - (link.max_gap_min or 0)
        for link, gap in over.items()
        if link.before in begun and link.after in ended
    ]
    return replace(route, allowance_min=max(route.allowance_min - max(used, default=0), 0))


def _moved(stands: Placement, span: Interval | None) -> Placement:
    if span is None:
        return stands
    return replace(stands, start=span.start, finish=span.finish, segments=(span,))


def _followed(
    project: Project, schedule: Schedule, told: frozenset[str], soonest: Mapping[str, int], effort: Effort
) -> Schedule | None:
    """Place what follows the moving day anew where it does not fit behind the told times any more, none sooner."""
    whole = _whole(project, schedule.placements, schedule)
    broken = {task for fault in door.faults_of(project, whole) for task in fault.tasks}
    broken |= {one.task for one in schedule.placements if one.start < soonest[one.task]}
    broken -= told
    if not broken:
        return whole
    days = {task.id for task in project.network.tasks if task.day}
    first = min(one.start for one in schedule.placements if one.task in days)
    after = {one.task for one in schedule.placements if one.finish > first} - told
    for free in (_led_to(project, broken) - told, after | broken):
        placements = _placed_anew(project, schedule.placements, free, first, soonest, effort)
        if placements:
            again = _whole(project, placements, schedule)
            if not door.faults_of(project, again):
                return again
    return None


def _led_to(project: Project, tasks: set[str]) -> set[str]:
    """Give tasks and all that waits for them."""
    waiting: dict[str, list[str]] = {}
    for link in project.network.links:
        waiting.setdefault(link.before, []).append(link.after)
    return tasks | reached(tasks, lambda name: waiting.get(name, ()))


def _whole(project: Project, placements: tuple[Placement, ...], found: Schedule) -> Schedule:
    last = max(one.finish for one in placements) - project.scheduling.start
    return replace(
        found, status=Status.FEASIBLE, placements=placements, makespan_min=last, bound_min=0, aims=()
    )


def _placed_anew(
    project: Project,
    placements: tuple[Placement, ...],
    free: set[str],
    first: int,
    soonest: Mapping[str, int],
    effort: Effort,
) -> tuple[Placement, ...]:
    """Place some tasks again, behind all that is over by then and around the rest, which stays where it is."""
    problem, stand = project.scheduling, {one.task: one for one in placements}
    gone = {one.task for one in placements if one.finish <= first and one.task not in free}
    behind = _soonest(project, stand, gone)
    tasks = tuple(
        replace(task, not_before=max(soonest[task.id], task.not_before or first, behind.get(task.id, first)))
        if task.id in free
        else _pinned(task, stand[task.id])
        for task in project.network.tasks
        if task.id not in gone
    )
    opener = min(
        (one for one in placements if one.task not in gone and one.task not in free),
        key=lambda one: one.start,
    )
    links = tuple(link for link in project.network.links if not {link.before, link.after} & gone)
    holds = tuple(
        replace(hold, from_task=opener.task) if hold.from_task in gone else hold
        for hold in project.network.holds
        if hold.until_task not in gone
    )
    milestones = tuple(row for row in project.network.milestones if row[1] not in gone)
    network = replace(project.network, tasks=tasks, links=links, holds=holds, milestones=milestones)
    found = solve(
        replace(problem, network=network), Effort(seconds=QUICK_S, seed=effort.seed, engine="serial")
    )
    again = {one.task: one for one in found.placements if one.task in free}
    return tuple(again.get(one.task, one) for one in placements) if found.placements else ()


def _soonest(project: Project, stand: Mapping[str, Placement], gone: set[str]) -> dict[str, int]:
    """Earliest start of what waits for tasks that are over. [min]."""
    found: dict[str, int] = {}
    for task, moment in _moments(project, stand, gone):
        found[task] = max(moment, found.get(task, moment))
    return found


def _moments(project: Project, stand: Mapping[str, Placement], gone: set[str]) -> Iterator[tuple[str, int]]:
    for link in project.network.links:
        if link.min_gap_min is None or link.before not in gone or link.after in gone:
            continue
        before = stand[link.before]
        moment = (before.finish if link.relation.from_finish else before.start) + link.min_gap_min
        yield link.after, moment - (stand[link.after].segments[0].minutes if link.relation.to_finish else 0)


def _pinned(task: Task, stands: Placement) -> Task:
    """Hold a task where it stands, with who does it."""
    if task.repeats or not stands.people or task.crew is None:
        crew = task.crew
    else:
        crew = replace(task.crew, count=len(stands.people), skills=(), named=stands.people)
    worked = sum(piece.minutes for piece in stands.segments)
    return replace(
        task,
        crew=crew,
        larger_crews=(),
        planned_min=None if task.repeats else worked,
        not_before=stands.start,
        finish_by=stands.finish,
        timing=Timing.EARLY,
        margin_min=0,
        due=None,
    )
