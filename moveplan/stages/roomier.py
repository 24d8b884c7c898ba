"""Room where a promise breaks: what breaks it is planned against a nearer limit, and judged by the true one.

Who works past stated hours, does an own task that passes its date, uses a vehicle last that is needed for too long, or
gets the eve of a day that slips ready, is planned as if one evening ended earlier. What still fits stands where it
stood.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from moveplan.practice.project import Project
from moveplan.risk.promise.values import Broken, Promise
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.improve.keeping import kept
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.schedule import Placement, Schedule, Status
from moveplan.times import MINUTES_A_DAY, Interval, local_day

ROOM_MIN = (30, 90)
"""By how much hours are drawn nearer: as one task runs over, or several. Chosen. [min]"""
EVE_MIN = 2 * MINUTES_A_DAY
"""What ends so shortly before a moving day can make it slip. Chosen. [min]"""


@dataclass(frozen=True, slots=True)
class Near:
    """A schedule that keeps limits which may be nearer than those of its project.

    Parameters
    ----------
    schedule : Schedule
        As it was found for them.
    problem : SchedulingProblem
        With these limits.
    """

    schedule: Schedule
    problem: SchedulingProblem


def roomier(project: Project, near: Near, promise: Promise, effort: Effort) -> Iterator[Near]:
    """Make schedules with room where one breaks its promise, from what breaks most.

    Parameters
    ----------
    near : Near
        Whose room is asked for; what was drawn nearer before stays so.
    promise : Promise
        What of it breaks, and how often.
    effort : Effort
        Of placing again what no longer fits.
    """
    before = {one.task: one for one in near.schedule.placements}
    for problem in _nearer(project, near, promise):
        found = kept(problem, before, effort)
        if found is not None and found.placements != near.schedule.placements:
            placed = replace(
                near.schedule,
                status=Status.FEASIBLE,
                placements=found.placements,
                makespan_min=found.makespan_min,
                bound_min=0,
                aims=(),
            )
            yield Near(placed, problem)


def _nearer(project: Project, near: Near, promise: Promise) -> Iterator[SchedulingProblem]:
    """Draw the hours of one person on one day nearer, those of what breaks most first."""
    every = (
        spent
        for broken in promise.breaks
        for one in _short_of_time(project, near.schedule, promise, broken)
        for spent in _spent(near.problem, one, broken)
    )
    for person, hours in dict.fromkeys(every):
        room_min = _room_min(person, hours, near.schedule)
        for more_min in ROOM_MIN:
            if room_min < more_min < hours.minutes:
                yield _ending(near.problem, person, hours, hours.finish - more_min)


def _spent(problem: SchedulingProblem, one: Placement, broken: Broken) -> Iterator[tuple[Person, Interval]]:
    """Give whose hours a task takes, and which; where somebody's own are too short, no other's."""
    people = (broken.id,) if broken.what == "hours" else one.people
    for person in problem.people:
        if person.id in people:
            yield from (
                (person, hours) for hours in person.available if any(map(hours.overlaps, one.segments))
            )


def _short_of_time(
    project: Project, found: Schedule, promise: Promise, broken: Broken
) -> Iterable[Placement]:
    """Tell for which tasks there is too little time where something breaks."""
    if broken.what == "hours":
        return [found.of(task) for person, task in promise.overruns if person == broken.id]
    if broken.what == "date":
        return [found.of(broken.id)]
    if broken.what == "hire":
        used = [one for one in found.placements if broken.id in one.vehicles]
        return [max(used, key=lambda one: one.finish)]
    if broken.what == "day":
        day = local_day(date.fromisoformat(broken.id), project.plan.zone)
        return [one for one in found.placements if day.start - EVE_MIN < one.finish <= day.start]
    return []


def _room_min(person: Person, hours: Interval, found: Schedule) -> int:
    """How long before the end of some hours the work of a person in them ends. [min]."""
    pieces = [piece for one in found.placements if person.id in one.people for piece in one.segments]
    return max(0, hours.finish - max(piece.finish for piece in pieces if hours.overlaps(piece)))


def _ending(problem: SchedulingProblem, person: Person, hours: Interval, finish: int) -> SchedulingProblem:
    """Let the hours of a person end earlier on one day."""
    available = tuple(Interval(hours.start, finish) if one == hours else one for one in person.available)
    people = (replace(one, available=available) if one is person else one for one in problem.people)
    return replace(problem, people=tuple(people))
