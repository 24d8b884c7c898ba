"""Air out of doors: an assumed day of each month, and its course between the day's lowest and highest."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import pi

import numpy as np

from moveplan.science.numbers import Number, choose
from moveplan.science.ranges import ordered, ranged, within
from moveplan.science.tables import table

WARMEST_H = 14.0
"""Sun time at which the air is warmest [h]; de Wit et al. (1978), recalled."""


class Band(StrEnum):
    """Where on the globe."""

    NORTH = "north"
    SOUTH = "south"
    EQUATOR = "equator"


@dataclass(frozen=True, slots=True)
class DayAir:
    """Lowest and highest air of a day, each for a cold, a likely and a hot day of the month.

    Parameters
    ----------
    least_c, greatest_c : tuple of float
        Low, likely, high. [°C]
    """

    least_c: tuple[float, float, float]
    greatest_c: tuple[float, float, float]


def outside_air(month: int, band: Band) -> DayAir:
    """Air that may be assumed in a month where nothing better is known.

    Parameters
    ----------
    month : int
        1 to 12. [-]
    band : Band
        Temperate north, temperate south (the north's table six months on), or near the equator. [-]

    Returns
    -------
    DayAir
        Planning values of a lowland town. [°C]

    Notes
    -----
    Assumed (data/outside_air.toml): a forecast, or the climate table of the place, is better.

    Examples
    --------
    >>> outside_air(1, Band.NORTH).least_c == outside_air(7, Band.SOUTH).least_c
    True
    """
    within("month", month, 1, 12, "months of a year")
    rows = table("outside_air")
    if band is Band.EQUATOR:
        row = rows["equator"]
    else:
        row = rows["temperate-north"][(month - 1 + (6 if band is Band.SOUTH else 0)) % 12]
    return DayAir(_three(row["least"]), _three(row["greatest"]))


def _three(values: list[float]) -> tuple[float, float, float]:
    low, likely, high = map(float, values)
    return low, likely, high


@ranged
def air_of_the_hour_c(least_c: Number, greatest_c: Number, clock_h: Number, sunrise_h: Number) -> Number:
    """Air at an hour of a day whose lowest is at sunrise and whose highest is at 14 hours.

    Parameters
    ----------
    least_c : float or array
        Lowest air of the day. [°C]
    greatest_c : float or array
        Highest air of the day. [°C]
    clock_h : float or array
        Hours since midnight, sun time. [h]
    sunrise_h : float or array
        Hours from midnight to sunrise. [h]

    Returns
    -------
    float or array
        Air. [°C]

    Notes
    -----
    Two half cosines, from sunrise to 14 hours and on to the next sunrise; a day joins the next like it.

    References
    ----------
    De Wit, Goudriaan and van Laar (1978), Simulation of assimilation, respiration and transpiration of crops
    (recalled).

    Examples
    --------
    >>> [round(air_of_the_hour_c(8.0, 20.0, hour, 6.0), 1) for hour in (0.0, 6.0, 10.0, 14.0, 22.0)]
    [11.7, 8.0, 14.0, 20.0, 14.0]
    """
    ordered("least_c", least_c, "greatest_c", greatest_c)
    mean, half = 0.5 * (least_c + greatest_c), 0.5 * (greatest_c - least_c)
    by_day = (clock_h >= sunrise_h) & (clock_h <= WARMEST_H)
    since_warmest: Number = choose(clock_h > WARMEST_H, clock_h - WARMEST_H, clock_h + 24.0 - WARMEST_H)
    up: Number = -np.cos(pi * (clock_h - sunrise_h) / (WARMEST_H - sunrise_h))
    down: Number = np.cos(pi * since_warmest / (24.0 - WARMEST_H + sunrise_h))
    return mean + half * choose(by_day, up, down)
