"""The leg of a move in one day, from which all others are made."""

from __future__ import annotations

import math

from moveplan.plan.move import Plan
from moveplan.plan.systems import System
from moveplan.quantities.course import Leg, Shift, moving_systems, other_systems, rebuilt
from moveplan.quantities.freight.road import drive_of
from moveplan.quantities.handling import Handling
from moveplan.quantities.leg.numbered import CAN_L
from moveplan.quantities.policy import Policy
from moveplan.quantities.water.amounts import flow_of, making_of, proposed_share
from moveplan.times import MINUTES_A_DAY, local_day
from moveplan.units import show_nearly

VISITS = 4
"""Ways there and back for making water where nobody lives yet: unit, a look, mixing, trimming; assumed. [-]"""
VISITS_ANYWAY = 2
"""The same where somebody works there beforehand, for a tank that waits; assumed. [-]"""
READY_DAYS = 4.0
"""Days from the last purified water to the moving day: warming, mixing, standing, trimming; assumed. [day]"""


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
            target=new_water(system),
        )
        for system in moving
    )
    days = plan.dates.move_days if plan.dates else ()
    spares = tuple(one for one in other_systems(plan) if one.moves_to != one.place) if drives else ()
    there = drives and _water_there(plan, moving)
    return Leg(shifts, moving[0].place, moving[0].moves_to, days, water_there=there, spares=spares)


def _water_there(plan: Plan, moving: tuple[System, ...]) -> bool:
    """Whether new water is made at the new home: open early enough, and less work than carrying it."""
    dates, new = plan.dates, plan.place(moving[0].moves_to)
    if dates is None or not dates.move_days or not (new.has_water and new.has_power):
        return False
    opened = max(dates.access_from if dates.access_from is not None else plan.now, plan.now)
    days = (local_day(dates.move_days[0], plan.zone).start - opened) / MINUTES_A_DAY
    spare = Policy(plan.policy)["spare_water"]
    litres = sum(_new_l(system, spare) for system in moving)
    flow = 24 * flow_of(making_of(plan))
    needed = READY_DAYS + (litres / flow if flow else 0.0)
    return days >= needed and driving_min(plan, moving) < carrying_min(plan, moving, litres)


def water_words(plan: Plan, moving: tuple[System, ...]) -> str:
    """Compare carrying new water with driving there to make it."""
    spare = Policy(plan.policy)["spare_water"]
    litres = sum(_new_l(system, spare) for system in moving)
    carrying, driving = carrying_min(plan, moving, litres), driving_min(plan, moving)
    return (
        f"carrying some {litres:.0f} l out and in is {show_nearly(carrying)} of work, "
        f"driving there to make it "
        f"{show_nearly(driving)}"
    )


def _new_l(system: System, spare_share: float) -> float:
    """Litres of new and spare water of a system, roughly. [l]."""
    before, after = (
        1000 * one.tank.inner_area_m2 * one.tank.water_height_m + one.sump_l
        for one in (system, rebuilt(system))
    )
    share = system.water_kept if system.water_kept is not None else proposed_share(system)[0]
    return max(after - share * before, 0.0) + spare_share * after


def carrying_min(plan: Plan, moving: tuple[System, ...], litres: float) -> float:
    """Work of one person who carries so much water out and in, in cans. [min]."""
    handling, cans = Handling(plan.policy), math.ceil(litres / CAN_L)
    doors = (plan.place(moving[0].place), plan.place(moving[0].moves_to))
    return sum(handling.carry(cans, 0, place, 1).likely for place in doors)


def driving_min(plan: Plan, moving: tuple[System, ...]) -> float:
    """Work of one person who drives there to make water. [min]."""
    drive = drive_of(plan, moving[0].place, moving[0].moves_to, Policy(plan.policy))
    waits = any(one.new_tank is not None for one in moving)
    return 2 * (VISITS_ANYWAY if waits else VISITS) * drive.likely


def new_water(system: System) -> str:
    """Name the body of water that a system ends in: its own, or that of its new tank."""
    return system.id if system.new_tank is None else f"{system.id}.new"
