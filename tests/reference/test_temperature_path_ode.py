"""Closed forms of the path of temperature against numerical integration of the same equation, run here.

The thermostat of the integration is a narrow ramp of power (0.2 mK wide) instead of a switch, which an integrator can
follow; that, and its tolerance of 1e-8, is why 1 mK is asked for.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from moveplan.science.heat.path import end_temperatures_c, first_exit_h
from moveplan.science.heat.vessels import Segment, Surface, Vessels, vessels_of
from tests.science.ways import temperatures_c

RAMP_K = 2e-4
COUNT = 4


def _integrated_c(vessels: Vessels, which: int, start_c: float, segment: Segment) -> float:
    conductance = vessels.conductance_w_k[segment.surface][which]
    capacity, set_c = vessels.capacity_wh_k[which], vessels.set_c[which]
    power = vessels.heater_w[which] * segment.heated

    def change(time: float, state: np.ndarray) -> list[float]:
        air = segment.air_c + segment.rise_k * (1.0 - np.exp(-time / segment.rise_constant_h))
        share = np.clip((set_c - state[0]) / RAMP_K + 0.5, 0.0, 1.0)
        return [(conductance * (air - state[0]) + power * share) / capacity]

    way = solve_ivp(
        change, (0.0, segment.duration_h), [start_c], "LSODA", rtol=1e-8, atol=1e-8, max_step=0.05
    )
    return float(way.y[0, -1])


def _drawn(generator: np.random.Generator) -> tuple[Vessels, list[Segment], np.ndarray]:
    uniform = generator.uniform
    vessels = vessels_of(
        uniform(2.0, 40.0, COUNT),
        uniform(0.2, 6.0, COUNT),
        uniform(0.3, 15.0, COUNT),
        uniform(0.2, 4.0, COUNT),
        generator.choice([0.0, 25.0, 50.0, 100.0], COUNT),
        uniform(22.0, 27.0, COUNT),
    )
    way = [
        Segment(
            float(uniform(0.1, 5.0)),
            float(uniform(0.0, 40.0)),
            list(Surface)[generator.integers(3)],
            float(generator.choice([0.0, 0.0, 25.0, -25.0, 12.0, -10.0])),
            float(uniform(0.1, 3.0)),
            bool(generator.integers(2)),
        )
        for _ in range(4)
    ]
    return vessels, way, uniform(20.0, 30.0, COUNT)


def _repeated(vessels: Vessels, which: int, count: int) -> Vessels:
    """One container many times, to look at it at many times at once."""
    surfaces = {key: np.full(count, value[which]) for key, value in vessels.conductance_w_k.items()}
    columns = (vessels.capacity_wh_k, vessels.heater_w, vessels.set_c)
    capacity, power, held = (np.full(count, column[which]) for column in columns)
    return Vessels(capacity, surfaces, power, held)


@pytest.mark.parametrize("seed", range(12))
def test_a_path_with_ramps_and_thermostats_agrees_with_lsoda(seed: int) -> None:
    vessels, way, start = _drawn(np.random.default_rng(seed))
    ours = end_temperatures_c(vessels, start, way)
    for which in range(COUNT):
        temperature = float(start[which])
        for number, segment in enumerate(way):
            temperature = _integrated_c(vessels, which, temperature, segment)
            assert ours[number, which] == pytest.approx(temperature, abs=1e-3), (seed, which, number)


@pytest.mark.parametrize("seed", range(12))
def test_the_time_of_first_leaving_a_range_is_that_of_a_fine_grid(seed: int) -> None:
    vessels, way, start = _drawn(np.random.default_rng(100 + seed))
    found = first_exit_h(vessels, start, way, 21.0, 28.0)
    grid = np.linspace(0.0, 40.0, 8001)
    for which in range(COUNT):
        path = temperatures_c(_repeated(vessels, which, grid.size), start[which], way, grid)
        outside = np.flatnonzero((path < 21.0) | (path > 28.0))
        if outside.size:
            assert grid[outside[0]] - 0.0051 <= found[which] <= grid[outside[0]] + 1e-9
        else:
            assert found[which] > grid[-1]


def test_a_ramp_as_slow_as_the_water_is_no_special_case() -> None:
    constant = float(vessels_of(20.0, 2.0, 2.0, 2.0).capacity_wh_k[0]) / 2.0
    for tau in (constant, constant * (1.0 + 1e-9), constant * 1.001):
        one = Segment(5.0, 20.0, rise_k=15.0, rise_constant_h=tau)
        ours = end_temperatures_c(vessels_of(20.0, 2.0, 2.0, 2.0), 25.0, [one])[0, 0]
        theirs = _integrated_c(vessels_of(20.0, 2.0, 2.0, 2.0), 0, 25.0, one)
        assert ours == pytest.approx(theirs, abs=1e-5)
