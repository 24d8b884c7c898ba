"""Working hours and absences as recurrence rules, and the free time that follows from them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from dateutil.rrule import rrulestr

from moveplan.times import Interval, at_local, local_day


@dataclass(frozen=True, slots=True)
class HoursRule:
    """Hours that come back by a recurrence rule.

    Parameters
    ----------
    rule : str
        RFC 5545 recurrence rule without DTSTART, such as ``FREQ=WEEKLY;BYDAY=SA,SU``.
    from_minute, to_minute : int
        Wall-clock minutes after midnight, ``0 <= from < to <= 2880``; past 1440 is the next day. [min]
    """

    rule: str
    from_minute: int
    to_minute: int


@dataclass(frozen=True, slots=True)
class Absence:
    """Whole local days off, first and last included.

    Parameters
    ----------
    first, last : date
        Local days.
    rule : str
        Where not empty, the absence comes back by this RFC 5545 rule, from ``first`` on until
        ``last``.
    """

    first: date
    last: date
    rule: str = ""


def _days_of(rule: str, first: date, last: date) -> Iterator[date]:
    begin = datetime.combine(first, datetime.min.time())
    end = datetime.combine(last, datetime.min.time())
    for moment in rrulestr(rule, dtstart=begin).between(begin, end, inc=True):
        yield moment.date()


def days_off(absences: Iterable[Absence], first: date, last: date) -> frozenset[date]:
    """List the local days of absence between two days, both included."""
    days: set[date] = set()
    for absence in absences:
        begin, end = max(absence.first, first), min(absence.last, last)
        if absence.rule:
            days.update(day for day in _days_of(absence.rule, absence.first, end) if day >= begin)
        else:
            days.update(begin + timedelta(days=n) for n in range((end - begin).days + 1))
    return frozenset(days)


def merged(intervals: Iterable[Interval]) -> tuple[Interval, ...]:
    """Sort stretches and join those that touch.

    >>> merged([Interval(5, 9), Interval(0, 5), Interval(20, 30)])
    (Interval(start=0, finish=9), Interval(start=20, finish=30))
    """
    joined: list[Interval] = []
    for piece in sorted(intervals):
        if piece.finish <= piece.start:
            continue
        if joined and piece.start <= joined[-1].finish:
            joined[-1] = Interval(joined[-1].start, max(joined[-1].finish, piece.finish))
        else:
            joined.append(piece)
    return tuple(joined)


def without(intervals: Iterable[Interval], holes: Iterable[Interval]) -> tuple[Interval, ...]:
    """Take stretches of time out of others.

    >>> without([Interval(0, 10)], [Interval(3, 4)])
    (Interval(start=0, finish=3), Interval(start=4, finish=10))
    """
    taken, rest, first = merged(holes), list[Interval](), 0
    for whole in merged(intervals):
        while first < len(taken) and taken[first].finish <= whole.start:
            first += 1
        free = whole.start
        for at in range(first, len(taken)):
            if taken[at].start >= whole.finish:
                break
            if taken[at].start > free:
                rest.append(Interval(free, taken[at].start))
            free = max(free, taken[at].finish)
        if free < whole.finish:
            rest.append(Interval(free, whole.finish))
    return tuple(rest)


def inset(intervals: Iterable[Interval], minutes: int) -> tuple[Interval, ...]:
    """Take a time off both ends of each stretch.

    Parameters
    ----------
    intervals : iterable of Interval
        Stretches of time. [min]
    minutes : int
        Taken off at each end, 0 or more. [min]

    >>> inset([Interval(0, 60), Interval(100, 120)], 10)
    (Interval(start=10, finish=50),)
    """
    return tuple(
        Interval(one.start + minutes, one.finish - minutes) for one in intervals if one.minutes > 2 * minutes
    )


def free_time(
    rules: Iterable[HoursRule],
    absences: Iterable[Absence],
    first: date,
    last: date,
    zone: ZoneInfo,
) -> tuple[Interval, ...]:
    """Expand working hours between two local days, absences taken out.

    Parameters
    ----------
    rules : iterable of HoursRule
        Working hours.
    absences : iterable of Absence
        Days off.
    first, last : date
        Local days, both included.
    zone : ZoneInfo
        Time zone of the hours.

    Returns
    -------
    tuple of Interval
        Disjoint, in order, UTC. [min]
    """
    off = days_off(absences, first, last)
    pieces = [
        Interval(at_local(day, rule.from_minute, zone), at_local(day, rule.to_minute, zone))
        for rule in rules
        for day in _days_of(rule.rule, first, last)
        if day not in off
    ]
    return without(pieces, [local_day(day, zone) for day in sorted(off)])
