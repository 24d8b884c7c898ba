"""What is hired: from when until when it is booked, and from when until when the schedule has it."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.practice.drafting.draft import SUFFIXES
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import Interval


@dataclass(frozen=True, slots=True)
class Hire:
    """A hired vehicle that a schedule uses.

    Parameters
    ----------
    booked : Interval
        What the hirer lends and bills: the hours of the plan, and the use where they leave an end open, UTC. [min]
    used : Interval
        From when it is fetched until it is back as planned, UTC. [min]
    """

    vehicle: Vehicle
    booked: Interval
    used: Interval

    @property
    def bookings(self) -> tuple[str, ...]:
        """Ids that the task of booking it may have, by the leg that asks for it."""
        return tuple(f"book-vehicle-{self.vehicle.id}{suffix}" for suffix in SUFFIXES)


def hires_of(plan: Plan, schedule: Schedule) -> tuple[Hire, ...]:
    """List what is hired and used, in the order of the plan."""
    return tuple(
        _hire(vehicle, used)
        for vehicle in plan.vehicles
        if vehicle.hired and (used := [one for one in schedule.placements if vehicle.id in one.vehicles])
    )


def _hire(vehicle: Vehicle, uses: list[Placement]) -> Hire:
    used = Interval(min(one.start for one in uses), max(one.finish for one in uses))
    begin = used.start if vehicle.hire_from is None else min(vehicle.hire_from, used.start)
    end = used.finish if vehicle.hire_until is None else max(vehicle.hire_until, used.finish)
    return Hire(vehicle, Interval(begin, end), used)
