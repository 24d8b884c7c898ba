"""The leg of a move in one day, from which all others are made."""

from __future__ import annotations

from dataclasses import replace

from moveplan.plan.move import Plan
from moveplan.plan.systems import System
from moveplan.quantities.course import Leg, Shift, moving_systems, other_systems
from moveplan.quantities.volumes import inner_area_m2
from moveplan.times import MINUTES_A_DAY, local_day

MUCH_WATER_L = 600.0
"""Water of all tanks from which it is made at the new home if that is open and no tank waits there; assumed. [l]"""
WATER_AHEAD_DAYS = 5.0
"""Days before the move from which the new home must be open for that; assumed. [day]"""


def plain_leg(plan: Plan) -> Leg:
    """Give the leg of a move in one day: every system into the tank it will have, at the place it will have."""
    moving = moving_systems(plan)
    drives = moving[0].place != moving[0].moves_to
    shifts = tuple(
        Shift(
            system,
            rebuilt(system),
            placed=system.new_tank is not None and (drives or system.new_tank.spot != "same"),
            benched=system.new_tank is not None and not drives and system.new_tank.spot == "same",
            carries=(system,) if drives and system.new_tank is None else (),
        )
        for system in moving
    )
    days = plan.dates.move_days if plan.dates else ()
    spares = tuple(one for one in other_systems(plan) if one.moves_to != one.place) if drives else ()
    there = drives and _water_there(plan, moving)
    return Leg(shifts, moving[0].place, moving[0].moves_to, days, water_there=there, spares=spares)


def _water_there(plan: Plan, moving: tuple[System, ...]) -> bool:
    """Whether the new home is open early enough to make a large amount of water there in place of carrying it."""
    dates, new = plan.dates, plan.place(moving[0].moves_to)
    if dates is None or not dates.move_days or not (new.has_water and new.has_power):
        return False
    opened = dates.access_from if dates.access_from is not None else plan.now
    days = (local_day(dates.move_days[0], plan.zone).start - opened) / MINUTES_A_DAY
    litres = sum(1000 * inner_area_m2(one.tank) * one.tank.water_height_m for one in map(rebuilt, moving))
    waits = any(one.new_tank is not None for one in moving)
    return days >= WATER_AHEAD_DAYS and (waits or litres >= MUCH_WATER_L)


def rebuilt(system: System) -> System:
    """Give a system as it will stand in its new tank, or as it is where there is none."""
    new = system.new_tank
    if new is None:
        return system
    return replace(
        system,
        tank=new.tank,
        sump_l=new.sump_l,
        stand_kg=new.stand_kg,
        rock_kg=system.rock_kg + new.rock_kg,
        sand_kg=new.sand_kg or system.sand_kg,
        equipment=new.equipment or system.equipment,
    )
