"""When animals wait in containers where nobody is: on a moving day somebody stays with them, or it is said."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.hours import without
from moveplan.plan.places import Place
from moveplan.practice.attendance.whereabouts import days_of, stays_of
from moveplan.practice.comfort.whereabouts import standings_of
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule
from moveplan.times import MINUTES_A_DAY, Interval, to_local

A_MOMENT_MIN = 15
"""Somebody is at the door, with the vehicle, or on the way in for so long; common practice, no source. [min]"""


@dataclass(frozen=True, slots=True)
class Alone:
    """A time in which animals wait and nobody is there.

    Parameters
    ----------
    place : str
        Id of the place.
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
        With its containers.
    """
    there: dict[str, list[Interval]] = {}
    days = days_of(project, schedule)
    for pieces in days.values():
        for place, since, until in stays_of(pieces):
            there.setdefault(place, []).append(Interval(since, until))
    moving = {day for _, day in days}
    return tuple(
        Alone(place, alone.start, alone.finish)
        for place, spans in sorted(_waiting(project, schedule, moving).items())
        for alone in without(spans, there.get(place, ()))
        if alone.minutes > A_MOMENT_MIN
    )


def _waiting(project: Project, schedule: Schedule, moving: set[str]) -> dict[str, list[Interval]]:
    """When animals are in containers in a room, by place; from a moving day on, into the night where a vehicle failed.

    Not for a day and longer: boarders have a keeper. What is past is no more to be known beforehand.
    """
    now = project.plan.now
    found: dict[str, list[Interval]] = {}
    for one in standings_of(project, schedule):
        for stretch in one.stretches if one.use.vessel.livestock else ():
            days = {
                to_local(moment, project.plan.zone).date().isoformat()
                for moment in (stretch.since, stretch.until)
            }
            short = stretch.until - stretch.since < MINUTES_A_DAY
            if isinstance(stretch.where, Place) and short and days & moving and stretch.until > now:
                found.setdefault(stretch.where.id, []).append(
                    Interval(max(stretch.since, now), stretch.until)
                )
    return found
