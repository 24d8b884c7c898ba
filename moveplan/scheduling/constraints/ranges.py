"""Starts that the hours of people and vehicles allow, as ranges on the grid."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import itemgetter

from moveplan.scheduling.state.tracks import Windows

Range = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Grid:
    """Moments ``start + step * k``.

    Parameters
    ----------
    start : int
        Moment of ``k = 0``. [min]
    step : int
        Minutes between moments. [min]
    """

    start: int
    step: int

    def between(self, first: int, last: int) -> Range | None:
        """Give the numbers of the moments from one moment to another, both included; None: there are none."""
        low, high = -((self.start - first) // self.step), (last - self.start) // self.step
        return (max(0, low), high) if high >= max(0, low) else None

    def number(self, moment: int) -> int:
        """Give the number of a moment of the grid."""
        return (moment - self.start) // self.step


def joined(ranges: Iterable[Range | None]) -> list[Range]:
    """Sort ranges and join those that touch; None is left out."""
    result: list[Range] = []
    for low, high in sorted(piece for piece in ranges if piece is not None):
        if result and low <= result[-1][1] + 1:
            result[-1] = (result[-1][0], max(high, result[-1][1]))
        else:
            result.append((low, high))
    return result


def shared(one: Sequence[Range], other: Sequence[Range]) -> list[Range]:
    """Give what two sorted lists of disjoint ranges have in common."""
    found: list[Range] = []
    here = there = 0
    while here < len(one) and there < len(other):
        low, high = max(one[here][0], other[there][0]), min(one[here][1], other[there][1])
        if low <= high:
            found.append((low, high))
        if one[here][1] < other[there][1]:
            here += 1
        else:
            there += 1
    return joined(found)


def extent(one: Sequence[Range], other: Sequence[Range]) -> Range | None:
    """Give the lowest and the highest number that two sorted lists of disjoint ranges share; None: they share none."""
    here, there = 0, bisect_left(other, one[0][0], key=itemgetter(1)) if one else len(other)
    while here < len(one) and there < len(other):
        lowest = max(one[here][0], other[there][0])
        if lowest <= min(one[here][1], other[there][1]):
            return lowest, _highest(one, other)
        if one[here][1] < other[there][1]:
            here += 1
        else:
            there += 1
    return None


def _highest(one: Sequence[Range], other: Sequence[Range]) -> int:
    """Highest number that two lists share, which share some."""
    here, there = len(one) - 1, bisect_right(other, one[-1][1], key=itemgetter(0)) - 1
    while max(one[here][0], other[there][0]) > min(one[here][1], other[there][1]):
        if one[here][0] > other[there][0]:
            here -= 1
        else:
            there -= 1
    return min(one[here][1], other[there][1])


def starts(grid: Grid, hours: Windows, lasts: int) -> list[Range]:
    """List starts from which work of so many minutes lies within one stretch."""
    return list(_starts(grid, hours, lasts))


@lru_cache(maxsize=256)
def _starts(grid: Grid, hours: Windows, lasts: int) -> tuple[Range, ...]:
    pieces = zip(hours.starts, hours.finishes, strict=True)
    return tuple(joined(grid.between(begin, end - lasts) for begin, end in pieces))


def pausing_starts(grid: Grid, hours: Windows, lasts: int) -> dict[int, list[Range]]:
    """List starts of work that pauses between stretches, by the minutes from start to finish.

    Within one stretch the elapsed time steps only where the finish passes the end of another stretch, so few
    values occur.
    """
    found: dict[int, list[Range | None]] = {}
    stretches = list(zip(hours.starts, hours.finishes, strict=True))
    for at, (begin, end) in enumerate(stretches):
        if lasts == 0 or end - lasts >= begin:
            found.setdefault(lasts, []).append(grid.between(begin, end - lasts))
        behind = 0
        for later_begin, later_end in stretches[at + 1 :]:
            length = later_end - later_begin
            first = max(begin, end - lasts + behind + 1)
            last = min(end - 1, end - lasts + behind + length)
            if first <= last:
                elapsed = later_begin - behind + lasts - end
                found.setdefault(elapsed, []).append(grid.between(first, last))
            behind += length
            if behind >= lasts:
                break
    grouped = {elapsed: joined(pieces) for elapsed, pieces in sorted(found.items())}
    return {elapsed: pieces for elapsed, pieces in grouped.items() if pieces}
