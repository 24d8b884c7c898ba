"""Gas balances of containers against a worked table and against a solver of scipy with the equations written anew."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from moveplan.science.gas.dissolved import oxygen_partition, oxygen_saturation_mg_l
from moveplan.science.gas.ends import GasLimits, Phase, Vessels, gas_limits, gases_after
from moveplan.science.water.carbonate import inorganic_carbon_mmol_kg
from moveplan.science.water.carbonate_constants import constants
from moveplan.science.water.seawater import density_kg_m3

NEVER = math.inf
CALM = {"quiet": 2.0, "peak": 2.0}
CURVE = {"quiet": 1.5, "peak": 3.6, "half_life_h": 0.5}
RESTING = {40: 9.08, 100: 18.905, 300: 45.525}
"""Oxygen use at rest by mass of fish at 26 °C [mg/h]; Clarke and Johnston (1999)."""
STILL, SLOSHING, OPEN = Phase(1.0), Phase(1.0, on_road=True), Phase(1.0, vent_l_h=math.inf)


def _stone(flow: float) -> Phase:
    return Phase(1.0, pump_flow_l_min=flow, vent_l_h=60.0 * flow)


def _tub(resting: Any, **other: Any) -> Vessels:
    given = {
        "water_l": 25.0,
        "gas_l": 25.0,
        "water_area_m2": 0.2,
        "temperature_c": 26.0,
        "salinity_psu": 35.0,
        "resting_use_mg_h": resting,
        "stone_depth_m": 0.11,
    }
    return Vessels(**(given | other))


def _hours(vessels: Vessels, phase: Phase, oxygen: float, carbon_dioxide: float) -> tuple[float, float]:
    oxygen_h, carbon_h = gas_limits(vessels, [phase], GasLimits(oxygen, carbon_dioxide))
    return float(oxygen_h[0]), float(carbon_h[0])


# Hours to 5 and to 4 mg/l of oxygen, to 10 and to 15 mg/l of carbon dioxide; 25 l on 0.2 m², 25 l of air above, at
# twice the resting use, 800 µatm.  Computed apart with another program, the conductances as reasoned; rounded.
TABLE = {
    ("brim", 40): (2.28, 3.66, 19.7, 26.0),
    ("brim", 100): (1.10, 1.76, 9.5, 12.5),
    ("brim", 300): (0.46, 0.73, 3.9, 5.2),
    ("open", 40): (3.03, 6.47, NEVER, NEVER),
    ("open", 100): (1.24, 2.16, 20.6, NEVER),
    ("open", 300): (0.48, 0.79, 4.7, 7.2),
    ("lid", 40): (3.02, 6.39, 30.5, 45.2),
    ("lid", 100): (1.24, 2.16, 12.8, 19.4),
    ("lid", 300): (0.48, 0.79, 4.5, 6.5),
    ("sloshing", 40): (88.0, 144.0, 34.8, 49.6),
    ("sloshing", 100): (39.7, 66.6, 16.7, 23.8),
    ("sloshing", 300): (13.7, 24.8, 6.9, 9.8),
}
CASES: dict[str, tuple[Phase, float]] = {
    "brim": (STILL, 0.0),
    "open": (OPEN, 25.0),
    "lid": (STILL, 25.0),
    "sloshing": (SLOSHING, 25.0),
}


@pytest.mark.parametrize(("case", "mass"), TABLE)
def test_times_agree_with_the_worked_table(case: str, mass: int) -> None:
    phase, gas_l = CASES[case]
    tub = _tub(RESTING[mass], gas_l=gas_l, **CALM)
    first, second = _hours(tub, phase, 5.0, 10.0), _hours(tub, phase, 4.0, 15.0)
    found = (first[0], second[0], first[1], second[1])
    for ours, theirs in zip(found, TABLE[case, mass], strict=True):
        assert ours == pytest.approx(theirs, rel=0.01, abs=0.055 if theirs > 3.9 else 0.006)


@pytest.mark.parametrize(
    ("flow", "mass", "five_h", "four_h", "oxygen", "carbon_dioxide"),
    [
        (0.5, 40, NEVER, NEVER, 5.75, 2.6),
        (0.5, 100, 2.67, NEVER, 4.77, 4.4),
        (0.5, 300, 0.57, 1.10, 2.12, 9.1),
        (1.0, 40, NEVER, NEVER, 5.92, 2.2),
        (1.0, 100, NEVER, NEVER, 5.12, 3.4),
        (1.0, 300, 0.60, 1.29, 2.95, 6.9),
        (2.0, 40, NEVER, NEVER, 6.11, 1.8),
        (2.0, 100, NEVER, NEVER, 5.52, 2.7),
        (2.0, 300, 0.70, 2.73, 3.93, 5.1),
    ],
)
def test_an_air_stone_agrees_with_the_worked_table(
    flow: float, mass: int, five_h: float, four_h: float, oxygen: float, carbon_dioxide: float
) -> None:
    tub = _tub(RESTING[mass], **CALM)
    assert _hours(tub, _stone(flow), 5.0, 15.0)[0] == pytest.approx(five_h, rel=0.01, abs=0.005)
    assert _hours(tub, _stone(flow), 4.0, 15.0)[0] == pytest.approx(four_h, rel=0.01, abs=0.005)
    settled = gases_after(tub, [_stone(flow)], 2000.0)
    assert float(settled[0][0]) == pytest.approx(oxygen, rel=0.005)
    assert float(settled[1][0]) == pytest.approx(carbon_dioxide, rel=0.02, abs=0.05)


@pytest.mark.parametrize(
    ("mass", "five_h", "four_h"), [(40, 2.09, 3.87), (100, 0.79, 1.47), (300, 0.28, 0.48)]
)
def test_handling_shortens_the_first_hours(mass: int, five_h: float, four_h: float) -> None:
    tub = _tub(RESTING[mass], gas_l=0.0, **CURVE)
    assert _hours(tub, STILL, 5.0, 15.0)[0] == pytest.approx(five_h, rel=0.01, abs=0.005)
    assert _hours(tub, STILL, 4.0, 15.0)[0] == pytest.approx(four_h, rel=0.01, abs=0.005)


@pytest.mark.parametrize(("mass", "flow", "least"), [(300, 1.0, 3.52), (300, 2.0, 4.13), (100, 1.0, 5.35)])
def test_handling_takes_aerated_water_down_and_lets_it_rise_again(
    mass: int, flow: float, least: float
) -> None:
    tub = _tub(RESTING[mass], **CURVE)
    assert _hours(tub, _stone(flow), least + 0.03, 15.0)[0] < 4.0
    assert _hours(tub, _stone(flow), least - 0.03, 15.0)[0] == math.inf


@pytest.mark.parametrize(
    ("rate", "case", "four_h", "two_h", "half_h"),
    [
        (1.0, "brim", 2.5, 4.4, 5.9),
        (3.0, "brim", 0.84, 1.48, 1.95),
        (6.0, "brim", 0.42, 0.74, 0.98),
        (1.0, "lid", 6.3, None, None),
        (3.0, "lid", 1.00, 2.10, 3.33),
        (6.0, "open", 0.46, 0.86, 1.20),
        (3.0, "sloshing", 68.0, None, None),
        (6.0, "sloshing", 31.0, 59.0, 79.0),
        (3.0, "stone", NEVER, NEVER, NEVER),
        (6.0, "stone", 0.80, NEVER, NEVER),
    ],
)
def test_rock_in_a_tub_agrees_with_the_worked_table(
    rate: float, case: str, four_h: float, two_h: float | None, half_h: float | None
) -> None:
    """14.5 kg of live rock in 13.8 l on 0.2 m², 30 l of air under the lid; stone at 0.11 m with 1 l/min."""
    phase, gas_l = CASES.get(case, (_stone(1.0), 30.0))
    rock = _tub(0.0, water_l=13.8, gas_l=30.0 if gas_l else 0.0, oxygen_use_mg_h=14.5 * rate)
    for limit, wanted in ((4.0, four_h), (2.0, two_h), (0.5, half_h)):
        if wanted is not None:
            assert _hours(rock, phase, limit, 60.0)[0] == pytest.approx(wanted, rel=0.015, abs=0.05)


def _anew(tub: Vessels, steps: list[tuple[float, Phase, float]]) -> Callable[[float, Any], list[float]]:
    """The balances, written out a second time; steps are (end, phase, conductance)."""
    partition = float(oxygen_partition(26.0, 35.0))
    saturation = float(oxygen_saturation_mg_l(26.0, 35.0))
    density = float(density_kg_m3(26.0, 35.0)) / 1000.0
    k0 = float(constants(26.0, 35.0).k0)
    carbon = np.linspace(1.6, 4.0, 4001)
    pressure = np.linspace(np.log(100.0), np.log(60000.0), 4001)
    of_pressure = np.array(
        [inorganic_carbon_mmol_kg(2.3, float(np.exp(p)), 26.0, 35.0) for p in pressure[::20]]
    )
    dissolved = k0 * np.exp(np.interp(carbon, of_pressure, pressure[::20])) * 1e-6
    water, gas = float(np.max(tub.water_l)), float(np.max(tub.gas_l))

    def change(time: float, state: Any) -> list[float]:
        _, phase, conductance = next(step for step in steps if time <= step[0])
        oxygen, oxygen_gas, content, atm = state
        factor = 1.5 + 2.1 * 2.0 ** (-time / 0.5)
        use = float(np.max(tub.resting_use_mg_h)) * max(factor, 2.0 if phase.on_road else 1.0)
        vent = float(np.max(phase.vent_l_h))
        flux = conductance * (partition * oxygen_gas - oxygen)
        ratio = math.sqrt(424.1 / 498.2)
        free = float(np.interp(content, carbon, dissolved))
        carbon_flux = ratio * conductance * density * (k0 * atm - free)  # mol/h
        made = 0.85 * use / 31998.8
        return [
            (flux - use) / water,
            (-flux + vent * (saturation / partition - oxygen_gas)) / gas,
            (carbon_flux + made) * 1000.0 / (water * density),
            (-carbon_flux * 24.548 + vent * (800e-6 - atm)) / gas,
        ]

    return change


@pytest.mark.parametrize("resting", [9.08, 18.9, 45.5, 60.0])
def test_a_day_of_four_phases_agrees_with_scipy(resting: float) -> None:
    tub = _tub(resting, **CURVE)
    stone = _stone(1.0)
    phases = [Phase(0.5), Phase(2.0, on_road=True), stone, Phase(1.0, on_road=True)]
    steps = [(0.5, phases[0], 4.923), (2.5, phases[1], 200.0), (3.5, stone, 24.8), (1e9, phases[3], 200.0)]
    change = _anew(tub, steps)
    saturation, partition = float(oxygen_saturation_mg_l(26.0, 35.0)), float(oxygen_partition(26.0, 35.0))
    carbon = float(inorganic_carbon_mmol_kg(2.3, 800.0, 26.0, 35.0))
    state = [saturation, saturation / partition, carbon, 800e-6]
    times, states = [np.zeros(1)], [np.array(state)[:, None]]
    for start, end in ((0.0, 0.5), (0.5, 2.5), (2.5, 3.5), (3.5, 200.0)):
        part = solve_ivp(
            change, (start + 1e-9, end), states[-1][:, -1], "LSODA", rtol=1e-8, atol=1e-12, max_step=0.2
        )
        times.append(part.t)
        states.append(part.y)
    time, solved = np.concatenate(times), np.concatenate(states, axis=1)
    limit_carbon = float(inorganic_carbon_mmol_kg(2.3, 15e3 / 44.0095 / 1.0226 / 0.02769, 26.0, 35.0))
    given = [Phase(0.5), Phase(2.0, on_road=True), Phase(1.0, pump_flow_l_min=1.0, vent_l_h=60.0), phases[3]]
    oxygen_h, carbon_h = gas_limits(tub, given, GasLimits(4.0, 15.0))
    for ours, series, limit, sign in ((oxygen_h, solved[0], 4.0, -1), (carbon_h, solved[2], limit_carbon, 1)):
        past = np.flatnonzero(sign * (series - limit) > 0.0)
        assert past.size
        at = past[0]
        weight = (limit - series[at - 1]) / (series[at] - series[at - 1])
        theirs = time[at - 1] + weight * (time[at] - time[at - 1])
        assert float(ours[0]) == pytest.approx(theirs, rel=0.01)
