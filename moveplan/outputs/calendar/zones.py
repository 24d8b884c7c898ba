"""VTIMEZONE blocks of our own, from the time zone database that Python uses.

The library's own put every change to summer time an hour late, and differ from run to run.

Where the clock changes by one rule a year, the block says the rule (one STANDARD, one DAYLIGHT, no end);
elsewhere it lists the changes of the plan's years. RFC 5545, section 3.6.5: DTSTART and RDATE are wall-clock
times before the change, in TZOFFSETFROM.
"""

from __future__ import annotations

import calendar
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

from icalendar import Component, Timezone, TimezoneDaylight, TimezoneStandard, vRecur

from moveplan.times import MINUTES_A_DAY

_DAY_S = 60 * MINUTES_A_DAY
_STEP_S = 7 * _DAY_S  # no zone has changed forth and back within a week
_YEARS_AHEAD = 8
"""How long after the plan a rule must hold too: enough years to tell a fourth Sunday from a last one. [a]"""
_WEEKDAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")


_Kind = tuple[timedelta, timedelta]  # offsets before and after
_YearlyDay = tuple[str, time]  # recurrence rule, and wall-clock time before the change


@dataclass(frozen=True, slots=True)
class _Change:
    """One change of the clock: the wall time at which it comes, before it, and what it changes."""

    wall: datetime
    before: timedelta
    after: timedelta
    name: str

    @property
    def kind(self) -> _Kind:
        return self.before, self.after

    @property
    def days(self) -> frozenset[_YearlyDay]:
        """The rules that name its day, and the time of day with each."""
        weekday = _WEEKDAYS[self.wall.weekday()]
        nth = (self.wall.day - 1) // 7 + 1
        ways = {nth} if nth < 5 else set()
        if self.wall.day + 7 > calendar.monthrange(self.wall.year, self.wall.month)[1]:
            ways.add(-1)
        return frozenset(
            (f"FREQ=YEARLY;BYMONTH={self.wall.month};BYDAY={way}{weekday}", self.wall.time()) for way in ways
        )


@lru_cache(maxsize=64)
def timezone_component(zone: ZoneInfo, first_year: int, last_year: int) -> Component:
    """Make the VTIMEZONE of a zone, right for all times of some years.

    Parameters
    ----------
    zone : ZoneInfo
        A zone with a name.
    first_year, last_year : int
        First and last local year that has a time in the calendar.

    Returns
    -------
    Component
        The block; shared, so it must not be changed.

    References
    ----------
    RFC 5545, section 3.6.5; offsets from the IANA time zone database.
    """
    window = range(first_year - 1, last_year + 2)
    changes = [change for year in window for change in _changes(zone, year)]
    blocks = _by_rule(zone, window) if changes else _fixed(zone, first_year)
    described = Timezone()
    described.add("TZID", zone.key)
    for block in blocks or _by_date(zone, first_year, changes):
        described.add_component(block)
    return described


@lru_cache(maxsize=1024)
def _changes(zone: ZoneInfo, year: int) -> tuple[_Change, ...]:
    """List the changes of one UTC year."""
    found = []
    low = int(datetime(year, 1, 1, tzinfo=UTC).timestamp())
    end = int(datetime(year + 1, 1, 1, tzinfo=UTC).timestamp())
    while low < end:
        high = min(low + _STEP_S, end)
        if _offset(low, zone) != _offset(high, zone):
            found.append(_change(_onset(low, high, zone), zone))
        low = high
    return tuple(found)


def _offset(second: int, zone: ZoneInfo) -> timedelta:
    return datetime.fromtimestamp(second, zone).utcoffset() or timedelta()


def _onset(low: int, high: int, zone: ZoneInfo) -> int:
    """Find the first second with the new offset by bisection."""
    old = _offset(low, zone)
    while high - low > 1:
        middle = (low + high) // 2
        if _offset(middle, zone) == old:
            low = middle
        else:
            high = middle
    return high


def _change(second: int, zone: ZoneInfo) -> _Change:
    before, after = _offset(second - 1, zone), _offset(second, zone)
    wall = datetime.fromtimestamp(second, UTC).replace(tzinfo=None) + before
    return _Change(wall, before, after, datetime.fromtimestamp(second, zone).tzname() or zone.key)


def _by_rule(zone: ZoneInfo, window: range) -> tuple[Component, ...]:
    """Two blocks with rules; none where the changes follow no yearly rule through all years."""
    years = range(window.start, window.stop + _YEARS_AHEAD)
    days = _common_days([_changes(zone, year) for year in years])
    if not days:
        return ()
    start = window.start
    while longer := _common_days([_changes(zone, start - 1)], days):
        start, days = start - 1, longer
    return _by_onset(_block([change], min(days[change.kind])[0]) for change in _changes(zone, start))


def _common_days(
    years: Iterable[tuple[_Change, ...]], days: dict[_Kind, frozenset[_YearlyDay]] | None = None
) -> dict[_Kind, frozenset[_YearlyDay]]:
    """Find the rules that hold in all years and agree with earlier ones; empty where a change has none."""
    for changes in years:
        found = {change.kind: change.days for change in changes}
        if len(changes) != 2 or len(found) != 2 or (days is not None and found.keys() != days.keys()):
            return {}
        days = {kind: ways & (days[kind] if days else ways) for kind, ways in found.items()}
        if not all(days.values()):
            return {}
    return days or {}


def _by_date(zone: ZoneInfo, first_year: int, changes: list[_Change]) -> tuple[Component, ...]:
    """One block for each kind of change, with the days of the plan's years."""
    kinds: dict[tuple[_Kind, str], list[_Change]] = {}
    for change in changes:
        kinds.setdefault((change.kind, change.name), []).append(change)
    blocks = _by_onset(_block(same) for same in kinds.values())
    if changes[0].wall.year < first_year:
        return blocks
    return (*_fixed(zone, first_year), *blocks)


def _fixed(zone: ZoneInfo, first_year: int) -> tuple[Component, ...]:
    """Keep the offset with which the plan's years begin, for all time."""
    start = datetime(first_year - 1, 1, 1, tzinfo=UTC).astimezone(zone)
    offset = start.utcoffset() or timedelta()
    always = datetime(1970, 1, 1)  # noqa: DTZ001 - wall-clock time, as the property wants
    return (_block([_Change(always, offset, offset, start.tzname() or zone.key)]),)


def _block(changes: list[_Change], rule: str = "") -> Component:
    """Make a STANDARD or a DAYLIGHT, told apart by offsets: some zones call their summer the standard."""
    first, *others = changes
    block = TimezoneDaylight() if first.after > first.before else TimezoneStandard()
    block.add("DTSTART", first.wall)
    block.add("TZOFFSETFROM", first.before)
    block.add("TZOFFSETTO", first.after)
    block.add("TZNAME", first.name)
    if rule:
        block.add("RRULE", vRecur.from_ical(rule))
    for other in others:
        block.add("RDATE", [other.wall])  # some readers take one a line only
    return block


def _by_onset(blocks: Iterable[Component]) -> tuple[Component, ...]:
    return tuple(sorted(blocks, key=lambda block: block.get("DTSTART").dt))
