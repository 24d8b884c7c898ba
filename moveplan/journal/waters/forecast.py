"""When the cycle of a new filter is done: the growth model, its uncertain parameters weighted by the readings.

Four parameters are uncertain: bacteria that oxidise ammonia and nitrite at the start, the growth rate, and the dose.
Curves are simulated for many draws of them from what is believed before any reading.  Each draw is weighted by how
likely it makes the readings; where few draws keep any weight, a second set is drawn around those that do, and the two
sets are joined by the balance heuristic, so that the weights still answer to the same belief.  The same readings give
the same answer: the draws are seeded.

References
----------
Importance sampling with the balance heuristic: Veach and Guibas (1995), SIGGRAPH 95, 419-428 (recalled).  Adaptive
importance sampling: Cappé, Guillin, Marin and Robert (2004), J. Comput. Graph. Stat. 13, 907-929 (recalled).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from moveplan.science.filter.cycling import CycleCurve, CycleStart, cycle_curve, days_to_limit, seeded_start
from moveplan.science.limits import limits

Floats = NDArray[np.float64]
LONGEST_DAYS = 120.0
"""Longest ripening that is reckoned with. Assumed. [d]"""
DOSE_MG_N_L = 2.0
"""Ammonia dosed at the start, as nitrogen; common practice, no source. [mg N/l]"""
BACTERIA_SPREAD = 0.857
"""Spread of the logarithm of the bacteria at the start: a factor 3 either way is P10 and P90; assumed. [-]"""
TOGETHER = 0.7
"""Correlation between the two kinds of bacteria: what brings few of one brings few of the other; assumed. [-]"""
GROWTH_SPREAD_K = 1.0
"""Uncertainty of the growth rate as a shift of temperature: about a tenth; assumed. [K]"""
DOSE_SPREAD = 0.15
"""Standard deviation of the logarithm of the dose; assumed. [-]"""
READING_SPREAD = (0.05, 0.15)
"""Error of a test kit: in mg N/l, and as a share of what is there; assumed. [mg N/l, -]"""
_DRAWS, _MORE, _ENOUGH, _ROUNDS, _WIDER = 3000, 1500, 200.0, 3, 1.5
"""Curves drawn at first, and in each further round; how many must count for enough, in how many rounds at most, and
by how much wider than the last a round is drawn. Chosen. [-]"""
_MISFIT = 4.0
"""Mean squared misfit, in standard deviations, up to which readings fit the model. Chosen. [-]"""


@dataclass(frozen=True, slots=True)
class Measured:
    """One reading of a cycle.

    Parameters
    ----------
    day : float
        Since the dose. [day]
    what : str
        ``ammonia`` or ``nitrite``.
    mg_n_l : float
        As nitrogen. [mg N/l]
    """

    day: float
    what: str
    mg_n_l: float


@dataclass(frozen=True, slots=True)
class CycleForecast:
    """When a cycle is expected to be done: ammonia and nitrite below the limits for good.

    Parameters
    ----------
    p10, p50, p90 : float
        Days since the dose that are not passed with 10, 50 and 90 %; infinite beyond 120 days. [day]
    readings : int
        How many readings it rests on.
    draws : float
        How many draws carry the weight.
    fits : bool
        Whether the model can make the readings at all; else only the tests count.
    """

    p10: float
    p50: float
    p90: float
    readings: int
    draws: float
    fits: bool


@dataclass(frozen=True, slots=True)
class _Set:
    z: Floats
    curve: CycleCurve
    done: Floats


def cycle_forecast(
    readings: Sequence[Measured],
    seeding: str,
    temperature_c: float,
    policy: tuple[float, ...] | None = None,
) -> CycleForecast:
    """Forecast the end of a cycle from its readings.

    Parameters
    ----------
    readings : sequence of Measured
        Since the dose.
    seeding : str
        ``bare``, ``light``, ``rock`` or ``rock-and-media``.
    temperature_c : float
        Water temperature, 15 to 32. [°C]
    policy : tuple of float or None
        Limits of total ammonia and nitrite; None: those of the table. [mg N/l]

    Returns
    -------
    CycleForecast
        With its 80 % interval.

    Examples
    --------
    >>> before = cycle_forecast([], "bare", 26.0)
    >>> slow = cycle_forecast([Measured(20.0, "ammonia", 1.9), Measured(20.0, "nitrite", 0.0)], "bare", 26.0)
    >>> slow.p50 > before.p50
    True
    """
    gates = (
        (policy[0], policy[1])
        if policy
        else (limits()["gate_total_ammonia"].value, limits()["gate_nitrite"].value)
    )
    used = [one for one in readings if 0.0 <= one.day <= LONGEST_DAYS]
    sets = [_first(seeding, temperature_c, gates)]
    proposals: list[tuple[Floats, Floats]] = [(np.zeros(4), np.eye(4))]
    weights = _weights(sets, proposals, used)
    for number in range(_ROUNDS):
        if _effective(weights) >= _ENOUGH:
            break
        proposals.append(_around(np.concatenate([one.z for one in sets]), weights))
        sets.append(_drawn(*proposals[-1], _MORE, number + 2, seeding, temperature_c, gates))
        weights = _weights(sets, proposals, used)
    done = np.concatenate([one.done for one in sets])
    p10, p50, p90 = (_quantile(done, weights, share) for share in (0.1, 0.5, 0.9))
    return CycleForecast(p10, p50, p90, len(used), _effective(weights), _fits(sets, weights, used))


@lru_cache(maxsize=4)
def _first(seeding: str, temperature_c: float, gates: tuple[float, float]) -> _Set:
    return _drawn(np.zeros(4), np.eye(4), _DRAWS, 1, seeding, temperature_c, gates)


def _drawn(
    mean: Floats,
    root: Floats,
    count: int,
    seed: int,
    seeding: str,
    temperature_c: float,
    gates: tuple[float, float],
) -> _Set:
    z = mean + np.random.default_rng(seed).standard_normal((count, 4)) @ root.T
    curve = simulated(z, seeding, temperature_c)
    done = np.maximum(
        days_to_limit(curve.day, curve.ammonia_mg_n_l, gates[0]),
        days_to_limit(curve.day, curve.nitrite_mg_n_l, gates[1]),
    )
    return _Set(z, curve, done)


def simulated(z: Floats, seeding: str, temperature_c: float) -> CycleCurve:
    """Simulate the curves of draws.

    Parameters
    ----------
    z : array
        One row a draw of four standard normal numbers: bacteria of ammonia, of nitrite, growth, dose.
    seeding : str
        As in :func:`cycle_forecast`.
    temperature_c : float
        Water temperature. [°C]
    """
    start = seeded_start(DOSE_MG_N_L, seeding)
    nitrite = TOGETHER * z[:, 0] + np.sqrt(1.0 - TOGETHER**2) * z[:, 1]
    spread = CycleStart(
        DOSE_MG_N_L * np.exp(DOSE_SPREAD * z[:, 3]),
        0.0,
        0.0,
        start.ammonia_oxidisers_mg_l * np.exp(BACTERIA_SPREAD * z[:, 0]),
        start.nitrite_oxidisers_mg_l * np.exp(BACTERIA_SPREAD * nitrite),
    )
    warmth = np.clip(temperature_c + GROWTH_SPREAD_K * z[:, 2], 10.0, 35.0)
    return cycle_curve(spread, warmth, days=LONGEST_DAYS)


def _weights(
    sets: list[_Set], proposals: list[tuple[Floats, Floats]], readings: Sequence[Measured]
) -> Floats:
    """Belief before the readings times their likelihood, over the mixture that was drawn from; they sum to one."""
    z = np.concatenate([one.z for one in sets])
    counts = [len(one.z) for one in sets]
    mixture = np.logaddexp.reduce(
        [np.log(count) + _log_density(z, *one) for count, one in zip(counts, proposals, strict=True)]
    )
    fit = np.concatenate([_log_likelihood(one.curve, readings) for one in sets])
    logs = _log_density(z, np.zeros(4), np.eye(4)) + fit - mixture
    raw = np.exp(logs - logs.max())
    weights: Floats = raw / raw.sum()
    return weights


def _log_density(z: Floats, mean: Floats, root: Floats) -> Floats:
    """Logarithm of a normal density, without its constant."""
    white = np.linalg.solve(root, (z - mean).T)
    density: Floats = -0.5 * (white**2).sum(axis=0) - np.log(np.abs(np.diag(root))).sum()
    return density


def _misfits(curve: CycleCurve, readings: Sequence[Measured]) -> tuple[Floats, Floats]:
    """Squared error of each reading over its variance, and the logarithm of its spread; a row a reading."""
    rows: list[Floats] = []
    spreads: list[Floats] = []
    for one in readings:
        line = curve.ammonia_mg_n_l if one.what == "ammonia" else curve.nitrite_mg_n_l
        at = one.day / (curve.day[1] - curve.day[0])
        low = min(int(at), len(curve.day) - 2)
        there = line[low] + (at - low) * (line[low + 1] - line[low])
        spread: Floats = np.hypot(READING_SPREAD[0], READING_SPREAD[1] * there)
        rows.append(((one.mg_n_l - there) / spread) ** 2)
        spreads.append(np.log(spread))
    return np.stack(rows), np.stack(spreads)


def _log_likelihood(curve: CycleCurve, readings: Sequence[Measured]) -> Floats:
    if not readings:
        return np.zeros(curve.ammonia_mg_n_l.shape[1])
    misfits, spreads = _misfits(curve, readings)
    fit: Floats = -0.5 * misfits.sum(axis=0) - spreads.sum(axis=0)
    return fit


def _effective(weights: Floats) -> float:
    return float(1.0 / (weights**2).sum())


def _around(z: Floats, weights: Floats) -> tuple[Floats, Floats]:
    """Mean and root of a wider normal density around what carries weight."""
    mean = weights @ z
    apart = z - mean
    spread = (apart * weights[:, None]).T @ apart
    root: Floats = np.linalg.cholesky(_WIDER**2 * spread + 0.02 * np.eye(4)).astype(np.float64)
    return mean, root


def _quantile(values: Floats, weights: Floats, share: float) -> float:
    order = np.argsort(values, kind="stable")
    reached = np.cumsum(weights[order])
    return float(values[order][min(int(np.searchsorted(reached, share)), len(values) - 1)])


def _fits(sets: list[_Set], weights: Floats, readings: Sequence[Measured]) -> bool:
    if not readings:
        return True
    misfits = np.concatenate([_misfits(one.curve, readings)[0].mean(axis=0) for one in sets])
    return bool(weights @ misfits <= _MISFIT)
