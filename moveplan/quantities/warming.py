"""How long a refilled tank, or a bin of new water, takes to be as warm as it should: heaters, losses, ice."""

from __future__ import annotations

import math

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.places import Place
from moveplan.plan.supplies import WaterMaking
from moveplan.plan.systems import System
from moveplan.quantities.policy import Policy
from moveplan.quantities.water.arriving import Arrival
from moveplan.science.heat.cooling import open_bin_conductance_w_k
from moveplan.science.heat.heating import (
    heat_capacity_of_volume_wh_k,
    heating_time_with_loss_h,
    time_constant_h,
)
from moveplan.science.heat.vessels import Surface
from moveplan.science.heat.walls import wall_u_w_m2_k
from moveplan.science.numbers import time_towards
from moveplan.units import show_rounded

LOSS_W_M2_K = 7.14
"""Heat loss through 10 mm glass, ISO 6946 form with handbook conductivity, recalled. [W/(m² K)]"""
SPARE_HEATER_W = 200.0
"""A spare heater that has to be bought; assumed. [W]"""
SPARE_HEATERS = 2
"""Fewest spare heaters on the day; common practice, no source. [-]"""
ICE_WH = 240.0
"""Taken up by 1.8 kg of ice in a bottle of 2 l: 38 kJ/kg until it thaws, 334 thawing, 105 after; recalled. [Wh]"""
THAWED_H = 1.0
"""In which such a bottle has thawed in a sump that is stirred; assumed. [h]"""


def surface_m2(system: System) -> float:
    """Glass and water surface through which a tank loses heat. [m²]."""
    tank = system.tank
    sides = 2 * (tank.length_m + tank.width_m) * tank.water_height_m
    return sides + 2 * tank.length_m * tank.width_m


def ice_bottles(system: System, litres: float, place: Place, arrival: Arrival, policy: Policy) -> int:
    """Count the bottles of ice that cool a tank, however warm it arrives, in the time in which they thaw.

    They take up what the water holds too much, and what the warmest room brings in meanwhile; none where the tank
    can be no warmer than waters that may be joined.

    Parameters
    ----------
    system, litres, place, arrival, policy : System, float, Place, Arrival, Policy
        As in :func:`warming`.
    """
    limit_c = system.temperature_c + policy["temperature_match"]
    if arrival.high_c <= limit_c:
        return 0
    held_wh = heat_capacity_of_volume_wh_k(litres, system.temperature_c, system.salinity_psu)
    comes_in_w = LOSS_W_M2_K * surface_m2(system) * max(place.room_high_c - limit_c, 0.0)
    return math.ceil((held_wh * (arrival.high_c - limit_c) + comes_in_w * THAWED_H) / ICE_WH)


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


def warming(
    system: System, litres: float, heater_w: float, place: Place, arrival: Arrival, policy: Policy
) -> Estimate:
    """Time to bring a refilled system to its temperature, losses to the room included.

    Parameters
    ----------
    system : System
        The system as it will stand.
    litres : float
        Its water. [l]
    heater_w : float
        Heaters, the spare ones included. [W]
    place : Place
        Where it stands: its coldest room air counts, and its warmest where it is cooled.
    arrival : Arrival
        How warm it stands once it is filled; what is too warm is never heated.
    policy : Policy
        How much warmer than it should it may be.
    """
    loss = LOSS_W_M2_K * surface_m2(system)
    target = system.temperature_c
    constant = time_constant_h(litres, loss, target, system.salinity_psu)
    starts = (arrival.high_c, arrival.likely_c, arrival.low_c)

    limit = target + policy["temperature_match"]
    bottles = ice_bottles(system, litres, place, arrival, policy)
    cooled_to = place.room_high_c - bottles * ICE_WH / THAWED_H / loss

    def minutes(start_c: float) -> float:
        if start_c > limit:
            return 60 * float(time_towards(start_c, limit, cooled_to, constant))
        if start_c > target:
            return 0.0
        hours = heating_time_with_loss_h(start_c, target, heater_w, loss, place.room_temperature_c, constant)
        return 60 * min(float(hours), 48.0)

    low, likely, high = sorted(map(minutes, starts))
    if starts[1] > limit:
        way = f"cooled by {bottles} bottles of ice, never heated, from {starts[1]:.1f} °C to {limit:.1f} °C"
    elif starts[1] > target:
        way = f"as warm as they should be, {starts[1]:.1f} °C for {target:.1f} °C"
    else:
        way = (
            f"brought from {starts[1]:.1f} °C to {target:.1f} °C with {heater_w:.0f} W of heaters, "
            f"losing {loss:.0f} W/K to a room at {show_rounded(place.room_temperature_c)} °C"
        )
    basis = f"{litres:.0f} l {way}; filled, it stands at {arrival.low_c:.1f} to {arrival.high_c:.1f} °C"
    source = "first-order heating with loss; TEOS-10 heat capacity"
    return Estimate(low, likely, high, "min", basis, Provenance.COMPUTED, source)
