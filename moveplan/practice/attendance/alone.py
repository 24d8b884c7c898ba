"""When animals wait in containers where nobody is: on a moving day somebody stays with them, or it is said."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from moveplan.plan.places import Place
from moveplan.practice.attendance.whereabouts import days_of, stays_of
from moveplan.practice.project import Project
from moveplan.practice.whereabouts import standings_of
from moveplan.scheduling.schedule import Schedule
from moveplan.times import to_local

A_MOMENT_MIN = 15
"""Somebody is at the door, with the vehicle, or on the way in for so long; common practice, no source. [min]"""
Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Alone:
    """A time in which animals wait and nobody is there.

    Parameters
    ----------
    place : str
        Id of the place. [-]
    since, until : int
        UTC. [min]
    """

    place: str
    since: int
    until: int


def alone_of(project: Project, schedule: Schedule) -> tuple[Alone, ...]:
    """Find where containers of animals stand alone on a moving day.

    Parameters
    ----------
    project : Project
        With its containers. [-]
    schedule : Schedule
        Its schedule. [-]
    """
    there: dict[str, list[Span]] = {}
    days = days_of(project, schedule)
    for pieces in days.values():
        for place, since, until in stays_of(pieces):
            there.setdefault(place, []).append((since, until))
    moving = {day for _, day in days}
    found: list[Alone] = []
    for place, spans in sorted(_waiting(project, schedule, moving).items()):
        for since, until in _without(_joined(spans), _joined(there.get(place, []))):
            if until - since > A_MOMENT_MIN:
                found.append(Alone(place, since, until))
    return tuple(found)


def _waiting(project: Project, schedule: Schedule, moving: set[str]) -> dict[str, list[Span]]:
    """When animals are in containers in a room, by place; on moving days alone: boarders have a keeper."""
    found: dict[str, list[Span]] = {}
    for one in standings_of(project, schedule):
        for stretch in one.stretches if one.use.vessel.livestock else ():
            days = {
                to_local(moment, project.plan.zone).date().isoformat()
                for moment in (stretch.since, stretch.until)
            }
            if isinstance(stretch.where, Place) and len(days) == 1 and days <= moving:
                found.setdefault(stretch.where.id, []).append((stretch.since, stretch.until))
    return found


def _joined(spans: list[Span]) -> list[Span]:
    joined: list[Span] = []
    for since, until in sorted(spans):
        if joined and since <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], until))
        else:
            joined.append((since, until))
    return joined


def _without(spans: list[Span], others: list[Span]) -> Iterator[Span]:
    """Give what is left of spans outside others; both joined and in order.

    >>> list(_without([(0, 100)], [(10, 40), (60, 120)]))
    [(0, 10), (40, 60)]
    """
    for since, until in spans:
        at = since
        for begin, end in others:
            if begin > at and begin < until:
                yield at, begin
            if end > at and begin < until:
                at = max(at, end)
        if at < until:
            yield at, until
