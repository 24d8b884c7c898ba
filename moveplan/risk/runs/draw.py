"""Random durations: tables of quantiles, and draws that share common causes, in antithetic pairs.

A duration is drawn by its place on the normal scale: own part and common causes add up to a standard normal,
whose bin picks a quantile from the duration's table. So durations keep their distribution whatever they share.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Bins = npt.NDArray[np.int16]

POINTS = 1024
"""Bins of a table. [-]"""
REACH = 4.5
"""Standard deviations that a table covers to either side; 7 draws of a million lie beyond and take the end bin. [-]"""
PAIRS = 2048
"""Antithetic pairs drawn at a time. [-]"""
_GRID = 385
"""Points on which shapes are tabulated, closer together towards the ends. Chosen. [-]"""
_WEIGHT = 4.0
"""Weight of the likely value in PERT's mean. [-]"""


@cache
def scale() -> Floats:
    """Place of each bin of a table on the normal scale. [-]."""
    return np.asarray((np.arange(POINTS) + 0.5) * (2 * REACH / POINTS) - REACH, dtype=np.float64)


@cache
def chances() -> Floats:
    """Chance of lying below each bin's middle. [-]."""
    from math import erf

    return np.array([0.5 * (1 + erf(z / 2**0.5)) for z in scale()])


def _pert_quantiles(modes: Floats, at: Floats) -> Floats:
    """Quantiles of beta distributions on 0 to 1 with PERT's shapes, one row a mode."""
    angle = np.linspace(0.0, np.pi, _GRID)
    x = (1 - np.cos(angle)) / 2
    inside = np.clip(x, 1e-300, None)
    outside = np.clip(1 - x, 1e-300, None)
    rise = _WEIGHT * modes[:, None]
    density = np.exp(rise * np.log(inside) + (_WEIGHT - rise) * np.log(outside)) * np.sin(angle)
    area = np.zeros_like(density)
    np.cumsum((density[:, 1:] + density[:, :-1]), axis=1, out=area[:, 1:])
    area /= area[:, -1:]
    return np.array([np.interp(at, row, x) for row in area])


@cache
def _spots(low_high: tuple[float, float]) -> tuple[Floats, Floats, Floats, Floats]:
    """Where the likely value lies between low and high, for each mode between the ends."""
    modes = np.linspace(0.0, 1.0, 201)
    low, high = _pert_quantiles(modes, np.array(low_high)).T
    return modes, low, high, (modes - low) / (high - low)


def ends_of(
    low: Floats, likely: Floats, high: Floats, low_high: tuple[float, float]
) -> tuple[Floats, Floats]:
    """Find the ends of distributions whose low and high are stated as quantiles; the likely value is the mode.

    Parameters
    ----------
    low, likely, high : array
        As stated. [min]
    low_high : tuple of (float, float)
        The quantiles that low and high stand for; (0, 1) are the ends themselves.

    Returns
    -------
    tuple of array
        Least and greatest value. [min]
    """
    if low_high == (0.0, 1.0):
        return low, high
    modes, at_low, at_high, spot = _spots(low_high)
    width = np.maximum(high - low, 1e-9)
    mode = np.interp((likely - low) / width, spot, modes)
    left, right = np.interp(mode, modes, at_low), np.interp(mode, modes, at_high)
    reach = width / (right - left)
    least = low - left * reach
    flat = high <= low
    return np.where(flat, low, least), np.where(flat, high, least + reach)


