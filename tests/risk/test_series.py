"""The chance that a promise on a chain is kept, against the convolution of its durations."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from scipy import signal, stats

from moveplan.risk.prepared.net import Day, Net, Step, Tie
from moveplan.risk.prepared.windows import stretches_of
from moveplan.risk.runs.draw import Loading, quantile_tables
from moveplan.risk.runs.simulate import Simulation
from moveplan.times import Interval

CHAIN = ((20.0, 30.0, 75.0), (10.0, 15.0, 20.0), (45.0, 60.0, 120.0), (5.0, 25.0, 40.0))
RUNS = 40_000
GRID_MIN = 0.05


def by_convolution(longest_min: float) -> float:
    """Chance that the durations add up to no more, by the densities of PERT's beta on a fine grid."""
    density = np.array([1.0])
    for low, likely, high in CHAIN:
        rise = 4 * (likely - low) / (high - low)
        edges = np.arange(0.0, high + GRID_MIN, GRID_MIN)
        mass = np.diff(stats.beta.cdf((edges - low) / (high - low), 1 + rise, 5 - rise))
        density = signal.fftconvolve(density, mass)
    middles = (np.arange(len(density)) + len(CHAIN) / 2) * GRID_MIN
    return float(density[middles <= longest_min].sum())


@pytest.mark.parametrize("stated_min", [130, 150, 165, 180])
def test_stated_hours_are_kept_as_often_as_the_convolution_says(stated_min: int) -> None:
    hours = stretches_of([Interval(0, 1440)], 0, 1440, [stated_min])
    steps = tuple(Step(day=0, hours=hours, runs_over=True) for _ in CHAIN)
    ties = tuple(Tie(at, at + 1) for at in range(len(CHAIN) - 1))
    net = Net(steps, ties, (), (Day(1440.0, 60.0),), (0.0,) * len(CHAIN))
    runs = Simulation(net, quantile_tables(CHAIN), Loading(np.zeros((len(CHAIN), 0))), seed=5).chunks(RUNS)
    kept = float(np.mean(np.concatenate([~chunk.any_overtime for chunk in runs])))
    chance = by_convolution(stated_min)
    assert 0.01 < chance < 0.99
    assert abs(kept - chance) <= 3 * sqrt(chance * (1 - chance) / RUNS) + 0.002  # bins of the tables
