"""Who is paid for waiting: whoever is called for a moving day is paid from meeting to leaving."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import to_local

AWAY_MIN = 8 * 60
"""Who has nothing to do for so long goes home, and is called again; common practice, no source. [min]"""


@dataclass(frozen=True, slots=True)
class Called:
    """What one paid person does on moving days.

    Parameters
    ----------
    work : tuple of Placement
        From the first task of a day to its last, in order of start; the time between two of them is paid as well,
        breaks included, unless it is as long as :data:`AWAY_MIN`.
    """

    person: str
    cents_per_hour: int
    work: tuple[Placement, ...]

    def waits(self) -> list[tuple[int, int]]:
        """When each paid wait begins, UTC, and how long it is. [min]."""
        found, latest = [], self.work[0].finish
        for one in self.work[1:]:
            if 0 < one.start - latest < AWAY_MIN:
                found.append((latest, one.start - latest))
            latest = max(latest, one.finish)
        return found


def called_of(project: Project, schedule: Schedule) -> tuple[Called, ...]:
    """List who is paid and called for a moving day."""
    found = (_called(project, schedule, one.id, one.cents_per_hour) for one in project.scheduling.people)
    return tuple(one for one in found if one.cents_per_hour and one.work)


def _called(project: Project, schedule: Schedule, person: str, cents: int) -> Called:
    zone, tasks = project.plan.zone, {task.id: task for task in project.network.tasks}
    once = [
        one
        for one in sorted(schedule.placements, key=lambda one: (one.start, one.finish))
        if person in one.people and len(one.segments) == 1 and not tasks[one.task].repeats
    ]
    tied = [one for one in once if tasks[one.task].day]
    ends: dict[object, tuple[int, int]] = {}
    for one in tied:
        day = to_local(one.start, zone).date()
        since, until = ends.get(day, (one.start, one.finish))
        ends[day] = since, max(until, one.finish)
    work = (one for one in once if any(since <= one.start < until for since, until in ends.values()))
    return Called(person, cents, tuple(work))
