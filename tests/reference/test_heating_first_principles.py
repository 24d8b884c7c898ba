"""Warming the refilled tank, against the energy balance written out step by step.

First principles: the water's heat capacity (here the TEOS-10 library's own, J/(kg K)) times its mass times the rise is
the energy; heaters bring power in, glass and surface let power out in proportion to the difference to the room.
"""

from __future__ import annotations

from dataclasses import replace

import gsw
import pytest

from moveplan.plan.systems import System
from moveplan.quantities.policy import Policy
from moveplan.quantities.warming import LOSS_W_M2_K, surface_m2, warming
from moveplan.quantities.water.arriving import Arrival
from tests.quantities.plans import PLACE, system

LITRES = 150.0
STEP_S = 1.0
COLD_K = (1.0, 3.0, 5.0)
"""How much cooler than it should be the filled tank stands. [K]"""


def arrival(one: System) -> Arrival:
    """Water that stands so much too cold."""
    warm, likely, cold = (one.temperature_c - cold_k for cold_k in COLD_K)
    return Arrival(cold, likely, warm)


def capacity_j_k(one: System, litres: float) -> float:
    """Heat that warms the water by one kelvin."""
    salinity = one.salinity_psu * 35.16504 / 35.0
    conservative = gsw.CT_from_t(salinity, one.temperature_c, 0.0)
    mass = litres / 1000 * float(gsw.rho(salinity, conservative, 0.0))
    return mass * float(gsw.cp_t_exact(salinity, one.temperature_c, 0.0))


def minutes_to_warm(one: System, litres: float, power_w: float, room_c: float, cold_k: float) -> float:
    """Follow the temperature second by second until it is reached."""
    capacity, loss = capacity_j_k(one, litres), LOSS_W_M2_K * surface_m2(one)
    temperature, seconds = one.temperature_c - cold_k, 0.0
    while temperature < one.temperature_c and seconds < 48 * 3600:
        temperature += (power_w - loss * (temperature - room_c)) / capacity * STEP_S
        seconds += STEP_S
    return seconds / 60


def test_sea_water_takes_about_four_kilojoules_a_kilogram() -> None:
    # Handbook value, recalled: 3.99 kJ/(kg K) at salinity 35 and 25 °C.
    assert capacity_j_k(system(), 1000 / 1.02334) / 1e6 == pytest.approx(3.99, abs=0.02)


@pytest.mark.parametrize(
    ("power_w", "room_c"), [(600.0, 19.0), (600.0, 12.0), (900.0, 19.0), (450.0, 21.0)], ids=str
)
def test_the_warming_time_is_what_the_energy_balance_says(power_w: float, room_c: float) -> None:
    one = system()
    found = warming(one, LITRES, power_w, replace(PLACE, room_temperature_c=room_c), arrival(one), Policy({}))
    for value, cold in zip((found.low, found.likely, found.high), COLD_K, strict=True):
        # Steps of one second err by less than a second in an hour; the capacity changes by 0.1 % over 5 K.
        assert value == pytest.approx(minutes_to_warm(one, LITRES, power_w, room_c, cold), rel=3e-3, abs=0.1)


def test_with_hardly_any_loss_it_is_energy_over_power() -> None:
    one = system()
    warm = replace(PLACE, room_temperature_c=one.temperature_c - COLD_K[1])
    found = warming(one, LITRES, 5000.0, warm, arrival(one), Policy({}))
    plain = capacity_j_k(one, LITRES) * COLD_K[1] / 5000.0 / 60
    # Strong heaters: what escapes on the way of three kelvins is little, and makes it slower, never faster.
    assert plain <= found.likely <= 1.02 * plain


def test_heaters_that_only_hold_never_get_there() -> None:
    one = system()
    holding = LOSS_W_M2_K * surface_m2(one) * (one.temperature_c - 15.0)
    found = warming(
        one, LITRES, 0.99 * holding, replace(PLACE, room_temperature_c=15.0), arrival(one), Policy({})
    )
    assert found.likely == 48 * 60
