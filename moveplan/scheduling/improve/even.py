"""Moves lead tasks from full weeks to empty ones, and else as near to their margin as goes; breaks no limit."""

from __future__ import annotations

from collections.abc import Callable

from moveplan.scheduling.construct.improve import try_on_day
from moveplan.scheduling.construct.search import Found
from moveplan.scheduling.construct.serial import Attempt, Scheme
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.objective.aims import better, dates, lead, values
from moveplan.scheduling.objective.weeks import WEEK_DAYS, Load, Weeks, weeks_of
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.frame import Frame
from moveplan.scheduling.state.tracks import NEVER

_ROUNDS = 4
"""Most rounds over all weeks. Chosen. [-]"""
_DAYS_TRIED = 12
"""Days that a task is tried on, the emptiest weeks first. Chosen. [-]"""


def scheme_of(frame: Frame, found: Found, desk: Desk) -> Scheme:
    """Take up a complete schedule, to move single tasks of it."""
    attempt = Attempt(tuple(map(float, frame.urgency)), found.days, (), found.margins)
    scheme = Scheme(frame, attempt, Meter(Effort()))
    for position, spot in enumerate(desk.spots):
        if spot is not None:
            scheme.desk.put(position, spot)
    return scheme


def evened(frame: Frame, found: Found) -> None:
    """Make the weeks of the best schedule more even, where that costs none of the aims before."""
    desk = found.desk
    weeks = None if desk is None else weeks_of(frame.model, [spot for spot in desk.spots if spot is not None])
    if desk is None or weeks is None:
        return
    evener = _Evener(scheme_of(frame, found, desk), weeks)
    for _ in range(_ROUNDS):
        if not evener.round():
            break
    keep(found, evener.scheme.desk)


def least_of(desk: Desk) -> int:
    """Bound of how uneven the weeks are that needs no search."""
    weeks = weeks_of(desk.model, [spot for spot in desk.spots if spot is not None])
    return 0 if weeks is None else weeks.least()


def valued(found: Found, desk: Desk) -> tuple[tuple[str, int], ...]:
    """Value another schedule by the aims that the best one is compared by."""
    names = dict(found.values)
    return tuple(row for row in values(desk, found.before) if row[0] in names)


def keep(found: Found, desk: Desk) -> None:
    """Take a schedule for the best where it is better by the aims that it is compared by."""
    now = valued(found, desk)
    if better(now, tuple(row for row in found.values if row[0] in dict(now))):
        found.desk, found.values = desk, now


class _Evener:
    """Tries one task after the other on other days."""

    def __init__(self, scheme: Scheme, weeks: Weeks) -> None:
        self.scheme = scheme
        self.model = scheme.model
        self.weeks = weeks
        self.worth = self._worth()

    def round(self) -> bool:
        """Try every task once, the greatest first; whether anything has moved."""
        order = sorted(self.weeks.loads, key=lambda load: (-load.work, load.position))
        tried = [self._moved(load) for load in order if not self.model.jobs[load.position].vehicles]
        return any(tried)

    def _moved(self, load: Load) -> bool:
        """Move a task to the first of some days that is better; its own where none is."""
        for day in self._days(load):
            old = self.scheme.desk.spots[load.position]
            if old is not None and try_on_day(self.scheme, load.position, day):
                if (now := self._worth()) < self.worth:
                    self.worth = now
                    return True
                self.scheme.desk.take(load.position)
                self.scheme.desk.put(load.position, old)
        return False

    def _spots(self) -> list[Spot]:
        return [spot for spot in self.scheme.desk.spots if spot is not None]

    def _worth(self) -> tuple[int, int, int]:
        spots = self._spots()
        return dates(self.model, spots), self.weeks.uneven(spots), lead(self.model, spots)

    def _days(self, load: Load) -> list[int]:
        """Give the days on which a task would do better, those that even most first, then the latest."""
        latest, last = self.scheme.ends(load.position)
        limit = min(latest, last - self.model.jobs[load.position].span.least)
        if limit >= NEVER:
            return []
        first = self.model.day_of(max(self.model.problem.start, self.scheme.bounds(load.position)[0]))
        own = self.model.day_of(self._spots()[load.position].start)
        gains = self._gains(load, own)
        days = [
            (-gains(day), -day)
            for day in range(first, self.model.day_of(limit) + 1)
            if gains(day) > 0 or (gains(day) == 0 and day > own)
        ]
        return [-day for _, day in sorted(days)[:_DAYS_TRIED]]

    def _gains(self, load: Load, own: int) -> Callable[[int], int]:
        """Give how much more even the weeks are with a task on a day."""
        by_week, even, end = self.weeks.by_week(self._spots()), self.weeks.even, self.weeks.end
        here = max(0, (end - 1 - own) // WEEK_DAYS)
        by_week[here] -= load.work
        left = max(0, by_week[here] + load.work - even) - max(0, by_week[here] - even)

        def gain(day: int) -> int:
            there = by_week.get(max(0, (end - 1 - day) // WEEK_DAYS), 0)
            return left - max(0, there + load.work - even) + max(0, there - even)

        return gain
