"""Growth of a filter: ammonia, nitrite and the bacteria that live on them, for many scenarios at once.

A Monod model of two populations, tuned to give the four to eight weeks of an unseeded marine tank: an
illustration of the weeks to expect, never a reason to skip a test.  Gates are opened by measured readings.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from moveplan.science.filter.growth import Growth
from moveplan.science.filter.nitrifiers import (
    ammonia_oxidiser_growth_per_day,
    nitrite_oxidiser_growth_per_day,
)
from moveplan.science.numbers import Array
from moveplan.science.ranges import check
from moveplan.science.tables import kinetic, table

STEP_DAYS = 0.25
"""Spacing of the curves [day]."""


@dataclass(frozen=True, slots=True)
class CycleStart:
    """What a tank holds at the start; each value a float or an array over scenarios.

    Parameters
    ----------
    ammonia_mg_n_l, nitrite_mg_n_l, nitrate_mg_n_l : float or array
        Total ammonia, nitrite and nitrate, as nitrogen. [mg N/l]
    ammonia_oxidisers_mg_l, nitrite_oxidisers_mg_l : float or array
        Bacteria, as volatile solids. [mg/l]
    """

    ammonia_mg_n_l: float | Array
    nitrite_mg_n_l: float | Array
    nitrate_mg_n_l: float | Array
    ammonia_oxidisers_mg_l: float | Array
    nitrite_oxidisers_mg_l: float | Array


@dataclass(frozen=True, slots=True)
class CycleCurve:
    """Curves of a cycle; rows are times, columns are scenarios.

    Parameters
    ----------
    day : array
        Times. [day]
    ammonia_mg_n_l, nitrite_mg_n_l, nitrate_mg_n_l : array
        Total ammonia, nitrite and nitrate, as nitrogen. [mg N/l]
    ammonia_oxidisers_mg_l, nitrite_oxidisers_mg_l : array
        Bacteria, as volatile solids. [mg/l]
    """

    day: Array
    ammonia_mg_n_l: Array
    nitrite_mg_n_l: Array
    nitrate_mg_n_l: Array
    ammonia_oxidisers_mg_l: Array
    nitrite_oxidisers_mg_l: Array


def seeded_start(total_ammonia_mg_n_l: float | Array, seeding: str) -> CycleStart:
    """Give the start of a tank with a dose of ammonia and a way of seeding.

    Parameters
    ----------
    total_ammonia_mg_n_l : float or array
        Total ammonia dosed or left by die-off, as nitrogen. [mg N/l]
    seeding : str
        ``bare``, ``light``, ``rock`` or ``rock-and-media``. [-]

    Returns
    -------
    CycleStart
        The start. [-]

    Notes
    -----
    Bacteria by way of seeding are policy: data/nitrification.toml.

    Examples
    --------
    >>> seeded_start(2.0, "rock").ammonia_oxidisers_mg_l
    0.05
    """
    check(total_ammonia_mg_n_l=total_ammonia_mg_n_l)
    row = table("nitrification")["seeding"][seeding]
    return CycleStart(total_ammonia_mg_n_l, 0.0, 0.0, row["ammonia_oxidisers"], row["nitrite_oxidisers"])


def ripe_start(
    load_mg_n_l_day: float | Array, temperature_c: float | Array, kept_fraction: float | Array = 1.0
) -> CycleStart:
    """Give the start of a ripe tank in balance with its load, after a share of its bacteria was lost.

    Parameters
    ----------
    load_mg_n_l_day : float or array
        Load with which it is in balance, as nitrogen, 0 or more. [mg N/(l day)]
    temperature_c : float or array
        Water temperature, 10 to 36. [°C]
    kept_fraction : float or array
        Share of the bacteria that is left. [-]

    Returns
    -------
    CycleStart
        Ammonia and nitrite of the balance, and the bacteria that are left. [-]

    Notes
    -----
    Growth equals decay: ``A = K b / (mu - b)`` and ``X = L Y / b``, without a surface limit.

    References
    ----------
    Monod kinetics as in US EPA (1993), Nitrogen control manual.

    Examples
    --------
    >>> start = ripe_start(0.2, 26.0, 0.1)
    >>> start.ammonia_mg_n_l.round(3).tolist(), start.nitrite_mg_n_l.round(3).tolist()
    ([0.08], [0.112])
    """
    check(load_mg_n_l_day=load_mg_n_l_day, kept_fraction=kept_fraction)
    values = np.broadcast_arrays(*map(np.atleast_1d, (load_mg_n_l_day, temperature_c, kept_fraction)))
    load, temperature, kept = (np.asarray(value, dtype=np.float64) for value in values)
    growth, half, yields = _parameters(temperature)
    decay = kinetic("decay")
    concentration = half * decay / (growth - decay)
    bacteria = load * yields / decay * kept
    return CycleStart(concentration[0], concentration[1], 0.0 * load, bacteria[0], bacteria[1])


def _parameters(temperature_c: Array) -> tuple[Array, Array, Array]:
    """Growth rate, half saturation and yield; first row ammonia, second row nitrite."""
    growth: Array = np.stack(
        [ammonia_oxidiser_growth_per_day(temperature_c), nitrite_oxidiser_growth_per_day(temperature_c)]
    )
    half = np.array([[kinetic("half_saturation_ammonia")], [kinetic("half_saturation_nitrite")]])
    yields = np.array([[kinetic("yield_ammonia")], [kinetic("yield_nitrite")]])
    return growth, half, yields


def cycle_curve(
    start: CycleStart,
    temperature_c: float | Array,
    load_mg_n_l_day: float | Array = 0.0,
    capacity_mg_n_l_day: float | Array = np.inf,
    days: float = 120.0,
) -> CycleCurve:
    """Follow ammonia, nitrite, nitrate and bacteria over days, for all scenarios at once.

    Parameters
    ----------
    start : CycleStart
        What the tank holds on day 0. [-]
    temperature_c : float or array
        Water temperature, 10 to 36. [°C]
    load_mg_n_l_day : float or array
        Ammonia that goes in steadily, as nitrogen. [mg N/(l day)]
    capacity_mg_n_l_day : float or array
        Most that the surfaces can oxidise: surface times areal rate over volume; infinite to leave it
        out. [mg N/(l day)]
    days : float
        How long to follow it. [day]

    Returns
    -------
    CycleCurve
        Curves in steps of a quarter day. [-]

    Notes
    -----
    ``dA/dt = L - qA``, ``dN/dt = qA - qN``, ``dZ/dt = qN``, ``q = mu S / (K + S) X / Y``,
    ``dX/dt = mu S / (K + S) X (1 - X / Xmax) - b X``, ``Xmax = capacity Y / mu``.  Runge-Kutta of fourth
    order, which keeps nitrogen to rounding; the step is cut where the fastest rate asks for it.

    References
    ----------
    Monod kinetics as in US EPA (1993), Nitrogen control manual; parameters and their sources in
    data/nitrification.toml.

    Examples
    --------
    >>> curve = cycle_curve(seeded_start(2.0, "bare"), 26.0, days=30.0)
    >>> [round(float(value), 2) for value in curve.ammonia_mg_n_l[[0, 40, 80, 120], 0]]
    [2.0, 1.95, 0.84, 0.0]
    """
    check(
        load_mg_n_l_day=load_mg_n_l_day, capacity_mg_n_l_day=np.minimum(capacity_mg_n_l_day, 1e6), days=days
    )
    columns = _broadcast(start, temperature_c, load_mg_n_l_day, capacity_mg_n_l_day)
    growth, half, yields = _parameters(columns[5])
    load, capacity = columns[6], columns[7]
    crowding = growth / (capacity * yields)
    halves, shares = half.ravel().tolist(), yields.ravel().tolist()
    model = Growth(
        growth[0],
        growth[1],
        halves[0],
        halves[1],
        shares[0],
        shares[1],
        load,
        crowding[0],
        crowding[1],
        kinetic("decay"),
    )
    steps = int(np.ceil(days / STEP_DAYS))
    day: Array = np.arange(steps + 1, dtype=np.float64) * STEP_DAYS
    return CycleCurve(day, *model.follow(columns[:5], STEP_DAYS, steps))


def _broadcast(start: CycleStart, *others: float | Array) -> Array:
    values = (
        start.ammonia_mg_n_l,
        start.nitrite_mg_n_l,
        start.nitrate_mg_n_l,
        start.ammonia_oxidisers_mg_l,
        start.nitrite_oxidisers_mg_l,
        *others,
    )
    columns = np.broadcast_arrays(*(np.atleast_1d(np.asarray(value, dtype=np.float64)) for value in values))
    return np.stack(columns)


def days_to_limit(day: Array, concentration: Array, limit: float) -> Array:
    """Give the day from which a concentration stays below a limit.

    Parameters
    ----------
    day : array
        Times. [day]
    concentration : array
        Rows are times, columns are scenarios, in any unit. [-]
    limit : float
        In the same unit. [-]

    Returns
    -------
    array
        Day for each scenario; 0 if it never was above, infinite if it still is at the end. [day]

    Notes
    -----
    Straight line between the last value above and the next below.

    Examples
    --------
    >>> curve = cycle_curve(seeded_start(2.0, "bare"), 26.0)
    >>> days_to_limit(curve.day, curve.ammonia_mg_n_l, 0.25).round(1).tolist()
    [22.3]
    >>> days_to_limit(curve.day, curve.nitrite_mg_n_l, 0.25).round(1).tolist()
    [48.2]
    """
    above = concentration >= limit
    last = len(day) - 1 - above[::-1].argmax(axis=0)
    column = np.arange(concentration.shape[1])
    following = np.minimum(last + 1, len(day) - 1)
    high, low = concentration[last, column], concentration[following, column]
    share = (high - limit) / np.where(high > low, high - low, 1.0)
    crossing = day[last] + share * (day[following] - day[last])
    never, always = ~above.any(axis=0), above[-1]
    return np.where(never, 0.0, np.where(always, np.inf, crossing))
