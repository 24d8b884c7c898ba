"""What is hired: from when until when it is booked, and from when until when the schedule has it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.practice.drafting.draft import SUFFIXES
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import Interval

RETURN = "return-vehicle-"
"""How the tasks with which a hire ends begin."""


@dataclass(frozen=True, slots=True)
class Hire:
    """A hired vehicle that a schedule uses.

    Parameters
    ----------
    booked : Interval
        What the hirer lends and bills: the hours of the plan, and the use where they leave an end open, UTC. [min]
    used : Interval
        From when it is fetched until it is back as planned, UTC. [min]
    tasks : tuple of str
        Ids of what it is used for.
    bookings : tuple of str
        Ids that the task of booking it may have, by the leg that asks for it.
    """

    vehicle: Vehicle
    booked: Interval
    used: Interval
    tasks: tuple[str, ...]
    bookings: tuple[str, ...]


def hires_of(plan: Plan, schedule: Schedule) -> tuple[Hire, ...]:
    """List what is hired and used, in the order of the plan; what is brought back and fetched again is hired twice."""
    return tuple(
        hire
        for vehicle in plan.vehicles
        if vehicle.hired
        for hire in _hires(vehicle, [one for one in schedule.placements if vehicle.id in one.vehicles])
    )


def _hires(vehicle: Vehicle, uses: list[Placement]) -> Iterator[Hire]:
    ids = [f"book-vehicle-{vehicle.id}{suffix}" for suffix in SUFFIXES]
    if vehicle.hire_from is not None or vehicle.hire_until is not None:
        if uses:
            yield _hire(vehicle, uses, ids)
        return
    ways: list[list[Placement]] = [[]]
    for one in sorted(uses, key=lambda one: (one.start, one.finish)):
        ways[-1].append(one)
        if one.task.startswith(RETURN):
            ways.append([])
    found = [way for way in ways if way]
    for at, way in enumerate(found):
        yield _hire(vehicle, way, ids if len(found) == 1 else ids[at : at + 1])


def _hire(vehicle: Vehicle, uses: Sequence[Placement], bookings: Sequence[str]) -> Hire:
    used = Interval(min(one.start for one in uses), max(one.finish for one in uses))
    begin = used.start if vehicle.hire_from is None else min(vehicle.hire_from, used.start)
    end = used.finish if vehicle.hire_until is None else max(vehicle.hire_until, used.finish)
    return Hire(vehicle, Interval(begin, end), used, tuple(one.task for one in uses), tuple(bookings))
