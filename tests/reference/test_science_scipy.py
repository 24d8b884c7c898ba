"""Solvers of our own against those of scipy, run here."""

from __future__ import annotations

import math
import subprocess
import sys

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from moveplan.science.filter.cycling import CycleStart, cycle_curve, ripe_start, seeded_start
from moveplan.science.heat.heating import heating_time_with_loss_h
from moveplan.science.water.flow import siphon_flow_l_min


def _rates(temperature: float, load: float, capacity: float) -> object:
    """Growth model written out a second time."""
    growth = 0.40 * 0.47 * math.exp(0.098 * (temperature - 15.0))
    slower = 0.90 * growth

    def change(_: float, state: np.ndarray) -> list[float]:
        a, n, _z, xa, xn = state
        eat_a, eat_n = growth * a / (0.8 + a) * xa, slower * n / (1.0 + n) * xn
        full_a, full_n = capacity * 0.15 / growth, capacity * 0.05 / slower
        return [
            load - eat_a / 0.15,
            eat_a / 0.15 - eat_n / 0.05,
            eat_n / 0.05,
            eat_a * (1.0 - xa / full_a) - 0.05 * xa,
            eat_n * (1.0 - xn / full_n) - 0.05 * xn,
        ]

    return change


@pytest.mark.parametrize("seeding", ["bare", "light", "rock", "rock-and-media"])
@pytest.mark.parametrize(("load", "capacity"), [(0.0, np.inf), (0.3, np.inf), (0.5, 0.8), (5.0, 20.0)])
def test_the_growth_of_a_filter_agrees_with_lsoda(seeding: str, load: float, capacity: float) -> None:
    start = seeded_start(2.0, seeding)
    ours = cycle_curve(start, 26.0, load, capacity, days=100.0)
    state = [2.0, 0.0, 0.0, start.ammonia_oxidisers_mg_l, start.nitrite_oxidisers_mg_l]
    theirs = solve_ivp(
        _rates(26.0, load, capacity), (0.0, 100.0), state, "LSODA", ours.day, rtol=1e-9, atol=1e-12
    )
    for row, column in enumerate((ours.ammonia_mg_n_l, ours.nitrite_mg_n_l, ours.nitrate_mg_n_l)):
        np.testing.assert_allclose(column[:, 0], theirs.y[row], atol=2e-3 * max(2.0, float(column.max())))


def test_a_ripe_tank_with_a_lost_filter_agrees_with_lsoda() -> None:
    start = ripe_start(0.2, 26.0, 0.1)
    ours = cycle_curve(start, 26.0, 0.2, days=60.0)
    state = [float(np.ravel(getattr(start, name))[0]) for name in CycleStart.__dataclass_fields__]
    theirs = solve_ivp(
        _rates(26.0, 0.2, np.inf), (0.0, 60.0), state, "LSODA", ours.day, rtol=1e-9, atol=1e-12
    )
    np.testing.assert_allclose(ours.ammonia_mg_n_l[:, 0], theirs.y[0], atol=1e-4)
    np.testing.assert_allclose(ours.nitrite_mg_n_l[:, 0], theirs.y[1], atol=1e-4)


def _flow_by_root(diameter: float, length: float, head: float) -> float:
    def missing(speed: float) -> float:
        reynolds = speed * diameter / 0.94e-6
        friction = 0.3164 * reynolds**-0.25
        return float(speed**2 / (2 * 9.80665) * (2.5 + friction * length / diameter) - head)

    return float(brentq(missing, 1e-6, 20.0, xtol=1e-12)) * math.pi / 4 * diameter**2 * 60_000


@pytest.mark.parametrize("diameter", [0.012, 0.016, 0.025, 0.05])
@pytest.mark.parametrize("head", [0.4, 0.8, 1.5])
def test_a_turbulent_siphon_agrees_with_a_root_search(diameter: float, head: float) -> None:
    assert siphon_flow_l_min(diameter, 4.0, head) == pytest.approx(
        _flow_by_root(diameter, 4.0, head), rel=1e-6
    )


def test_a_laminar_siphon_agrees_with_hagen_and_poiseuille() -> None:
    diameter, length, head = 0.002, 20.0, 0.02
    flow = math.pi * 9.80665 * head * diameter**4 / (128 * 0.94e-6 * length) * 60_000
    assert siphon_flow_l_min(diameter, length, head) == pytest.approx(flow, rel=1e-3)


def test_heating_with_losses_agrees_with_integration() -> None:
    def change(_: float, state: np.ndarray) -> list[float]:
        return [(300.0 - 15.0 * (state[0] - 18.0)) / 454.7]

    def warm(_: float, state: np.ndarray) -> float:
        return float(state[0]) - 25.0

    warm.terminal = True  # type: ignore[attr-defined]
    theirs = solve_ivp(change, (0.0, 100.0), [20.0], events=warm, rtol=1e-10, atol=1e-10)
    ours = heating_time_with_loss_h(20.0, 25.0, 300.0, 15.0, 18.0, 454.7 / 15.0)
    assert ours == pytest.approx(theirs.t_events[0][0], rel=1e-6)


def test_the_product_does_not_import_scipy() -> None:
    code = (
        "import sys, moveplan.science.gas.transit, moveplan.science.filter.cycling, moveplan.science.animals.livestock;"
        "sys.exit('scipy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
