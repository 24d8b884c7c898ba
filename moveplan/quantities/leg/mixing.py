"""Warming and mixing new salt water: in which batches, with which heaters, how long it takes and what it draws."""

from __future__ import annotations

import math
from dataclasses import dataclass

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.plan.supplies import WaterMaking
from moveplan.quantities.circuits import left_w
from moveplan.quantities.course import Leg
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.heaters import Heater, hung_beside, power_w, spare_heaters
from moveplan.quantities.policy import Policy
from moveplan.quantities.water.amounts import flow_of, making_for
from moveplan.science.heat.cooling import open_bin_conductance_w_k
from moveplan.science.heat.heating import heating_time_with_loss_h, time_constant_h
from moveplan.science.heat.vessels import Surface
from moveplan.science.heat.walls import wall_u_w_m2_k

USUAL_BATCH_L = 60.0
"""What is mixed at once where no storage is known; common practice, no source. [l]"""
MOST_BATCHES = 6
"""Nobody mixes more batches: so much water is mixed in a larger vessel; assumed. [-]"""
WARMING_SOURCE = "first-order heating with loss; TEOS-10 heat capacity; shape of the bin assumed"
_HELD_H = 8.0
"""From warm in the night to poured in the morning; assumed. [h]"""
LONG_H = 24.0
"""Warming a batch for longer is worth one more heater; assumed. [h]"""


@dataclass(frozen=True, slots=True)
class Mixing:
    """How new salt water is warmed for mixing.

    Parameters
    ----------
    litres, batch_l : float
        All of it, and one batch. [l]
    batches : int
        How many follow each other.
    start_c : tuple of (float, float, float)
        Of the purified water: warmest, likely and coldest. [°C]
    target_c, room_c : float
        Of the tank, and of the air in the room. [°C]
    heater_w : float
        Heaters that hang in the bin. [W]
    heaters : tuple of Heater
        These themselves.
    lidded : bool
        Whether the bin has to be lidded to get warm in time.
    loss_w_k : float
        Lost by the bin. [W/K]
    time : Estimate
        To warm one batch. [min]
    energy_kwh : float
        Drawn for all batches, losses and a day of standing warm included. [kWh]
    """

    litres: float
    batch_l: float
    batches: int
    start_c: tuple[float, float, float]
    target_c: float
    room_c: float
    heater_w: float
    heaters: tuple[Heater, ...]
    lidded: bool
    loss_w_k: float
    time: Estimate
    energy_kwh: float


def bin_loss_w_k(litres: float, policy: Policy, *, lidded: bool) -> float:
    """Heat that a bin as wide as deep loses for each kelvin. [W/K].

    Parameters
    ----------
    litres : float
        Water in it. [l]
    policy : Policy
        U-value of an open surface.
    lidded : bool
        Whether it has a lid.

    >>> [round(bin_loss_w_k(300.0, Policy({}), lidded=lidded), 1) for lidded in (True, False)]
    [18.7, 26.8]
    """
    side_m2 = (litres / 1000) ** (2 / 3)
    wall = wall_u_w_m2_k("tub", Surface.STILL)
    top = wall if lidded else policy["open_surface_u_value"]
    return float(open_bin_conductance_w_k(side_m2, top, 5 * side_m2, wall))


def warming_h(
    litres: float, start_c: float, target_c: float, heater_w: float, loss_w_k: float, room_c: float
) -> float:
    """Time to warm a bin, losses included; infinite where the heaters are too weak. [h].

    Parameters
    ----------
    litres : float
        Water in it. [l]
    start_c, target_c, room_c : float
        Water before and after, and the air around. [°C]
    heater_w : float
        Heaters. [W]
    loss_w_k : float
        What the bin loses. [W/K]

    >>> round(warming_h(300.0, 12.0, 25.5, 600.0, 8.0, 18.0), 2)
    7.78
    """
    if start_c >= target_c:
        return 0.0
    constant = time_constant_h(litres, loss_w_k, (start_c + target_c) / 2, 35.0)
    return float(heating_time_with_loss_h(start_c, target_c, heater_w, loss_w_k, room_c, constant))


def start_of(
    making: WaterMaking, litres: float, flow_l_h: float, room_c: float, loss_w_k: float
) -> tuple[float, float, float]:
    """Temperature of purified water when its batch is full: warmest, likely and coldest. [°C].

    Parameters
    ----------
    making : WaterMaking
        Temperature of the supply.
    litres : float
        One batch. [l]
    flow_l_h : float
        How fast it is made; 0: it is fetched, and stands a night in the room. [l/h]
    room_c : float
        Air in the room. [°C]
    loss_w_k : float
        Of the bin. [W/K]
    """
    supply = making.water_temperature_c
    stood_h = litres / flow_l_h / 2 if flow_l_h > 0 else 12.0
    constant = float(time_constant_h(litres, loss_w_k, supply, 0.5))
    likely = room_c + (supply - room_c) * math.exp(-stood_h / constant)
    return max(room_c, supply), likely, min(room_c, supply)


