"""Working hours for the runs of the rest, and the latest of several columns, without numpy."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from math import inf

from moveplan.journal.rest.luck import Column

EPSILON = 1e-6
"""Difference below which two moments are the same. [min]"""


@dataclass(frozen=True, slots=True)
class Hours:
    """Stretches of time of one crew, from the start of the plan on; the last is open.

    Parameters
    ----------
    begins, ends, stated : list of float
        Where each begins and ends, and where it ends before overtime. [min]
    longest : float
        Of those that end. [min]
    """

    begins: Column
    ends: Column
    stated: Column
    longest: float

    @classmethod
    def read(cls, text: str) -> Hours:
        """Read stretches as the model writes them: begin, end, stated end."""
        rows = [piece.split("-") for piece in text.split()]
        begins, ends, stated = ([float(row[at]) if row[at] else inf for row in rows] for at in range(3))
        lengths = (end - begin for begin, end in zip(begins[:-1], ends[:-1], strict=True))
        return cls(begins, ends, stated, max(lengths, default=0.0))

    def number(self, moment: float) -> int:
        """Find the first stretch that ends after a moment."""
        return bisect_right(self.ends, int(moment))

    def placed(self, ready: float, lasts: float, *, pauses: bool) -> tuple[float, float]:
        """Place work in the first stretch that is long enough; longer work, or what may pause, goes on in the next."""
        at = self.number(ready)
        start = max(ready, self.begins[at])
        if pauses or lasts > self.longest:
            left, moment = lasts, start
            while left > self.ends[at] - moment + EPSILON:
                left -= self.ends[at] - moment
                at += 1
                moment = self.begins[at]
            return start, moment + left
        while start + lasts > self.ends[at]:
            at += 1
            start = self.begins[at]
        return start, start + lasts

    def around(self, moment: float) -> tuple[float, float, float, float]:
        """Give the stretch that is met from a moment: since when it is the next, its begin, end and stated end."""
        at = self.number(moment)
        opened = self.ends[at - 1] if at else -inf
        return opened, self.begins[at], self.ends[at], self.stated[at]

    def past(self, start: float, finish: float) -> bool:
        """Whether work goes on past the stated end of its stretch."""
        return finish > self.stated[self.number(start)]


def latest(floors: Column, columns: list[Column]) -> Column:
    """Take the latest of several columns, run by run; those that are never the latest are left out.

    Parameters
    ----------
    floors : list of float
        What each is at least, one a run. [min]
    columns : list of list of float
        What it waits for. [min]

    >>> latest([0.0, 5.0], [[3.0, 4.0], [1.0, 2.0]])
    [3.0, 5.0]
    """
    least = max(min(floors), *(min(one) for one in columns)) if columns else 0.0
    late = [one for one in (floors, *columns) if max(one) > least]
    if not late:
        return [least] * len(floors)
    if min(late[0]) >= least and len(late) == 1:
        return late[0]
    return list(map(max, *late, [least] * len(floors)))
