"""More trips than a day holds, however quick everybody is."""

from __future__ import annotations

import math

from moveplan.errors import CannotBeDoneError, Problem
from moveplan.plan.move import Plan
from moveplan.quantities.facts import Facts
from moveplan.quantities.freight.freight import Load
from moveplan.quantities.handling import Handling
from moveplan.times import MINUTES_A_DAY
from moveplan.units import show_duration, show_mass


def within_a_day(plan: Plan, facts: Facts) -> Facts:
    """Give the facts of a leg back, if the day has hours for its trips.

    Parameters
    ----------
    plan : Plan
        For its lines and units.
    facts : Facts
        A leg with its loads.

    Raises
    ------
    CannotBeDoneError
        Where a vehicle cannot take its loads over within a day, though all help to carry and nothing goes wrong.
    """
    for vehicle in facts.trips.vehicles():
        loads = tuple(load for load in facts.trips.loads if load.vehicle == vehicle)
        least = least_min(plan, facts, loads)
        if least > MINUTES_A_DAY:
            raise CannotBeDoneError((_too_long(plan, facts, loads, least),))
    return facts


def least_min(plan: Plan, facts: Facts, loads: tuple[Load, ...]) -> float:
    """Least time in which one vehicle takes its loads over: all carry as if all were light, and it drives. [min].

    Parameters
    ----------
    plan : Plan
        How quick people are.
    facts : Facts
        Both doors, the way between them, and who carries.
    loads : tuple of Load
        Of one vehicle.
    """
    handling, things = Handling(plan.policy), sum(len(load.items) for load in loads)
    carrying = sum(handling.carry(things, 0, place, facts.carriers).low for place in (facts.old, facts.new))
    return carrying + (2 * len(loads) - 1) * facts.drive.low


def _too_long(plan: Plan, facts: Facts, loads: tuple[Load, ...], least: float) -> Problem:
    vehicle, kg = loads[0].vehicle, sum(load.kg for load in loads)
    name = next(one.name for one in plan.vehicles if one.id == vehicle)
    water_kg = sum(one.water.new.likely for one in facts.systems if one.cans)
    carried = (
        f", new water the greater part of it ({show_mass(water_kg, plan.units)})" if 2 * water_kg > kg else ""
    )
    there = f"make the new water at {facts.new.name} (keys, water and power early), " if carried else ""
    return Problem(
        f"{name} would have to drive {len(loads)} times to take {show_mass(kg, plan.units)} over{carried}: "
        f"{show_duration(math.floor(least))} at least, carrying out and in with all hands; the moving day has 24 h",
        plan.where(f"vehicles.{vehicle}"),
        f"{there}name vehicles that carry more, or more of them and more people, or correct what is moved",
    )
