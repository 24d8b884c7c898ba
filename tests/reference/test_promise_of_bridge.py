"""The smallest network that is neither series nor parallel, with told starts as buffers, by complete enumeration.

The bridge of five arcs is the standard case for which longest paths of random lengths do not factor: Martin (1965),
Operations Research 13, 46-66 (recalled). Each duration takes one of four values; all 1,024 combinations are counted
with their chances, and the simulation has to keep every limit in the same share of its runs.
"""

from __future__ import annotations

from itertools import pairwise, product
from statistics import NormalDist

import numpy as np
import pytest

from moveplan.risk.prepared.net import Net, Step, Tie
from moveplan.risk.runs.draw import POINTS, REACH, Loading
from moveplan.risk.runs.simulate import Simulation

VALUES = ((10, 20, 30, 60), (15, 35, 45, 55), (5, 10, 20, 30), (30, 50, 60, 80), (20, 25, 40, 70))
"""Of each arc. [min]"""
BINS = (0, 420, 540, 620, POINTS)
"""Bins of a duration's table at which the next value begins. [-]"""
TIES = (Tie(0, 2), Tie(0, 3), Tie(1, 4), Tie(2, 4))
BUFFERS = (0.0, 0.0, 22.0, 32.0, 52.0)
"""Told starts, before which nothing begins. [min]"""
RUNS = 40_000
Limits = dict[int, float]


def _chances() -> list[float]:
    """Chance of each value: of the normal variable that picks a bin, whose ends take the rest."""
    edges = [-np.inf, *((2 * REACH * at / POINTS) - REACH for at in BINS[1:-1]), np.inf]
    below = [NormalDist().cdf(edge) for edge in edges]
    return [after - before for before, after in pairwise(below)]


def _kept(lasts: tuple[int, ...], floors: tuple[float, ...], limits: Limits) -> bool:
    finishes: list[float] = []
    for at, minutes in enumerate(lasts):
        before = [finishes[tie.tail] for tie in TIES if tie.head == at]
        finishes.append(max([floors[at], *before]) + minutes)
    return all(finishes[at] <= limit for at, limit in limits.items())


def _counted(floors: tuple[float, ...], limits: Limits) -> float:
    """Chance of all combinations in which every limit is kept."""
    rows = (tuple(zip(values, _chances(), strict=True)) for values in VALUES)
    every = [tuple(zip(*combination, strict=True)) for combination in product(*rows)]
    return sum(float(np.prod(shares)) for lasts, shares in every if _kept(lasts, floors, limits))


def _simulated(floors: tuple[float, ...], limits: Limits) -> float:
    tables = np.repeat(np.array(VALUES, dtype=float), np.diff(BINS), axis=1)
    net = Net(tuple(Step(floor_min=one) for one in floors), TIES)
    simulation = Simulation(net, tables, Loading(np.zeros((len(VALUES), 0))), seed=5)
    kept = [
        np.all([chunk.finishes[at] <= limit for at, limit in limits.items()], axis=0)
        for chunk in simulation.chunks(RUNS)
    ]
    return float(np.concatenate(kept).mean())


@pytest.mark.parametrize("floors", [(0.0,) * 5, BUFFERS], ids=["as it comes", "with buffers"])
@pytest.mark.parametrize("limits", [{3: 90.0, 4: 100.0}, {2: 45.0, 3: 100.0, 4: 100.0}, {4: 90.0}])
def test_the_chance_of_keeping_every_limit_is_that_of_all_combinations(
    floors: tuple[float, ...], limits: Limits
) -> None:
    counted = _counted(floors, limits)
    assert 0.05 < counted < 0.95
    error = 3 * (counted * (1 - counted) / RUNS) ** 0.5
    assert abs(_simulated(floors, limits) - counted) <= error


def test_buffers_cost_some_of_the_chance() -> None:
    limits = {4: 90.0}
    assert _counted(BUFFERS, limits) < _counted((0.0,) * 5, limits)
