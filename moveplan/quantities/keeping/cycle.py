"""How long a new filter ripens, what it then carries, and how far it dips when bacteria are lost in a move."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from moveplan.estimate import Estimate, Provenance
from moveplan.quantities.keeping.gates import NitrogenGates
from moveplan.science.filter.cycling import (
    CycleCurve,
    CycleStart,
    cycle_curve,
    days_to_limit,
    ripe_start,
    seeded_start,
)
from moveplan.science.filter.nitrification import surviving_fraction
from moveplan.science.ranges import arguments
from moveplan.units import show_rounded

DOSE_MG_N_L = 2.0
"""Ammonia dosed at the start of a cycle without fish, as nitrogen; common practice, no source. [mg N/l]"""
UNCERTAIN = 3.0
"""Factor either way by which the bacteria at the start may differ from the table; assumed. [-]"""
LONGEST_DAYS = 120.0
"""Longest ripening that is reckoned with. Assumed. [d]"""
SOURCE = "Monod model after US EPA (1993), Nitrogen control manual (recalled); seeding is a policy default"
SEEDINGS = ("bare", "light", "rock", "rock-and-media")
"""Ways of seeding, from nothing to most. [-]"""


@dataclass(frozen=True, slots=True)
class Curve:
    """What a test kit would read day by day, in the likely case.

    Parameters
    ----------
    day : tuple of float
        Since the beginning, evenly spaced. [day]
    ammonia, nitrite : tuple of float
        Total ammonia and nitrite, as nitrogen. [mg N/l]
    """

    day: tuple[float, ...]
    ammonia: tuple[float, ...]
    nitrite: tuple[float, ...]


def _likely_curve(curve: CycleCurve, until_day: float) -> Curve:
    """Keep the middle one of three cases, two points a day."""
    end = int(np.searchsorted(curve.day, until_day, side="right"))
    lines = (curve.day, curve.ammonia_mg_n_l[:, 1], curve.nitrite_mg_n_l[:, 1])
    return Curve(*(tuple(np.round(line[:end:2], 4).tolist()) for line in lines))


@dataclass(frozen=True, slots=True)
class Cycle:
    """The ripening of a new filter.

    Parameters
    ----------
    seeding : str
        One of ``bare``, ``light``, ``rock``, ``rock-and-media``.
    time : Estimate
        From the dose until ammonia and nitrite are down. [min]
    ammonia, nitrite : Estimate
        Days until each is below its gate. [day]
    carries : Estimate
        Load that it carries on that day with ammonia below the gate. [mg N/(l day)]
    curve : Curve
        Until a week after it is likely to be done. [mg N/l]
    """

    seeding: str
    time: Estimate
    ammonia: Estimate
    nitrite: Estimate
    carries: Estimate
    curve: Curve


def _scaled(start: CycleStart, factors: tuple[float, ...]) -> CycleStart:
    many = np.array(factors)
    return replace(
        start,
        ammonia_oxidisers_mg_l=start.ammonia_oxidisers_mg_l * many,
        nitrite_oxidisers_mg_l=start.nitrite_oxidisers_mg_l * many,
    )


@cache
def cycle_of(seeding: str, temperature_c: float, gates: NitrogenGates) -> Cycle:
    """Follow a cycle without fish.

    Parameters
    ----------
    seeding : str
        What brings bacteria in.
    temperature_c : float
        Of the water. [°C]
    gates : NitrogenGates
        At which it is done, for those who are to live in it. [mg N/l]
    """
    start = _scaled(seeded_start(DOSE_MG_N_L, seeding), (UNCERTAIN, 1.0, 1 / UNCERTAIN))
    curve = cycle_curve(start, temperature_c, days=LONGEST_DAYS)
    days = [
        np.minimum(days_to_limit(curve.day, line, gate), LONGEST_DAYS).tolist()
        for line, gate in ((curve.ammonia_mg_n_l, gates.ammonia), (curve.nitrite_mg_n_l, gates.nitrite))
    ]
    done = [max(pair) for pair in zip(*days, strict=True)]
    at = [int(np.searchsorted(curve.day, day)) for day in done]
    carried = sorted(
        _carried(float(curve.ammonia_oxidisers_mg_l[row, column]), temperature_c, gates.ammonia)
        for column, row in enumerate(at)
    )
    basis = (
        f"{DOSE_MG_N_L:g} mg N/l dosed at {show_rounded(temperature_c)} °C, seeding “{seeding}”: ammonia "
        f"below {gates.ammonia:g} after {days[0][1]:.0f} days, nitrite {_below(gates.nitrite, days[1][1])}; "
        f"bacteria at the start {UNCERTAIN:g} times more or fewer either way"
    )
    return Cycle(
        seeding,
        _estimate([1440 * day for day in done], "min", basis),
        _estimate(days[0], "day", basis),
        _estimate(days[1], "day", basis),
        Estimate(
            carried[0],
            carried[1],
            carried[2],
            "mg N/(l day)",
            f"uptake of the bacteria grown by then at {gates.ammonia:g} mg N/l",
            Provenance.COMPUTED,
            SOURCE,
        ),
        _likely_curve(curve, done[1] + 7.0),
    )


def _below(limit_mg_n_l: float, days: float) -> str:
    return f"below {limit_mg_n_l:g} mg N/l {f'after {days:.0f}' if days else 'throughout'}"


def _carried(bacteria_mg_l: float, temperature_c: float, ammonia_mg_n_l: float) -> float:
    """Uptake at a concentration, from the balance at which a known load holds so many bacteria."""
    held = ripe_start(1.0, temperature_c)
    settled, eaters = float(np.ravel(held.ammonia_mg_n_l)[0]), float(np.ravel(held.ammonia_oxidisers_mg_l)[0])
    half = _half_saturation()
    return bacteria_mg_l / eaters * ammonia_mg_n_l / (half + ammonia_mg_n_l) * (half + settled) / settled


def _half_saturation() -> float:
    from moveplan.science.tables import table

    return float(table("nitrification")["kinetics"]["half_saturation_ammonia"]["value"])


def _estimate(values: list[float], unit: str, basis: str) -> Estimate:
    low, likely, high = sorted(values)
    return Estimate(low, likely, high, unit, basis, Provenance.COMPUTED, SOURCE)


@dataclass(frozen=True, slots=True)
class Dip:
    """What follows when a share of the bacteria is lost.

    Parameters
    ----------
    kept : float
        Share of the bacteria that is left.
    ammonia, nitrite : Estimate
        Greatest total ammonia and nitrite, as nitrogen. [mg N/l]
    days : Estimate
        Until both are below their gates again. [day]
    curve : Curve
        Until a week after that, two weeks at least. [mg N/l]
    """

    kept: float
    ammonia: Estimate
    nitrite: Estimate
    days: Estimate
    curve: Curve


def _modelled(load_mg_n_l_day: float) -> float:
    """Keep a load within the model; what is beyond it is named elsewhere, as a stock that no filter carries."""
    return min(load_mg_n_l_day, arguments()["load_mg_n_l_day"].high)


@cache
def dip_after(
    load_mg_n_l_day: float, temperature_c: float, out_h: float, gates: NitrogenGates, ready: float = 0.0
) -> Dip:
    """Follow a ripe filter whose rock and media were out of the running tank, wet and aired.

    Parameters
    ----------
    load_mg_n_l_day : float
        Load it was used to; the model ends where its range does. [mg N/(l day)]
    temperature_c : float
        Of the water. [°C]
    out_h : float
        Hours out of the running tank. [h]
    gates : NitrogenGates
        Below which it has recovered. [mg N/l]
    ready : float
        Share of the load that a filter which waits in the new tank carries already.
    """
    load_mg_n_l_day = _modelled(load_mg_n_l_day)
    worst, best = surviving_fraction(out_h, "wet-aerated")
    moved = np.array([0.9 * best, 0.75 * (worst + best) / 2, 0.5 * worst])
    shares = np.minimum(moved + ready, 1.0)
    curve = cycle_curve(
        ripe_start(load_mg_n_l_day, temperature_c, shares), temperature_c, load_mg_n_l_day, days=60.0
    )
    days = np.maximum(
        days_to_limit(curve.day, curve.ammonia_mg_n_l, gates.ammonia),
        days_to_limit(curve.day, curve.nitrite_mg_n_l, gates.nitrite),
    )
    basis = (
        f"{moved[1]:.0%} of the bacteria left ({moved[2]:.0%} to {moved[0]:.0%}) after {out_h:.0f} h wet and aired "
        f"and the loss of sand and glass; load {load_mg_n_l_day:.2f} mg N/l a day at {show_rounded(temperature_c)} °C"
    )
    if ready:
        basis += f", and {min(ready, 1.0):.0%} of what is needed waits in the new tank"
    return Dip(
        float(shares[1]),
        _estimate(curve.ammonia_mg_n_l.max(axis=0).tolist(), "mg N/l", basis),
        _estimate(curve.nitrite_mg_n_l.max(axis=0).tolist(), "mg N/l", basis),
        _estimate(np.minimum(days, 60.0).tolist(), "day", basis),
        _likely_curve(curve, max(float(days[1]) + 7.0, 14.0)),
    )


@cache
def step_time(factor: float, load_mg_n_l_day: float, temperature_c: float) -> Estimate:
    """Time until ammonia and nitrite are back after a load has been raised at once.

    Parameters
    ----------
    factor : float
        New load over old load.
    load_mg_n_l_day : float
        Old load. [mg N/(l day)]
    temperature_c : float
        Of the water. [°C]

    Returns
    -------
    Estimate
        Never below the week that common practice leaves between waves. [min]
    """
    start = _scaled(
        ripe_start(_modelled(load_mg_n_l_day), temperature_c), (UNCERTAIN / 2, 1.0, 2 / UNCERTAIN)
    )
    curve = cycle_curve(start, temperature_c, _modelled(factor * load_mg_n_l_day), days=60.0)
    settled = 1.5 * float(curve.ammonia_mg_n_l[-1].max()), 1.5 * float(curve.nitrite_mg_n_l[-1].max())
    back = np.maximum(
        days_to_limit(curve.day, curve.ammonia_mg_n_l, settled[0]),
        days_to_limit(curve.day, curve.nitrite_mg_n_l, settled[1]),
    )
    low, likely, high = (max(7.0, min(float(day), 21.0)) for day in sorted(back))
    basis = (
        f"load raised to {factor:.0%} at once: ammonia and nitrite within half of their new level after "
        f"{sorted(back)[1]:.0f} days; at least a week (common practice)"
    )
    return Estimate(1440 * low, 1440 * likely, 1440 * high, "min", basis, Provenance.COMPUTED, SOURCE)
