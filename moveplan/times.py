"""Instants as whole UTC minutes since 1970, and the way between them and local time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

MINUTES_A_DAY = 1440
"""Minutes of a day without a change of the clock. [min]"""
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True, order=True)
class Interval:
    """A half-open stretch of time ``[start, finish)``.

    Parameters
    ----------
    start, finish : int
        UTC minutes since 1970. [min]
    """

    start: int
    finish: int

    @property
    def minutes(self) -> int:
        """Length of the stretch in minutes."""
        return self.finish - self.start

    def overlaps(self, other: Interval) -> bool:
        """Tell whether the two share any time."""
        return self.start < other.finish and other.start < self.finish


def to_minutes(moment: datetime) -> int:
    """Turn an aware moment into UTC minutes, rounding down.

    >>> to_minutes(datetime(2027, 3, 13, 8, 0, tzinfo=UTC))
    30082080
    """
    if moment.tzinfo is None:
        msg = f"{moment} has no time zone"
        raise ValueError(msg)
    return int((moment - _EPOCH).total_seconds() // 60)


def to_local(minutes: int, zone: ZoneInfo) -> datetime:
    """Turn UTC minutes into local time of a zone.

    >>> to_local(30082080, ZoneInfo("Europe/Dublin")).isoformat()
    '2027-03-13T08:00:00+00:00'
    """
    return (_EPOCH + timedelta(minutes=minutes)).astimezone(zone)


def at_local(day: date, minute_of_day: int, zone: ZoneInfo) -> int:
    """UTC minutes of a wall-clock time; a skipped time moves on by the length of the gap.

    Parameters
    ----------
    day : date
        Local day.
    minute_of_day : int
        Minutes on the clock after midnight, 0 to 1440; 1440 is midnight of the next day. [min]

    >>> at_local(date(2027, 3, 13), 480, ZoneInfo("Europe/Dublin"))
    30082080
    """
    days, rest = divmod(minute_of_day, MINUTES_A_DAY)
    wall = datetime.combine(day + timedelta(days=days), time(rest // 60, rest % 60), tzinfo=zone)
    return to_minutes(wall)


def local_day(day: date, zone: ZoneInfo) -> Interval:
    """Give the local day from midnight to midnight: 23, 24 or 25 hours.

    >>> local_day(date(2027, 3, 28), ZoneInfo("Europe/Dublin")).minutes
    1380
    """
    return Interval(at_local(day, 0, zone), at_local(day, MINUTES_A_DAY, zone))


def minute_of_day(minutes: int, zone: ZoneInfo) -> int:
    """Give the time on the clock of a zone, counted from midnight.

    Parameters
    ----------
    minutes : int
        A moment, UTC. [min]

    Returns
    -------
    int
        Minutes after midnight. [min]
    """
    local = to_local(minutes, zone)
    return 60 * local.hour + local.minute


def iso(minutes: int, zone: ZoneInfo) -> str:
    """ISO 8601 with the UTC offset of the zone."""
    return to_local(minutes, zone).isoformat(timespec="seconds")


def told(minutes: int, zone: ZoneInfo) -> str:
    """Tell a moment to people, on the clock of a zone; an hour that comes twice says which one it is.

    >>> told(30082080, ZoneInfo("Europe/Dublin")), told(30415770, ZoneInfo("Europe/Dublin"))
    ('Sat 13 Mar 2027 08:00', 'Sun 31 Oct 2027 01:30 GMT')
    """
    local = to_local(minutes, zone)
    twice = local.replace(fold=1 - local.fold).utcoffset() != local.utcoffset()
    return f"{local:%a} {local.day} {local:%b %Y %H:%M}{f' {local:%Z}' if twice else ''}"
