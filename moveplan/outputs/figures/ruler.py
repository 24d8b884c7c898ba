"""The hours that lack, on a ruler: what there is above what is needed, in shares of the width of the screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from moveplan.errors import Lack
from moveplan.outputs.figures.scale import labels_across
from moveplan.times import MINUTES_A_DAY


@dataclass(frozen=True, slots=True)
class Ruler:
    """A ruler, from 0 at its left end to 100 at its right one.

    Parameters
    ----------
    lack : Lack
        What is missing.
    there : tuple of (float, float)
        Left end and width of the time there is. [%]
    parts : tuple of (float, float)
        The same of each thing that takes time, in order. [%]
    missing : tuple of (float, float)
        The same of what is missing. [%]
    ticks : tuple of (float, int)
        Places of the labels, and what stands there: UTC on a clock, else minutes of work. [%, min]
    by_days : bool
        Whether the labels are days rather than hours.
    """

    lack: Lack
    there: tuple[float, float]
    parts: tuple[tuple[float, float], ...]
    missing: tuple[float, float]
    ticks: tuple[tuple[float, int], ...]
    by_days: bool

    @property
    def by_clock(self) -> bool:
        """Whether the labels are moments; else they are hours of work."""
        return bool(self.lack.parts)


def ruler_of(lack: Lack, minute_of_day: Callable[[int], int] = lambda moment: moment) -> Ruler:
    """Lay what is missing on a ruler.

    Parameters
    ----------
    minute_of_day : callable
        Gives the minutes after midnight of a moment, so that labels stand on whole hours of the clock. [min]
    """
    begin = lack.begin if lack.parts else 0
    end = begin + lack.there_min
    left, right = min(begin, end), max(begin + lack.needed_min, end)
    whole = max(right - left, 1)

    def placed(first: int, last: int) -> tuple[float, float]:
        return round(100 * (first - left) / whole, 1), round(100 * max(last - first, 0) / whole, 1)

    parts, at = [], begin
    for _, minutes in lack.parts:
        parts.append(placed(at, at + minutes))
        at += minutes
    labels = labels_across(left, right, minute_of_day(left) if lack.parts else left)
    return Ruler(
        lack,
        placed(begin, end),
        tuple(parts) or (placed(begin, begin + lack.needed_min),),
        placed(max(end, begin), right),
        tuple((placed(moment, moment)[0], moment) for moment in labels),
        labels.step >= MINUTES_A_DAY,
    )
