"""Who is paid for waiting: whoever is called for a moving day is paid from meeting to leaving."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.practice.attendance.whereabouts import Piece, work_of
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule

AWAY_MIN = 8 * 60
"""Who has nothing to do for so long goes home, and is called again; common practice, no source. [min]"""


@dataclass(frozen=True, slots=True)
class Called:
    """What one paid person does on moving days.

    Parameters
    ----------
    work : tuple of Piece
        From the first task of a day to its last, in order of start; the time between two of them is paid as well,
        breaks included, unless it is as long as :data:`AWAY_MIN`.
    """

    person: str
    cents_per_hour: int
    work: tuple[Piece, ...]

    def waits(self) -> list[tuple[int, int]]:
        """When each paid wait begins, UTC, and how long it is. [min]."""
        found, latest = [], self.work[0].until
        for one in self.work[1:]:
            if 0 < one.since - latest < AWAY_MIN:
                found.append((latest, one.since - latest))
            latest = max(latest, one.until)
        return found


def called_of(project: Project, schedule: Schedule) -> tuple[Called, ...]:
    """List who is paid and called for a moving day."""
    work = work_of(project, schedule)
    paid = ((one.id, one.cents_per_hour) for one in project.scheduling.people if one.cents_per_hour)
    found = (Called(person, cents, _called(work, person)) for person, cents in paid)
    return tuple(one for one in found if one.work)


def _called(work: Mapping[tuple[str, str], tuple[Piece, ...]], person: str) -> tuple[Piece, ...]:
    """From the first task of a moving day to its last; recurring care belongs to no day."""
    own = {
        day: [one for one in rows if one.once and not one.task.repeats]
        for (who, day), rows in work.items()
        if who == person
    }
    tied = [[one for one in rows if one.task.day] for rows in own.values()]
    ends = [(rows[0].since, max(one.until for one in rows)) for rows in tied if rows]
    every = sorted((one for rows in own.values() for one in rows), key=lambda one: (one.since, one.until))
    return tuple(one for one in every if any(since <= one.since < until for since, until in ends))
