"""How much of one kind of gear is in use at each moment."""

from __future__ import annotations

from bisect import bisect_right

from moveplan.scheduling.state.tracks import NEVER


class Stock:
    """A step function of time: how many are in use.

    Parameters
    ----------
    count : int
        How many there are.
    """

    __slots__ = ("count", "levels", "times")

    def __init__(self, count: int) -> None:
        self.count = count
        self.times = [-NEVER]
        self.levels = [0]

    def _cut(self, moment: int) -> int:
        at = bisect_right(self.times, moment) - 1
        if self.times[at] == moment:
            return at
        self.times.insert(at + 1, moment)
        self.levels.insert(at + 1, self.levels[at])
        return at + 1

    def add(self, start: int, finish: int, number: int) -> None:
        """Take so many out of stock for a while; a negative number puts them back."""
        if finish <= start:
            return
        first = self._cut(start)
        last = self._cut(finish)
        levels = self.levels
        for at in range(first, last):
            levels[at] += number
        if number < 0:
            self._tidy(first, last)

    def _tidy(self, first: int, last: int) -> None:
        for at in range(min(last, len(self.times) - 1), max(0, first - 1), -1):
            if self.levels[at] == self.levels[at - 1]:
                del self.times[at], self.levels[at]

    def earliest(self, moment: int, lasts: int, number: int) -> int:
        """Earliest start not before a moment at which so many are free for so many minutes."""
        if lasts <= 0:
            return moment
        most = self.count - number
        if most < 0:
            return NEVER
        times, levels = self.times, self.levels
        at = bisect_right(times, moment) - 1
        while at < len(times) and times[at] < moment + lasts:
            if levels[at] > most:
                if at + 1 == len(times):
                    return NEVER
                moment = times[at + 1]
            at += 1
        return moment

    def clear_from(self, moment: int, until: int, number: int) -> int:
        """Earliest start not before a moment from which on so many stay free until a fixed end."""
        most = self.count - number
        if most < 0:
            return NEVER
        for at in range(len(self.times) - 1, -1, -1):
            end = self.times[at + 1] if at + 1 < len(self.times) else NEVER
            if end <= moment:
                break
            if self.times[at] < until and self.levels[at] > most:
                return end
        return moment

    def short_from(self, moment: int) -> int:
        """First moment not before another at which more are out than there are."""
        rows = zip(self.times, self.levels, strict=True)
        return next(
            (max(at, moment) for at, level in rows if level > self.count and self._ends(at) > moment), NEVER
        )

    def _ends(self, begin: int) -> int:
        at = bisect_right(self.times, begin)
        return self.times[at] if at < len(self.times) else NEVER