def mixing_of(
    plan: Plan,
    place: Place,
    making: WaterMaking,
    litres: float,
    target_c: float,
    leg: Leg | None = None,
    more_heaters: int = 0,
) -> Mixing:
    """Work out how so much salt water is warmed.

    Parameters
    ----------
    plan : Plan
        Its gear and limits.
    place : Place
        Where it is mixed.
    making : WaterMaking
        Storage and supply.
    litres : float
        How much. [l]
    target_c : float
        Of the tank. [°C]
    leg : Leg or None
        Whose tanks are filled with it first; None: they run already.
    more_heaters : int
        Heaters ordered beside the spare ones.
    """
    policy = Policy(plan.policy)
    size = max(making.storage_l or USUAL_BATCH_L, litres / MOST_BATCHES)
    batches = max(math.ceil(litres / size - 1e-9), 1)
    batch, room = litres / batches, place.room_temperature_c
    there = spare_heaters(plan, more_heaters)
    heaters = hung_beside(there, left_w(plan, place, leg))
    heater_w = power_w(heaters)
    closed = bin_loss_w_k(batch, policy, lidded=True) if batch else 1.0
    start = start_of(making, max(batch, 1.0), flow_of(making), room, closed)
    opened = bin_loss_w_k(batch, policy, lidded=False) if batch else 1.0
    lidded = warming_h(batch or 1.0, start[1], target_c, heater_w, opened, room) > LONG_H / 4
    loss = closed if lidded else opened
    hours = [warming_h(max(batch, 1.0), one, target_c, heater_w, loss, room) for one in start]
    if more_heaters < MOST_BATCHES and hours[1] > LONG_H and heaters == there:
        return mixing_of(plan, place, making, litres, target_c, leg, more_heaters + 1)
    low, likely, high = (60 * min(hour, 10 * LONG_H) for hour in hours)
    lost = "a lidded" if lidded else "an open"
    basis = (
        f"{batch:.0f} l from {start[1]:.1f} °C to {target_c:.1f} °C with {heater_w:.0f} W of heaters in {lost} bin "
        f"that loses {loss:.0f} W/K to a room at {room:.1f} °C"
    )
    time = Estimate(low, likely, high, "min", basis, Provenance.COMPUTED, WARMING_SOURCE)
    held = loss * max(target_c - room, 0.0) * policy["mixing_hours"] / 1000
    energy = batches * (heater_w * likely / 60_000 + held)
    return Mixing(
        litres,
        batch,
        batches,
        start,
        target_c,
        room,
        heater_w,
        heaters,
        lidded,
        loss,
        time,
        energy if litres else 0.0,
    )


def rewarming_of(plan: Plan, place: Place, litres: float, target_c: float, leg: Leg | None = None) -> Mixing:
    """Work out how salt water that was mixed days ago is warmed again, all of its bins at once.

    Parameters
    ----------
    plan : Plan
        Its gear and limits.
    place : Place
        Where it stands: as warm as the room.
    litres : float
        How much. [l]
    target_c : float
        Of the tank. [°C]
    leg : Leg or None
        Whose tanks are filled with it; None: they run already.
    """
    heaters = hung_beside(spare_heaters(plan), left_w(plan, place, leg))
    heater_w = power_w(heaters)
    cold_c, warm_c = place.room_temperature_c, max(place.room_high_c, place.room_temperature_c)
    start = (warm_c, (cold_c + warm_c) / 2, cold_c)
    loss = bin_loss_w_k(litres, Policy(plan.policy), lidded=True)
    low, likely, high = (
        60 * min(warming_h(litres, one, target_c, heater_w, loss, cold_c), 10 * LONG_H) for one in start
    )
    basis = (
        f"{litres:.0f} l as warm as the room, {start[1]:.1f} °C, to {target_c:.1f} °C with {heater_w:.0f} W of heaters "
        f"in lidded bins that lose {loss:.0f} W/K to a room at {cold_c:.1f} °C"
    )
    time = Estimate(low, likely, high, "min", basis, Provenance.COMPUTED, WARMING_SOURCE)
    energy = heater_w * likely / 60_000 + loss * max(target_c - cold_c, 0.0) * _HELD_H / 1000
    return Mixing(litres, litres, 1, start, target_c, cold_c, heater_w, heaters, True, loss, time, energy)


def first_mixed_l(systems: tuple[SystemFacts, ...]) -> float:
    """Salt water mixed at first: all of it, or what tanks are filled with long before the day. [l]."""
    ahead = [facts.water.new.likely for facts in systems if facts.standing]
    return (
        sum(ahead)
        if ahead
        else sum(facts.water.new.likely + facts.old.lent_l + facts.spare_l for facts in systems)
    )


def water_place(leg: Leg, systems: tuple[SystemFacts, ...]) -> str:
    """Id of the place where water is made: where it is poured in, if the tank there is filled ahead."""
    ahead = leg.water_there or all(facts.standing for facts in systems)
    return leg.destination if ahead else leg.origin


def mixed_for(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> Mixing:
    """Work out how the new water of a leg is warmed.

    Parameters
    ----------
    plan : Plan
        Its gear and storage.
    leg : Leg
        Where it goes.
    systems : tuple of SystemFacts
        What is filled.
    """
    place = plan.place(water_place(leg, systems))
    warmest = max(facts.rebuilt.temperature_c for facts in systems)
    making = making_for(plan, leg)
    litres = 0.0 if making.ready_mixed else first_mixed_l(systems)
    return mixing_of(plan, place, making, litres, warmest, leg)
