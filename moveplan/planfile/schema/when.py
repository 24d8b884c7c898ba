"""Dates and times of the plan file."""

from __future__ import annotations

import re
from calendar import month_name, monthrange
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, timezone
from typing import Annotated, Any, TypeAlias
from zoneinfo import ZoneInfo

from moveplan.planfile.schema.leaves import Leaf
from moveplan.planfile.schema.refusals import RefusedError, refusal
from moveplan.times import MINUTES_A_DAY, at_local, to_minutes
from moveplan.units import quoted

_YEARS = (2000, 2199)
"""First and last year of a date in a plan. Chosen. [a]"""
_DAY = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})(?::[0-9]{2}(?:\.[0-9]+)?)?")
_OFFSET = re.compile(r"(.*[0-9])\s*(Z|z|[+-][0-9]{2}:?[0-9]{2})", re.DOTALL)
_TO = re.compile(r"\s+to\s+|\s*–\s*")
_YEAR = timedelta(days=366)
_SAMPLE_DAY = "2027-03-13"
_DATE = r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}"
_TIME = r"[0-9]{1,2}:[0-9]{2}(:[0-9]{2}(\.[0-9]+)?)?\s*([zZ]|[+-][0-9]{2}:?[0-9]{2})?"
DAY_FORM: dict[str, Any] = {"type": "string", "pattern": rf"^\s*{_DATE}\s*$"}
SPAN_FORM = rf"^\s*{_DATE}((\s+to\s+|\s*–\s*){_DATE})?\s*$"
"""Dates as JSON Schema describes them."""


def day_of(text: str) -> date:
    """Read a date, year first.

    >>> day_of("2027-03-13")
    datetime.date(2027, 3, 13)
    """
    shown = text.strip()
    parts = _DAY.fullmatch(shown)
    if parts is None:
        message = f"{quoted(text)} is not a date" if shown else "has no value"
        raise refusal(message, f'write year-month-day, for example "{_SAMPLE_DAY}"')
    year, month, day = map(int, parts.groups())
    if not _YEARS[0] <= year <= _YEARS[1]:
        raise refusal(f"{shown} is out of range", f"write a year from {_YEARS[0]} to {_YEARS[1]}")
    if not 1 <= month <= 12:
        raise refusal(f"{shown} is not a date", "a year has 12 months")
    if not 1 <= day <= monthrange(year, month)[1]:
        raise refusal(
            f"{shown} is not a date", f"{month_name[month]} {year} has {monthrange(year, month)[1]} days"
        )
    return date(year, month, day)


def minute_of(text: str) -> int:
    """Read a time of day, 00:00 to 24:00, as minutes after midnight.

    >>> minute_of("18:30")
    1110
    """
    parts = _CLOCK.fullmatch(text.strip())
    minute = int(parts[1]) * 60 + int(parts[2]) if parts else -1
    if parts is None or int(parts[2]) > 59 or not 0 <= minute <= MINUTES_A_DAY:
        message = f"{quoted(text)} is not a time of day" if text.strip() else "has no value"
        raise refusal(message, 'write hours and minutes, for example "18:30"')
    return minute


@dataclass(frozen=True, slots=True)
class Wall:
    """A day and a time on the clock; the zone is the plan's unless the text has an offset of its own.

    Parameters
    ----------
    minute : int
        After midnight, 0 to 1440. [min]
    offset : timezone or None
        Offset from UTC written behind the time.
    timed : bool
        Whether a time of day was written.
    """

    day: date
    minute: int
    offset: timezone | None = None
    timed: bool = False

    def at(self, zone: ZoneInfo) -> int:
        """UTC minutes of this time in a zone."""
        if self.offset is None:
            return at_local(self.day, self.minute, zone)
        midnight = datetime.combine(self.day, time.min, tzinfo=self.offset)
        return to_minutes(midnight + timedelta(minutes=self.minute))


def wall_of(text: str, bare_minute: int) -> Wall:
    """Read a date with or without a time.

    Parameters
    ----------
    text : str
        Such as ``2027-03-11 12:00``.
    bare_minute : int
        Time of day where only a date is written. [min]
    """
    day_text, gap, clock = text.strip().replace("T", " ", 1).partition(" ")
    day = day_of(day_text) if day_text else day_of(text)
    if not gap:
        return Wall(day, bare_minute)
    offset = None
    parts = _OFFSET.fullmatch(clock)
    if parts:
        clock, offset = parts[1], _offset_of(parts[2])
    try:
        return Wall(day, minute_of(clock), offset, timed=True)
    except RefusedError:
        example = f'write day and time, for example "{day} 18:30"'
        raise refusal(f"{quoted(clock)} is not a time of day", example) from None


def _offset_of(text: str) -> timezone:
    if text in {"Z", "z"}:
        return UTC
    minutes = int(text[1:3]) * 60 + int(text[-2:])
    if minutes > 14 * 60 or int(text[-2:]) > 59:
        raise refusal(
            f"{quoted(text)} is not an offset from UTC", "leave it out for a time in the plan's zone"
        )
    return timezone(timedelta(minutes=-minutes if text[0] == "-" else minutes))


def span_of(text: str) -> tuple[date, date]:
    """Read a date, or two dates with ``to`` between them.

    >>> span_of("2027-02-13 to 2027-02-14")[1]
    datetime.date(2027, 2, 14)
    """
    first, *rest = _TO.split(text.strip(), maxsplit=1)
    begin = day_of(first)
    end = day_of(rest[0]) if rest else begin
    if end < begin:
        raise refusal(f"{quoted(text)} ends before it begins", f'write "{end} to {begin}"')
    return begin, end


@dataclass(frozen=True)
class DayLeaf(Leaf[date]):
    """A date."""

    def read(self, text: str) -> date:
        """Read the date."""
        return day_of(text)

    def json(self) -> dict[str, Any]:
        """Describe the date."""
        return {**DAY_FORM, "examples": [_SAMPLE_DAY]}


@dataclass(frozen=True)
class MomentLeaf(Leaf[Wall]):
    """A date with a time; a date alone is its beginning, or its end."""

    end: bool = False

    def read(self, text: str) -> Wall:
        """Read date and time."""
        return wall_of(text, MINUTES_A_DAY if self.end else 0)

    def json(self) -> dict[str, Any]:
        """Describe the moment."""
        pattern = rf"^\s*{_DATE}((T|\s+){_TIME})?\s*$"
        return {"type": "string", "pattern": pattern, "examples": [f"{_SAMPLE_DAY} 12:00"]}


@dataclass(frozen=True)
class SpanLeaf(Leaf[tuple[date, date]]):
    """Days from one date to another, a year at most."""

    def read(self, text: str) -> tuple[date, date]:
        """Read both dates."""
        first, last = span_of(text)
        if last - first > _YEAR:
            latest = first + _YEAR
            raise refusal(f"{quoted(text)} is longer than a year", f'write for example "{first} to {latest}"')
        return first, last

    def json(self) -> dict[str, Any]:
        """Describe the span."""
        return {"type": "string", "pattern": SPAN_FORM, "examples": ["2027-03-06 to 2027-03-28"]}


Day: TypeAlias = Annotated[date, DayLeaf()]
Begin: TypeAlias = Annotated[Wall, MomentLeaf()]
End: TypeAlias = Annotated[Wall, MomentLeaf(end=True)]
Span: TypeAlias = Annotated[tuple[date, date], SpanLeaf()]
