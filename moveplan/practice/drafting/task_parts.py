"""The crew and the duration of a task, as phases write them."""

from __future__ import annotations

from math import floor

from moveplan.estimate import Estimate, Provenance, exactly
from moveplan.network.task import Crew

HOUR = 60
"""Minutes of an hour. [min]"""
DAY = 24 * HOUR
WEEK = 7 * DAY
_GRID = 5
"""Durations are rounded to this. Chosen. [min]"""


def on_grid(estimate: Estimate) -> Estimate:
    """Round a duration to whole five minutes, so that plans can be read and kept.

    To the nearest, and five for whatever takes less: rounded up, each of the thirty tasks that follow one another on a
    moving day would bring two or three minutes that nobody works, an hour and more in all.

    >>> found = on_grid(Estimate(1, 7, 13, "min", "four fish"))
    >>> found.low, found.likely, found.high
    (5.0, 5.0, 15.0)
    """

    def nearest(value: float) -> float:
        return float(max(floor(round(value, 6) / _GRID + 0.5), 1) * _GRID) if value > 0 else 0.0

    return Estimate(
        nearest(estimate.low),
        nearest(estimate.likely),
        nearest(estimate.high),
        estimate.unit,
        estimate.basis,
        estimate.provenance,
        estimate.source,
        estimate.inputs,
    )


def hands(count: int, *skills: str) -> Crew:
    """So many people, one of whom has each of the skills.

    >>> hands(2, "cares").skills
    (('cares', 1),)
    """
    return Crew(count, tuple((skill, 1) for skill in skills))


def lifters(count: int) -> Crew:
    """So many people, all of whom lift.

    >>> lifters(2).skills
    (('lifts', 2),)
    """
    return Crew(count, (("lifts", count),))


def usual(low: float, likely: float, high: float, basis: str) -> Estimate:
    """Estimate a duration from practice, in minutes."""
    return Estimate(low, likely, high, "min", basis, Provenance.ASSUMED, "common practice, no source")


def fixed(minutes: float, basis: str) -> Estimate:
    """Fix a duration without spread, in minutes."""
    return exactly(minutes, "min", basis, Provenance.ASSUMED, "common practice, no source")
