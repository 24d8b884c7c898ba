"""How long a refilled tank takes to be as warm as it should, with own and spare heaters."""

from __future__ import annotations

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.places import Place
from moveplan.plan.systems import System
from moveplan.quantities.water.arriving import Arrival
from moveplan.science.heat.heating import heating_time_with_loss_h, time_constant_h
from moveplan.units import show_rounded

LOSS_W_M2_K = 7.14
"""Heat loss through 10 mm glass, ISO 6946 form with handbook conductivity, recalled. [W/(m² K)]"""
SPARE_HEATER_W = 200.0
"""A spare heater that has to be bought; assumed. [W]"""
SPARE_HEATERS = 2
"""Fewest spare heaters on the day; common practice, no source. [-]"""
COOLING_MIN = (30.0, 60.0, 120.0)
"""Ice bottles and a fan cool a tank that arrived too warm; common practice, no source. [min]"""
JOINED_K = 1.0
"""Warmer than it should by less, a tank is left alone; common practice, no source. [K]"""


def surface_m2(system: System) -> float:
    """Glass and water surface through which a tank loses heat. [m²]."""
    tank = system.tank
    sides = 2 * (tank.length_m + tank.width_m) * tank.water_height_m
    return sides + 2 * tank.length_m * tank.width_m


def warming(system: System, litres: float, heater_w: float, place: Place, arrival: Arrival) -> Estimate:
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
        Where it stands: its coldest room air counts.
    arrival : Arrival
        How warm it stands once it is filled; what is too warm is never heated.
    """
    loss = LOSS_W_M2_K * surface_m2(system)
    target = system.temperature_c
    constant = time_constant_h(litres, loss, target, system.salinity_psu)
    starts = (arrival.high_c, arrival.likely_c, arrival.low_c)

    def minutes(start_c: float, cooling_min: float) -> float:
        if start_c > target:
            return cooling_min if start_c > target + JOINED_K else 0.0
        hours = heating_time_with_loss_h(start_c, target, heater_w, loss, place.room_temperature_c, constant)
        return 60 * min(float(hours), 48.0)

    low, likely, high = sorted(map(minutes, starts, COOLING_MIN))
    way = "cooled by ice bottles and a fan, never heated," if starts[1] > target + JOINED_K else ""
    basis = (
        f"{litres:.0f} l {way or 'brought'} from {starts[1]:.1f} °C to {target:.1f} °C "
        f"with {heater_w:.0f} W of heaters, "
        f"losing {loss:.0f} W/K to a room at {show_rounded(place.room_temperature_c)} °C; filled, it stands at "
        f"{arrival.low_c:.1f} to {arrival.high_c:.1f} °C"
    )
    source = "first-order heating with loss; TEOS-10 heat capacity"
    return Estimate(low, likely, high, "min", basis, Provenance.COMPUTED, source)