def quantile_tables(
    estimates: Sequence[tuple[float, float, float]], low_high: tuple[float, float] = (0.0, 1.0)
) -> Floats:
    """Tables of quantiles of three-point estimates by PERT's beta, one row an estimate; never below zero.

    Parameters
    ----------
    estimates : sequence of (float, float, float)
        Low, likely, high. [min]
    low_high : tuple of (float, float)
        The quantiles that low and high stand for.

    Returns
    -------
    array
        Row by estimate, column by bin of the normal scale. [min]

    References
    ----------
    Malcolm, Roseboom, Clark and Fazar (1959), Operations Research 7, 646-669; shapes 1 + 4 (m - a) / (b - a) and
    1 + 4 (b - m) / (b - a) (recalled).

    Examples
    --------
    >>> table = quantile_tables([(2.0, 4.0, 12.0)])
    >>> weights = np.diff(np.concatenate([[0.0], (chances()[1:] + chances()[:-1]) / 2, [1.0]]))
    >>> round(float(table[0] @ weights), 2)
    5.0
    """
    if not estimates:
        return np.zeros((0, POINTS))
    low, likely, high = np.array(estimates, dtype=float).T
    least, greatest = ends_of(low, likely, high, low_high)
    reach = greatest - least
    mode = np.clip(np.where(reach > 0, (likely - least) / np.where(reach > 0, reach, 1.0), 0.0), 0.0, 1.0)
    tables = np.repeat(least[:, None], POINTS, axis=1)
    spread = np.flatnonzero(reach > 0)
    if spread.size:
        unit = _pert_quantiles(mode[spread], chances())
        tables[spread] += reach[spread, None] * unit
    return np.maximum(tables, 0.0)


@dataclass(frozen=True, slots=True)
class Loading:
    """How much of each common cause is in each duration.

    Parameters
    ----------
    causes : array
        Row by duration, column by cause: square roots of the shares of variance.
    """

    causes: Floats

    def own(self) -> Floats:
        """Give the square root of what is left to each duration itself. [-]."""
        left = 1.0 - np.sum(self.causes**2, axis=1)
        return np.asarray(np.sqrt(np.maximum(left, 0.0)), dtype=np.float64)


class Drawer:
    """Draws bins of durations and plain chances, the second half of each draw the mirror of the first.

    Parameters
    ----------
    loading : Loading
        Common causes of the durations.
    others : int
        Further independent chances a run, for things that happen or not.
    seed : int
        Of the generator, PCG64.
    most : int
        Antithetic pairs drawn at a time.
    """

    def __init__(self, loading: Loading, others: int, seed: int, most: int = PAIRS) -> None:
        self._random = np.random.default_rng(seed)
        self._own = loading.own().astype(np.float32)[:, None]
        self._touched = [
            (np.flatnonzero(column), column[column != 0].astype(np.float32)[:, None])
            for column in loading.causes.T
        ]
        self._others, self._most = others, most

    def chunks(self, runs: int) -> Iterator[tuple[Bins, Floats]]:
        """Draw at least so many runs, chunk by chunk.

        Parameters
        ----------
        runs : int
            How many; made even.

        Yields
        ------
        tuple of array
            Bins of the durations, row by duration; chances, row by thing. Columns are runs: the second half
            mirrors the first.
        """
        left = (runs + 1) // 2
        while left > 0:
            pairs = min(self._most, left)
            yield self._bins(pairs), self._chances(pairs)
            left -= pairs

    def _bins(self, pairs: int) -> Bins:
        normal = self._random.standard_normal((len(self._own), pairs), dtype=np.float32)
        common = self._random.standard_normal((len(self._touched), pairs), dtype=np.float32)
        if len(self._touched):
            normal *= self._own
        for (rows, weights), cause in zip(self._touched, common, strict=True):
            normal[rows] += weights * cause
        normal += np.float32(REACH)
        normal *= np.float32(POINTS / (2 * REACH))
        np.clip(normal, 0, POINTS - 1, out=normal)
        bins = np.empty((len(normal), 2 * pairs), dtype=np.int16)
        bins[:, :pairs] = normal
        np.subtract(POINTS - 1, bins[:, :pairs], out=bins[:, pairs:])
        return bins

    def _chances(self, pairs: int) -> Floats:
        first = self._random.random((self._others, pairs))
        return np.concatenate([first, 1.0 - first], axis=1)
