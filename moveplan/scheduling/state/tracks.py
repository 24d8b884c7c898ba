"""The diary of one person or vehicle: free hours, bookings, and where they are."""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort
from collections.abc import Mapping, Sequence

from moveplan.times import Interval

NEVER = 1 << 60
"""A moment after all others, of the size of a 64-bit number's half. [min]"""
Booking = tuple[int, int, str, str]
Drives = Mapping[tuple[str, str], int]


class Windows:
    """Disjoint stretches of time in order.

    Parameters
    ----------
    pieces : sequence of Interval
        Disjoint, in order. [min]
    """

    __slots__ = ("finishes", "starts")

    def __init__(self, pieces: Sequence[Interval]) -> None:
        self.starts = [piece.start for piece in pieces]
        self.finishes = [piece.finish for piece in pieces]

    def fit(self, moment: int, lasts: int) -> int:
        """Earliest start not before a moment at which so many minutes lie within one stretch."""
        at = bisect_right(self.starts, moment) - 1
        if at >= 0 and self.finishes[at] >= moment + lasts:
            return moment
        for later in range(at + 1, len(self.starts)):
            if self.finishes[later] - self.starts[later] >= lasts:
                return self.starts[later]
        return NEVER

    def walk(self, moment: int, lasts: int) -> list[tuple[int, int]]:
        """Stretches of work of so many minutes in all from a moment on; empty where time runs out."""
        at = max(0, bisect_right(self.starts, moment) - 1)
        left, work = lasts, []
        for place in range(at, len(self.starts)):
            begin = max(moment, self.starts[place])
            take = min(left, self.finishes[place] - begin)
            if take > 0 or (lasts == 0 and take == 0):
                work.append((begin, begin + take))
                left -= take
            if left == 0 and work:
                return work
        return []

    def common(self, other: Windows) -> Windows:
        """Give the time that both have."""
        pieces: list[Interval] = []
        one = two = 0
        while one < len(self.starts) and two < len(other.starts):
            begin = max(self.starts[one], other.starts[two])
            end = min(self.finishes[one], other.finishes[two])
            if begin < end:
                pieces.append(Interval(begin, end))
            if self.finishes[one] < other.finishes[two]:
                one += 1
            else:
                two += 1
        return Windows(pieces)


