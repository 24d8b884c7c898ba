"""Random durations without numpy, whose import alone takes longer than a phone's terminal may wait.

A duration is drawn as the simulation of a plan draws it: own part and common causes add up to a standard normal, whose
place picks a quantile of PERT's beta.

References
----------
Malcolm, Roseboom, Clark and Fazar (1959), Operations Research 7, 646-669; shapes 1 + 4 (m - a) / (b - a) and
1 + 4 (b - m) / (b - a) (recalled).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import accumulate, pairwise
from math import cos, pi, sin, sqrt
from random import Random
from statistics import NormalDist

Column = list[float]
POINTS = 192
"""Bins of a table. [-]"""
REACH = 6.0
"""Standard deviations that a table covers to either side; two common causes at their ends reach no farther. [-]"""
MODES = 20
"""Tables are made for so many places of the likely value between the ends, and read between them. [-]"""
ORDERS = 8
"""So many random orders are made, and each is begun at many places. [-]"""
_STEPS = 128
"""Steps in which a distribution is tabulated. Chosen. [-]"""


@cache
def _chances() -> tuple[float, ...]:
    """Chance of lying below the middle of each bin."""
    normal = NormalDist()
    return tuple(normal.cdf((at + 0.5) * 2 * REACH / POINTS - REACH) for at in range(POINTS))


@cache
def _unit(mode: int) -> tuple[float, ...]:
    """Quantiles of PERT's beta between 0 and 1, the likely value at ``mode`` of ``MODES``."""
    rise = 4 * mode / MODES
    angles = [pi * at / _STEPS for at in range(_STEPS + 1)]
    density = [
        (1 - cos(one)) ** rise * (1 + cos(one)) ** (4 - rise) * sin(one) for one in angles
    ]  # in x = (1 - cos) / 2
    area = list(accumulate((a + b for a, b in pairwise(density)), initial=0.0))
    found, at = [], 0
    for chance in _chances():
        wanted = chance * area[-1]
        while at < _STEPS - 1 and area[at + 1] < wanted:
            at += 1
        inside = (wanted - area[at]) / (area[at + 1] - area[at] or 1.0)
        found.append((1 - cos(angles[at] + min(max(inside, 0.0), 1.0) * pi / _STEPS)) / 2)
    return tuple(found)


def quantiles(low: float, likely: float, high: float) -> Column:
    """Give the quantiles of a duration, one a bin of the normal scale. [min].

    Parameters
    ----------
    low, likely, high : float
        Ends of the distribution and what is likely. [min]

    >>> round(quantiles(2.0, 4.0, 12.0)[POINTS // 2], 1)
    4.8
    """
    reach = high - low
    if reach <= 0:
        return [low] * POINTS
    place = MODES * min(max((likely - low) / reach, 0.0), 1.0)
    below = min(int(place), MODES - 1)
    part = place - below
    return [
        low + reach * ((1 - part) * one + part * other)
        for one, other in zip(_unit(below), _unit(below + 1), strict=True)
    ]


class Luck:
    """Draws columns, one number a run.

    Parameters
    ----------
    runs : int
        How many.
    seed : int
        The same seed, the same luck.
    """

    def __init__(self, runs: int, seed: int) -> None:
        self.runs = runs
        self._dice = Random(seed)  # noqa: S311 - luck of trial runs, no secret
        inverse = NormalDist().inv_cdf
        even = [inverse((at + 0.5) / runs) for at in range(runs)]
        self._orders = [self._dice.sample(even, runs) for _ in range(ORDERS)]
        self._offsets = self._dice.sample(range(runs), runs)
        self._drawn = 0
        self._common: dict[int, Column] = {}

    def normals(self) -> Column:
        """Draw standard normals: as many in each part of the scale as belong there, in an order of their own.

        A random order and the same from another place on are as little alike as two random orders, and cost less.
        """
        turn, which = divmod(self._drawn, ORDERS)
        self._drawn += 1
        order, cut = self._orders[which], self._offsets[turn % self.runs]
        return order[cut:] + order[:cut]

    def chances(self) -> Column:
        """Draw between 0 and 1."""
        dice = self._dice.random
        return [dice() for _ in range(self.runs)]

    def durations(self, low: float, likely: float, high: float, shares: Sequence[float] = ()) -> Column:
        """Draw durations. [min].

        Parameters
        ----------
        low, likely, high : float
            Ends of the distribution and what is likely. [min]
        shares : sequence of float
            Share of the variance that each common cause has in it.
        """
        return [low] * self.runs if high <= low else self.placed(low, likely, high, self._places(shares))

    def placed(self, low: float, likely: float, high: float, places: Column) -> Column:
        """Read quantiles at places on the normal scale. [min].

        Parameters
        ----------
        low, likely, high : float
            Ends of the distribution and what is likely. [min]
        places : list of float
            One a run.
        """
        table, scale = quantiles(low, likely, high), POINTS / (2 * REACH)
        middle = POINTS / 2
        return [table[int(place * scale + middle)] for place in places]

    def _places(self, shares: Sequence[float]) -> Column:
        own = sqrt(max(1 - sum(shares), 0.0))
        places = self.normals()
        if own < 1.0:
            places = [own * one for one in places]
        for cause, share in enumerate(shares):
            if share:
                weight = sqrt(share)
                places = [
                    one + weight * other for one, other in zip(places, self._of_cause(cause), strict=True)
                ]
        return places

    def _of_cause(self, cause: int) -> Column:
        if cause not in self._common:
            self._common[cause] = self.normals()
        return self._common[cause]

    def longer_than(self, least: float, drawn: Column) -> Column:
        """Draw again, among the other runs, what is known to last longer. [min].

        Parameters
        ----------
        least : float
            How long it has lasted. [min]
        drawn : list of float
            As it was drawn. [min]
        """
        longer = [one for one in drawn if one > least]
        if not longer:
            return [least] * self.runs
        return [one if one > least else self._dice.choice(longer) for one in drawn]
