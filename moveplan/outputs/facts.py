"""Values as documents show them: dates in the plan's zone and locale, quantities in the keeper's units."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from functools import lru_cache
from typing import Any

from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_skeleton, format_time
from babel.numbers import format_currency, format_decimal

from moveplan import units
from moveplan.cost.summary import CostLine
from moveplan.estimate import Estimate, Provenance
from moveplan.outputs.names import Names
from moveplan.practice.pour_words import listing, runs
from moveplan.practice.project import Project
from moveplan.times import Interval, iso, to_local

_SHOWN_IN: Mapping[str, Callable[[float, str], str]] = {
    "l": units.show_volume,
    "kg": units.show_mass,
    "m": units.show_length,
    "km": units.show_distance,
    "°C": units.show_temperature,
    "bar": units.show_pressure,
    "l/h": units.show_flow,
    "l/day": units.show_rate,
    "kPa": lambda value, spoken: units.retold(f"{round(value, 2):g} kPa", spoken),
}
_LARGE_UNITS_MIN = (10_080, 1440, 60)
"""A week, a day, an hour. [min]"""
_CENT = Decimal("0.01")
_MILL = Decimal("0.001")
_COUNTED = ("day", "hour", "item", "set", "month", "trip", "week", "mile")
"""Units of the bill that are words. [-]"""
_SOLD_IN = {
    "l": ("US gal", Decimal("3.785411784")),
    "kg": ("lb", Decimal("0.45359237")),
    "km": ("mile", Decimal("1.609344")),
}
"""Metric units of the bill as a US plan tells them; exact by definition (NIST Handbook 44, appendix C). [-]"""
_ROUNDED_TO = ((200, 5), (1000, 10), (5000, 50), (20_000, 100), (Decimal("Infinity"), 1000))
"""Up to which amount money is told in which steps: no finer than the prices and hours behind it; assumed. [-]"""
_STAMP = re.compile(
    r"\b(?P<day>\d{4}-\d\d-\d\d)(?: (?P<at>\d\d:\d\d))?(?: (?P<word>to|and) (?P<until>\d\d:\d\d))?(?![\d-])(?!:\d)"
)
_QUOTED = re.compile(r"(\"[^\"]*\")")
"""What is to be written into a plan file stands between such quotes, in the words of the file."""
_SIZE = re.compile(r"(?<=× )(?P<amount>\d+(?:\.\d+)?) (?P<unit>l|US gal)\b")
_OTHER = {"metric": "us", "us": "metric"}


@dataclass(frozen=True, slots=True)
class Facts:
    """Prints the values of one project.

    Parameters
    ----------
    project : Project
        Where zone, locale, units, currency and names come from.
    locale : Locale
        The locale that dates and numbers are printed in.
    """

    project: Project
    locale: Locale

    def day(self, minutes: int) -> str:
        """Print the local day in full.

        Parameters
        ----------
        minutes : int
            A moment, UTC. [min]
        """
        return format_date(self._local(minutes), "full", self.locale)

    def calendar_day(self, day: date) -> str:
        """Print a local day in full."""
        return format_date(day, "full", self.locale)

    def short_day(self, minutes: int) -> str:
        """Print weekday, day and month of a moment, and the year where it is not the plan's.

        Parameters
        ----------
        minutes : int
            A moment, UTC. [min]
        """
        local = self._local(minutes)
        return _day_of(self._skeleton(local.year), local.date(), self.locale)

    def clock(self, minutes: int) -> str:
        """Print the time on the clock.

        Parameters
        ----------
        minutes : int
            A moment, UTC. [min]
        """
        return _time_of(self._local(minutes).time(), self.locale)

    def moment(self, minutes: int) -> str:
        """Print day and time.

        Parameters
        ----------
        minutes : int
            A moment, UTC. [min]
        """
        return f"{self.short_day(minutes)}, {self.clock(minutes)}"

    def stamp(self, minutes: int) -> str:
        """Print a moment for machines, ISO 8601 with the offset of the zone.

        Parameters
        ----------
        minutes : int
            A moment, UTC. [min]
        """
        return iso(minutes, self.project.plan.zone)

    def span(self, span: Interval) -> str:
        """Print from when to when; the second day only where it is another.

        Parameters
        ----------
        span : Interval
            A stretch of time, UTC. [min]
        """
        if not span.minutes:
            return self.clock(span.start)
        same = self._local(span.start).date() == self._local(span.finish).date()
        return f"{self.clock(span.start)} – {self.clock(span.finish) if same else self.moment(span.finish)}"

    def amount(self, value: Estimate) -> str:
        """Print the likely value in the keeper's units.

        Parameters
        ----------
        value : Estimate
            Any estimate.
        """
        return self._in_unit(value.likely, value)

    def spread(self, value: Estimate) -> tuple[str, str]:
        """Print the low and the high end in the keeper's units.

        Parameters
        ----------
        value : Estimate
            Any estimate.
        """
        return self._in_unit(value.low, value), self._in_unit(value.high, value)

    def duration(self, minutes: float) -> str:
        """Print a duration.

        Parameters
        ----------
        minutes : float
            Any length of time. [min]
        """
        return units.show_duration(round(minutes))

    def nearly(self, minutes: float) -> str:
        """Print a duration that was computed, no finer than it is known.

        Parameters
        ----------
        minutes : float
            Any length of time. [min]
        """
        return units.show_nearly(minutes)

    def within(self, minutes: float) -> str:
        """Print how long something is safe, no finer than it is known and never longer.

        Parameters
        ----------
        minutes : float
            Any length of time. [min]
        """
        return units.show_within(minutes)

    def roughly(self, minutes: float) -> str:
        """Print a duration by its largest unit alone, rounded down, where it is twice that unit or longer.

        Parameters
        ----------
        minutes : float
            Any length of time. [min]
        """
        unit = next((unit for unit in _LARGE_UNITS_MIN if minutes >= 2 * unit), 1)
        return units.show_duration(int(minutes // unit) * unit)

    def mass(self, mass_kg: float) -> str:
        """Print a mass in the keeper's units.

        Parameters
        ----------
        mass_kg : float
            Mass. [kg]
        """
        return units.show_mass(mass_kg, self.project.plan.units)

    def dimension(self, length_m: float) -> str:
        """Print a length in the keeper's units.

        Parameters
        ----------
        length_m : float
            Length. [m]
        """
        return units.show_length(length_m, self.project.plan.units)

    def temperature(self, temperature_c: float) -> str:
        """Print a temperature in the keeper's units.

        Parameters
        ----------
        temperature_c : float
            Temperature. [°C]
        """
        return units.show_temperature(temperature_c, self.project.plan.units)

    def other_temperature(self, temperature_c: float) -> str:
        """Print a temperature in the units that the plan does not use.

        Parameters
        ----------
        temperature_c : float
            Temperature. [°C]
        """
        return units.show_temperature(temperature_c, _OTHER[self.project.plan.units])

    def volume(self, litres: float) -> str:
        """Print a volume in the plan's units.

        Parameters
        ----------
        litres : float
            Volume. [l]
        """
        return units.show_volume(litres, self.project.plan.units)

    def numbers(self, numbers: Iterable[str]) -> str:
        """List numbers of containers, those that follow each other as a run.

        Parameters
        ----------
        numbers : iterable of str
            Such as ``X1``.
        """
        return listing(runs(numbers))

    def both_volumes(self, container: str) -> str:
        """Add the size in the other units to the words of a container, such as ``2 × 12 l bag``.

        Parameters
        ----------
        container : str
            As the plan's units have it.
        """
        found = _SIZE.search(container)
        factor = units.unit_factor(found["unit"], "volume") if found else None
        if found is None or factor is None:
            return container
        other = units.show_volume(float(found["amount"]) * float(factor), _OTHER[self.project.plan.units])
        return f"{container[: found.end()]} ({other}){container[found.end() :]}"

    def money(self, amount: Decimal) -> str:
        """Print money as people round it: without cents.

        Parameters
        ----------
        amount : Decimal
            How much.
        """
        whole = amount.to_integral_value(ROUND_HALF_UP)
        if not whole and amount:
            return f"under {self._whole(Decimal(1))}"
        return _signed(self._whole(whole))

    def price(self, amount: Decimal) -> str:
        """Print a price as it was given or assumed, parts of a cent included.

        Parameters
        ----------
        amount : Decimal
            How much.
        """
        exact = amount == amount.quantize(_CENT)
        return _signed(
            format_currency(
                amount, self.project.plan.currency, locale=self.locale, decimal_quantization=exact
            )
        )

    def billed(self, line: CostLine) -> tuple[str, str]:
        """Print how much of something is paid for, and what one unit of it costs, in the keeper's units."""
        unit, per = (
            _SOLD_IN.get(line.unit, (line.unit, Decimal(1))) if self._is_us else (line.unit, Decimal(1))
        )
        quantity = line.quantity / per
        plural = "s" if unit in _COUNTED and quantity != 1 else ""
        price = line.unit_price * per
        if per != 1:
            price = price.quantize(_MILL if price < 1 else _CENT)
        return f"{self.number(quantity)} {unit}{plural}", self.price(price)

    @property
    def _is_us(self) -> bool:
        return self.project.plan.units == "us"

    def number(self, value: float | Decimal) -> str:
        """Print a number without a unit, two decimal places at most.

        Parameters
        ----------
        value : float or Decimal
            Any number.
        """
        return _signed(format_decimal(value, "#,##0.##", locale=self.locale))

    def share(self, share: float) -> str:
        """Print a fraction of one as percent.

        Parameters
        ----------
        share : float
            Fraction of one.
        """
        return units.show_share(share)

    def odds(self, share: float) -> str:
        """Print a chance as people say it, such as one in forty.

        Parameters
        ----------
        share : float
            Fraction of one.
        """
        return units.show_odds(share)

    def about(self, amount: Decimal) -> str:
        """Print money no finer than it is known: up to the next five, ten, fifty and so on.

        Parameters
        ----------
        amount : Decimal
            How much.
        """
        step = next(step for most, step in _ROUNDED_TO if abs(amount) <= most)
        return _signed(self._whole((amount / step).to_integral_value(ROUND_CEILING) * step))

    def _whole(self, amount: Decimal) -> str:
        return format_currency(
            amount,
            self.project.plan.currency,
            format="¤#,##0",
            locale=self.locale,
            currency_digits=False,
        )

    def by(self, minutes: int) -> str:
        """Print a moment that is not known to the minute, up to the next five.

        Parameters
        ----------
        minutes : int
            A moment, UTC. [min]
        """
        return self.moment(-(-minutes // 5) * 5)

    def until(self, minutes: int) -> str:
        """Print a moment after which it is too late, down to the last five minutes.

        Parameters
        ----------
        minutes : int
            A moment, UTC. [min]
        """
        return self.moment(minutes // 5 * 5)

    def by_on(self, minutes: int, spans: Iterable[Interval]) -> str:
        """Print a moment up to the next five, without its day where that is the day of the only span.

        Parameters
        ----------
        minutes : int
            A moment, UTC. [min]
        spans : iterable of Interval
            What was told of just before, UTC. [min]
        """
        known = list(spans)
        same = len(known) == 1 and self._local(known[0].start).date() == self._local(minutes).date()
        return self.clock(-(-minutes // 5) * 5) if same else self.by(minutes)

    def in_units(self, text: str) -> str:
        """Tell the metric quantities in a sentence in the keeper's units.

        Parameters
        ----------
        text : str
            A sentence of the program's own, such as the basis of an estimate.
        """
        return units.retold(text, self.project.plan.units)

    def spoken(self, text: str) -> str:
        """Tell a sentence of the program's own in the keeper's units, and dates as people say them.

        What stands between straight quotes is to be written into the plan file and stays as it is.

        Parameters
        ----------
        text : str
            Such as the message of a problem.
        """
        return "".join(
            part if part.startswith('"') else _STAMP.sub(self._dated, self.in_units(part))
            for part in _QUOTED.split(text)
        )

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

    def filters(self) -> dict[str, Callable[..., Any]]:
        """Give the printing functions by the names that templates use."""
        names = (
            "day calendar_day short_day clock moment stamp span amount spread duration nearly within roughly mass "
            "dimension temperature other_temperature volume both_volumes numbers money price number share odds "
            "about by until by_on in_units spoken billed"
        )
        return {name: getattr(self, name) for name in names.split()} | Names(self.project).filters()

    def _local(self, minutes: int) -> datetime:
        return to_local(minutes, self.project.plan.zone).replace(tzinfo=None)

    def _in_unit(self, value: float, estimate: Estimate) -> str:
        unit = estimate.unit
        if unit == "min":
            return self.duration(value) if estimate.provenance is Provenance.GIVEN else self.nearly(value)
        show = _SHOWN_IN.get(unit)
        if show is not None:
            return show(value, self.project.plan.units)
        return f"{self.number(value)} {unit}".rstrip()


# The same days and times are printed on every page of every document.
@lru_cache(maxsize=4096)
def _day_of(skeleton: str, day: date, locale: Locale) -> str:
    return format_skeleton(skeleton, datetime.combine(day, time()), locale=locale)


@lru_cache(maxsize=4096)
def _time_of(moment: time, locale: Locale) -> str:
    return format_time(moment, "short", locale=locale)


def _signed(text: str) -> str:
    """Give a negative number a minus sign instead of a hyphen, which would open a list in Markdown."""
    return f"−{text[1:]}" if text.startswith("-") else text


def facts_of(project: Project) -> Facts:
    """Set up the printing of one project; an unknown locale is printed in British English.

    Parameters
    ----------
    project : Project
        What is to be printed.

    Returns
    -------
    Facts
        Printing functions.
    """
    name = project.plan.locale.replace("-", "_")
    try:
        return Facts(project, Locale.parse(name))
    except (UnknownLocaleError, ValueError):
        return Facts(project, Locale("en", "GB"))
