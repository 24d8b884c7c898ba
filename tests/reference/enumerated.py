"""Chances of keeping limits in a small network of discrete durations: by all combinations, and by the simulation.

The count shares nothing with the simulation but the network's data: each task begins when all before it are done and
not before its told start.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise, product
from statistics import NormalDist

import numpy as np

from moveplan.risk.prepared.net import Net, Step, Tie
from moveplan.risk.runs.draw import POINTS, REACH, Loading
from moveplan.risk.runs.simulate import Simulation

BINS = (0, 420, 540, 620, POINTS)
"""Bins of a duration's table at which the next of four values begins. [-]"""
RUNS = 40_000
Limits = dict[int, float]
"""Latest finish of tasks by their place. [min]"""


@dataclass(frozen=True, slots=True)
class Discrete:
    """A network whose tasks stand in an order in which each comes after those it waits for.

    Parameters
    ----------
    values : tuple of tuple of int
        Of each task: its only duration, or four of them. [min]
    ties : tuple of (int, int)
        What comes before what, by place.
    """

    values: tuple[tuple[int, ...], ...]
    ties: tuple[tuple[int, int], ...]

    def counted(self, floors: tuple[float, ...], limits: Limits) -> float:
        """Chance of all combinations in which every limit is kept."""
        rows = (
            ((minutes[0], 1.0),) if len(minutes) == 1 else tuple(zip(minutes, _chances(), strict=True))
            for minutes in self.values
        )
        every = (tuple(zip(*combination, strict=True)) for combination in product(*rows))
        return sum(float(np.prod(shares)) for lasts, shares in every if self._kept(lasts, floors, limits))

    def _kept(self, lasts: tuple[float, ...], floors: tuple[float, ...], limits: Limits) -> bool:
        finishes: list[float] = []
        for at, minutes in enumerate(lasts):
            before = [finishes[tail] for tail, head in self.ties if head == at]
            finishes.append(max([floors[at], *before]) + minutes)
        return all(finishes[at] <= limit for at, limit in limits.items())

    def simulated(self, floors: tuple[float, ...], limits: Limits) -> float:
        """Share of the runs of the simulation in which every limit is kept."""
        tables = np.array([_table(minutes) for minutes in self.values], dtype=float)
        ties = tuple(Tie(tail, head) for tail, head in self.ties)
        net = Net(tuple(Step(floor_min=one) for one in floors), ties)
        simulation = Simulation(net, tables, Loading(np.zeros((len(self.values), 0))), seed=5)
        kept = [
            np.all([chunk.finishes[at] <= limit for at, limit in limits.items()], axis=0)
            for chunk in simulation.chunks(RUNS)
        ]
        return float(np.concatenate(kept).mean())


def _chances() -> list[float]:
    """Chance of each of four values: of the normal variable that picks a bin, whose ends take the rest."""
    edges = [-np.inf, *((2 * REACH * at / POINTS) - REACH for at in BINS[1:-1]), np.inf]
    below = [NormalDist().cdf(edge) for edge in edges]
    return [after - before for before, after in pairwise(below)]


def _table(minutes: tuple[int, ...]) -> list[int]:
    each = minutes if len(minutes) > 1 else minutes * (len(BINS) - 1)
    return [
        value for value, (first, last) in zip(each, pairwise(BINS), strict=True) for _ in range(first, last)
    ]
