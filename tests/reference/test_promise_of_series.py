"""Finishes of tasks in a series against the convolution of their densities, computed with SciPy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats
from scipy.signal import fftconvolve

from moveplan.risk.prepared.net import Net, Step, Tie
from moveplan.risk.runs.draw import Loading, quantile_tables
from moveplan.risk.runs.simulate import Simulation

ESTIMATES = ((10.0, 20.0, 60.0), (30.0, 45.0, 90.0), (5.0, 15.0, 20.0))
STEP_MIN = 0.05
RUNS = 40_000


def _density(low: float, likely: float, high: float) -> np.ndarray:
    """PERT: beta with shapes 1 + 4 (m - a) / (b - a) and 1 + 4 (b - m) / (b - a)."""
    rise = 4 * (likely - low) / (high - low)
    at = np.arange(0.0, high + STEP_MIN, STEP_MIN)
    return np.asarray(stats.beta.pdf(at, 1 + rise, 5 - rise, loc=low, scale=high - low) * STEP_MIN)


@pytest.mark.parametrize("level", [0.5, 0.8, 0.95])
def test_the_chance_of_a_series_is_that_of_the_convolution(level: float) -> None:
    whole = _density(*ESTIMATES[0])
    for one in ESTIMATES[1:]:
        whole = fftconvolve(whole, _density(*one))
    by_min = STEP_MIN * float(np.searchsorted(np.cumsum(whole), level))
    net = Net((Step(), Step(), Step()), (Tie(0, 1), Tie(1, 2)))
    simulation = Simulation(net, quantile_tables(ESTIMATES), Loading(np.zeros((3, 0))), seed=5)
    kept = np.mean(np.concatenate([chunk.finishes[2] <= by_min for chunk in simulation.chunks(RUNS)]))
    assert abs(float(kept) - level) <= 3 * (level * (1 - level) / RUNS) ** 0.5 + 0.002
