"""Days and times as people of the plan's zone and locale say them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time
from functools import lru_cache

from babel import Locale
from babel.dates import format_date, format_skeleton, format_time

from moveplan.outputs.printed.keeper import Keeper
from moveplan.times import Interval, iso, to_local

_STAMP = re.compile(
    r"\b(?P<day>\d{4}-\d\d-\d\d)(?: (?P<at>\d\d:\d\d))?(?: (?P<word>to|and) (?P<until>\d\d:\d\d))?(?![\d-])(?!:\d)"
)


@dataclass(frozen=True, slots=True)
class Dates(Keeper):
    """Prints moments, which are minutes in UTC, and stretches of them. [min]."""

    def day(self, minutes: int) -> str:
        """Print the local day in full."""
        return format_date(self._local(minutes), "full", self.locale)

    def calendar_day(self, day: date) -> str:
        """Print a local day in full."""
        return format_date(day, "full", self.locale)

    def short_day(self, minutes: int) -> str:
        """Print weekday, day and month of a moment, and the year where it is not the plan's."""
        local = self._local(minutes)
        return _day_of(self._skeleton(local.year), local.date(), self.locale)

    def month_day(self, minutes: int) -> str:
        """Print day and month of a moment, beside a picture of whose days others say the year."""
        return format_skeleton("MMMd", self._local(minutes), locale=self.locale)

    def clock(self, minutes: int) -> str:
        """Print the time on the clock."""
        return _time_of(self._local(minutes).time(), self.locale)

    def full_hour(self, minutes: int) -> str:
        """Print an hour on the clock beside a picture: without its minutes where morning or evening is said."""
        text = self.clock(minutes)
        return text.replace(":00", "") if text[-1:].isalpha() else text

    def moment(self, minutes: int) -> str:
        """Print day and time."""
        return f"{self.short_day(minutes)}, {self.clock(minutes)}"

    def stamp(self, minutes: int) -> str:
        """Print a moment for machines, ISO 8601 with the offset of the zone."""
        return iso(minutes, self.project.plan.zone)

    def span(self, span: Interval) -> str:
        """Print from when to when; the second day only where it is another."""
        if not span.minutes:
            return self.clock(span.start)
        same = self._local(span.start).date() == self._local(span.finish).date()
        return f"{self.clock(span.start)} – {self.clock(span.finish) if same else self.moment(span.finish)}"

    def by(self, minutes: int) -> str:
        """Print a moment that is not known to the minute, up to the next five."""
        return self.moment(-(-minutes // 5) * 5)

    def until(self, minutes: int) -> str:
        """Print a moment after which it is too late, down to the last five minutes; midnight ends the day before."""
        last = minutes // 5 * 5
        local = self._local(last)
        return (
            self.moment(last) if local.hour or local.minute else f"{self.short_day(last - 1)}, end of the day"
        )

    def by_on(self, minutes: int, spans: Iterable[Interval], said: int | None = None) -> str:
        """Print a moment up to the next five, without its day where the only span or ``said`` has the same."""
        known = [span.start for span in spans]
        days = {
            self._local(one).date() for one in (*(known if len(known) == 1 else ()), said) if one is not None
        }
        same = self._local(minutes).date() in days
        return self.clock(-(-minutes // 5) * 5) if same else self.by(minutes)

    def with_dates(self, text: str) -> str:
        """Tell the dates in a sentence, which stand there as ISO 8601 has them, as people say them."""
        return _STAMP.sub(self._dated, text)

    def _dated(self, found: re.Match[str]) -> str:
        try:
            day = date.fromisoformat(found["day"])
            times = [time.fromisoformat(found[name]) for name in ("at", "until") if found[name]]
        except ValueError:  # looks like a date and is none
            return found[0]
        clocks = [_time_of(one, self.locale) for one in times]
        until = f" {found['word']} {clocks[-1]}" if found["until"] else ""
        return _day_of(self._skeleton(day.year), day, self.locale) + (
            f", {clocks[0]}{until}" if found["at"] else until
        )

    def _skeleton(self, year: int) -> str:
        return "MMMEd" if year == self._local(self.project.plan.now).year else "yMMMEd"

    def _local(self, minutes: int) -> datetime:
        return to_local(minutes, self.project.plan.zone).replace(tzinfo=None)


# The same days and times are printed on every page of every document.
@lru_cache(maxsize=4096)
def _day_of(skeleton: str, day: date, locale: Locale) -> str:
    return format_skeleton(skeleton, datetime.combine(day, time()), locale=locale)


@lru_cache(maxsize=4096)
def _time_of(moment: time, locale: Locale) -> str:
    return format_time(moment, "short", locale=locale)
