"""Still and lidded water against a published velocity of gas exchange, solved by hand.

Cole and Caraco (1998), Limnol. Oceanogr. 43, 647-656: k600 = 2.07 cm/h over a lake without wind (recalled); Schmidt
numbers of sea water by Wanninkhof (2014), Limnol. Oceanogr. Methods 12, 351-362 (found in two copies of code).
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from moveplan.science.gas.dissolved import oxygen_partition, oxygen_saturation_mg_l
from moveplan.science.gas.ends import Phase, Vessels, gases_after

K600_M_H = 0.0207
AREA_M2, WATER_L = 0.2, 25.0


def schmidt(celsius: float) -> float:
    terms = (1920.4, -135.6, 5.2122, -0.10939, 0.00093777)
    return sum(term * celsius**power for power, term in enumerate(terms))


def conductance_l_h(celsius: float) -> float:
    """k A, with k scaled by the root of 600 over the Schmidt number. [l/h]."""
    return 1000 * AREA_M2 * K600_M_H * math.sqrt(600 / schmidt(celsius))


def tub(use_mg_h: float, gas_l: float, celsius: float) -> Vessels:
    """Calm animals whose use does not change, so that the balance can be solved by hand."""
    return Vessels(
        water_l=WATER_L,
        gas_l=gas_l,
        water_area_m2=AREA_M2,
        temperature_c=celsius,
        salinity_psu=35.0,
        resting_use_mg_h=use_mg_h,
        stone_depth_m=0.11,
        quiet=1.0,
        peak=1.0,
    )


@pytest.mark.parametrize("celsius", [20.0, 26.0, 30.0])
@pytest.mark.parametrize("hours", [0.5, 2.0, 8.0, 100.0])
def test_an_open_tub_falls_by_an_exponential_to_where_the_surface_keeps_up(
    celsius: float, hours: float
) -> None:
    """V dC/dt = k A (C* - C) - R from C*: C = C* - R/(k A) (1 - exp(-k A t/V))."""
    use, flow = 10.0, conductance_l_h(celsius)
    wanted = float(oxygen_saturation_mg_l(celsius, 35.0)) - use / flow * (
        1 - math.exp(-flow * hours / WATER_L)
    )
    phase = Phase(1.0, vent_l_h=math.inf)
    found = float(gases_after(tub(use, 25.0, celsius), [phase], hours)[0][0])
    assert found == pytest.approx(wanted, rel=2e-3)


@pytest.mark.parametrize("hours", [1.0, 6.0, 24.0])
def test_under_a_lid_water_and_air_together_lose_what_is_breathed(hours: float) -> None:
    """Two boxes, one conductance: what both hold falls by R t, and the step between them settles at its own pace."""
    celsius, use, air_l = 26.0, 4.0, 25.0
    flow, share = conductance_l_h(celsius), float(oxygen_partition(celsius, 35.0))
    start = float(oxygen_saturation_mg_l(celsius, 35.0))
    rate = flow * (1 / WATER_L + share / air_l)
    settled = (use / WATER_L) / rate
    apart = settled * (1 - math.exp(-rate * hours))  # K C_g - C
    held = start * (WATER_L + air_l / share) - use * hours  # V C + V_g C_g
    wanted = (held - air_l / share * apart) / (WATER_L + air_l / share)
    found = float(gases_after(tub(use, air_l, celsius), [Phase(1.0)], hours)[0][0])
    assert found == pytest.approx(wanted, rel=5e-3)


@pytest.mark.parametrize("share", [0.20946, 0.5, 1.0])
def test_gas_that_is_blown_in_holds_what_it_brings_less_what_is_breathed(share: float) -> None:
    """At rest V_g and V_w no longer count: Q (c_in - C_g) = R and G (K C_g - C) = R, with G of the stone by hand."""
    use, blown_l_h, celsius = 10.0, 45.0, 26.0
    moved_l_h = 20 * (blown_l_h / 60) * (0.11 / 0.25) + 80 * AREA_M2
    in_balance = float(oxygen_saturation_mg_l(celsius, 35.0)) * share / 0.20946
    wanted = in_balance - use * float(oxygen_partition(celsius, 35.0)) / blown_l_h - use / moved_l_h
    fed = replace(tub(use, 25.0, celsius), vent_oxygen_fraction=share)
    phase = Phase(1.0, pump_flow_l_min=blown_l_h / 60, vent_l_h=blown_l_h)
    assert float(gases_after(fed, [phase], 1000.0)[0][0]) == pytest.approx(wanted, rel=2e-3)