class Track:
    """What one person or vehicle does, in order, and where.

    Parameters
    ----------
    windows : Windows
        When they may be used. [min]
    home : str
        Where they are before the first booking; empty: wherever that is.
    start : int
        From when on they are there. [min]
    drives : mapping of (str, str) to int
        Minutes between places, both ways. [min]
    """

    __slots__ = (
        "booked",
        "bookings",
        "busy_from",
        "busy_until",
        "drives",
        "free_from",
        "free_until",
        "home",
        "start",
        "windows",
    )

    def __init__(self, windows: Windows, home: str, start: int, drives: Drives) -> None:
        self.windows = windows
        self.home = home
        self.start = start
        self.drives = drives
        self.bookings: list[Booking] = []
        self.booked = 0
        self.busy_from: list[int] = []
        self.busy_until: list[int] = []
        self.free_from = list(windows.starts)
        self.free_until = list(windows.finishes)

    def add(self, booking: Booking) -> None:
        """Write a booking in; it must fit."""
        insort(self.bookings, booking)
        self.booked += booking[1] - booking[0]
        self._cover(booking[0], booking[1])
        self._cut(booking[0], booking[1])

    def remove(self, booking: Booking) -> None:
        """Strike a booking out."""
        del self.bookings[bisect_left(self.bookings, booking)]
        self.booked -= booking[1] - booking[0]
        if booking[1] > booking[0]:
            self._uncover(booking[0])
            self._mend(booking[0], booking[1])

    def _cut(self, start: int, finish: int) -> None:
        """Take a stretch out of what is free."""
        if finish <= start:
            return
        first = bisect_right(self.free_until, start)
        last = bisect_left(self.free_from, finish)
        if first >= last:
            return
        begin, end = self.free_from[first], self.free_until[last - 1]
        left, right = begin < start, end > finish
        self.free_from[first:last] = [begin] * left + [finish] * right
        self.free_until[first:last] = [start] * left + [end] * right

    def _mend(self, start: int, finish: int) -> None:
        """Work out anew what is free around a stretch that was given back."""
        starts, finishes = self.windows.starts, self.windows.finishes
        earlier, later = bisect_right(self.busy_until, start), bisect_left(self.busy_from, finish)
        begins, ends = bisect_right(starts, start) - 1, bisect_right(starts, finish)
        low = max(
            self.busy_until[earlier - 1] if earlier else -NEVER, starts[begins] if begins >= 0 else start
        )
        high = min(
            self.busy_from[later] if later < len(self.busy_from) else NEVER,
            max(finish, finishes[ends - 1]) if ends else finish,
        )
        first, last = bisect_right(self.free_until, low), bisect_left(self.free_from, high)
        pieces: list[tuple[int, int]] = []
        for at in range(max(0, begins), ends):
            moment, end = max(low, starts[at]), min(high, finishes[at])
            for busy in range(earlier, later):
                if moment < min(self.busy_from[busy], end):
                    pieces.append((moment, min(self.busy_from[busy], end)))
                moment = max(moment, self.busy_until[busy])
            if moment < end:
                pieces.append((moment, end))
        self.free_from[first:last] = [begin for begin, _ in pieces]
        self.free_until[first:last] = [end for _, end in pieces]

    def idle(self, moment: int) -> int:
        """First free minute not before a moment."""
        at = bisect_right(self.free_until, moment)
        return max(moment, self.free_from[at]) if at < len(self.free_from) else NEVER

    def _cover(self, start: int, finish: int) -> None:
        """Note a stretch as busy, joined with those that it touches."""
        if finish <= start:
            return
        first = bisect_left(self.busy_until, start)
        last = bisect_right(self.busy_from, finish)
        if first < last:
            start = min(start, self.busy_from[first])
            finish = max(finish, self.busy_until[last - 1])
        self.busy_from[first:last] = [start]
        self.busy_until[first:last] = [finish]

    def _uncover(self, moment: int) -> None:
        """Note anew the busy stretches of the block around a moment."""
        at = bisect_right(self.busy_from, moment) - 1
        start, finish = self.busy_from.pop(at), self.busy_until.pop(at)
        here = bisect_left(self.bookings, (start,))
        while here < len(self.bookings) and self.bookings[here][0] < finish:
            self._cover(self.bookings[here][0], self.bookings[here][1])
            here += 1

    def _idle(self, moment: int, lasts: int) -> int:
        """Earliest start not before a moment at which so many minutes are not booked."""
        at = bisect_right(self.busy_until, moment)
        while at < len(self.busy_from) and self.busy_from[at] < moment + lasts:
            moment = self.busy_until[at]
            at += 1
        return moment

    def _open(self, moment: int, lasts: int) -> int:
        """Earliest start not before a moment at which so many minutes are free."""
        starts, finishes = self.free_from, self.free_until
        at = bisect_right(finishes, moment)
        while at < len(starts):
            begin = max(moment, starts[at])
            if finishes[at] - begin >= lasts:
                return begin
            at += 1
        return NEVER

    def earliest(self, moment: int, lasts: int, place: str, ends_at: str) -> int:
        """Earliest start not before a moment at which so many minutes fit, drives included."""
        while lasts > 0 and moment < NEVER:
            moment = self._open(moment, lasts)
            if moment >= NEVER or not self.drives:
                return moment
            later = self.conflict(moment, moment + lasts, place, ends_at)
            if later <= moment:
                return moment
            moment = later
        while moment < NEVER:
            moment = self.windows.fit(moment, lasts)
            if moment >= NEVER:
                return NEVER
            idle = self._idle(moment, lasts)
            if idle > moment:
                moment = idle
                continue
            later = self.conflict(moment, moment + lasts, place, ends_at)
            if later <= moment:
                return moment
            moment = later
        return NEVER

    def conflict(self, start: int, finish: int, place: str, ends_at: str) -> int:
        """From when on to try again where a stretch collides with a booking or a drive; else ``start``."""
        bookings = self.bookings
        at = bisect_left(bookings, (start, finish))
        if at and bookings[at - 1][1] > start:
            return bookings[at - 1][1]
        if at < len(bookings) and bookings[at][0] < finish:
            return bookings[at][1]
        return self._driven(at, start, finish, place, ends_at) if self.drives else start

    def _driven(self, at: int, start: int, finish: int, place: str, ends_at: str) -> int:
        """As ``conflict``, for the drives before and after a stretch inserted at a position."""
        bookings = self.bookings
        here = self._whereabouts(at)
        arrival = bookings[at - 1][1] if at else self.start
        if place:
            arrival += self.drives.get((here, place), 0)
            if arrival > start:
                return arrival
        after = ends_at or here
        for later in range(at, len(bookings)):
            begin, _, goes_to, _ = bookings[later]
            if goes_to:
                leaves = bookings[later - 1][1] if later > at else finish
                if leaves + self.drives.get((after, goes_to), 0) > begin:
                    return max(start + 1, bookings[at][1])
                break
        return start

    def _whereabouts(self, at: int) -> str:
        """Where they are after the bookings before a position."""
        for earlier in range(at - 1, -1, -1):
            if self.bookings[earlier][3]:
                return self.bookings[earlier][3]
        return self.home
