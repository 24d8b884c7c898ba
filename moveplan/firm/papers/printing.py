"""Values of a firm as its documents show them: days, times and money in the locale; templates with these filters."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from zoneinfo import ZoneInfo

from babel import Locale
from babel.dates import format_date, format_skeleton, format_time
from babel.numbers import format_currency, format_decimal

from moveplan.outputs.wording.templates import Target, environment
from moveplan.times import to_local
from moveplan.units import decimal_sign, localised, show_duration, show_number, show_temperature


@dataclass(frozen=True, slots=True)
class Printing:
    """Prints days, times and money.

    Parameters
    ----------
    zone : ZoneInfo
        Zone of all times.
    locale : str
        Of a firm or of a client.
    currency : str
        ISO 4217 code.
    units : str
        ``metric`` or ``us``.
    """

    zone: ZoneInfo
    locale: str
    currency: str
    units: str = "metric"

    def day(self, day: date) -> str:
        """Print a day in full."""
        return format_date(day, "full", self._locale)

    def short_day(self, day: date) -> str:
        """Print weekday, day and month."""
        return format_skeleton("EEEdMMM", day, locale=self._locale)

    def clock(self, minutes: int) -> str:
        """Print the time of a moment."""
        return format_time(to_local(minutes, self.zone).time(), "short", locale=self._locale)

    def money(self, amount: Decimal) -> str:
        """Print an amount to the cent."""
        return format_currency(amount, self.currency, locale=self._locale)

    def decimal(self, number: Decimal) -> str:
        """Print a number as it is, such as hours or kilometres."""
        return format_decimal(number.normalize(), locale=self._locale)

    @property
    def _locale(self) -> Locale:
        return Locale.parse(self.locale)

    def told(self, text: str) -> str:
        """Write the numbers of a sentence of the program's own with the decimal sign of the locale."""
        return localised(text, decimal_sign(self.locale))

    def ratio(self, number: float) -> str:
        """Print how many times something is, to a hundredth."""
        return format_decimal(number, "0.00", locale=self._locale)

    def render(self, target: Target, template: str, values: Mapping[str, object]) -> str:
        """Fill a template.

        Parameters
        ----------
        target : str
            ``html``, ``markdown`` or ``text``.
        template : str
            Its name.
        values : Mapping of str to object
            What it may name.
        """
        env = environment(target)
        env.filters.update(
            day=self.day, short_day=self.short_day, clock=self.clock, money=self.money, duration=show_duration,
            decimal=self.decimal, told=self.told, ratio=self.ratio,
            local_day=lambda minutes: to_local(minutes, self.zone).date(),
            percent=lambda share: f"{round(100 * share)} %",
            temperature=lambda celsius: self.told(show_temperature(celsius, self.units)),
            number=lambda value: self.told(show_number(value)),
        )  # fmt: skip
        return env.get_template(template).render(values)
