"""Things to know that come from how old a tank is and from who rides in what; they stop nothing."""

from __future__ import annotations

from moveplan.errors import Problem
from moveplan.plan.move import Plan
from moveplan.quantities.course import Leg
from moveplan.quantities.facts import SystemFacts

OLD_SEAMS_MONTHS = 120.0
"""Age from which the seams of a tank that is emptied and moved are looked at; common practice, no source. [month]"""
YOUNG_MONTHS = 6.0
"""Age up to which a filter has little in reserve; common practice, no source. [month]"""


def by_age(plan: Plan, systems: tuple[SystemFacts, ...]) -> list[Problem]:
    """Say which tank has old seams, and which filter is young.

    Parameters
    ----------
    plan : Plan
        For the lines of its systems. [-]
    systems : tuple of SystemFacts
        Those that move. [-]
    """
    found: list[Problem] = []
    for system, shift in ((one.system, one.shift) for one in systems):
        where, years = plan.where(f"systems.{system.id}.age"), system.age_months / 12
        if system.age_months >= OLD_SEAMS_MONTHS and shift.after.tank == system.tank:
            found.append(
                Problem(
                    f"{system.name} has run for {years:.0f} years: seams that have stood so long under water may "
                    "leak when the tank is emptied, moved and filled again",
                    where,
                    "have the seams looked at once it is empty, fill it for a day before anything goes in, or move "
                    "into another tank",
                )
            )
        if system.age_months < YOUNG_MONTHS:
            found.append(
                Problem(
                    f"{system.name} has run for {system.age_months:.0f} months only: "
                    "its bacteria have little in reserve",
                    where,
                    "measure ammonia every day for two weeks after the move, and feed little; or move it later",
                )
            )
    return found


def by_seats(plan: Plan, leg: Leg) -> list[Problem]:
    """Say where those who help do not all find a seat.

    Parameters
    ----------
    plan : Plan
        Its people and vehicles. [-]
    leg : Leg
        Whether anything is driven. [-]
    """
    seats, people = sum(vehicle.seats for vehicle in plan.vehicles), len(plan.people)
    if not leg.drives or not plan.vehicles or people <= seats:
        return []
    return [
        Problem(
            f"{people} people help, and the vehicles have {seats} seats in all",
            plan.where("vehicles"),
            f"let {people - seats} of them come by other means, or add another vehicle",
        )
    ]
