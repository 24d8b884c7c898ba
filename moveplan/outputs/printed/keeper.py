"""Whom something is printed for, and numbers without a unit."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from babel import Locale
from babel.numbers import format_decimal

from moveplan.practice.project import Project
from moveplan.units import decimal_sign, localised


@dataclass(frozen=True, slots=True)
class Keeper:
    """Whom something is printed for.

    Parameters
    ----------
    project : Project
        Where zone, locale, units, currency and names come from.
    locale : Locale
        The locale that dates and numbers are printed in.
    """

    project: Project
    locale: Locale

    def number(self, value: float | Decimal) -> str:
        """Print a number without a unit, two decimal places at most."""
        return signed(format_decimal(value, "#,##0.##", locale=self.locale))

    def told(self, text: str) -> str:
        """Write the numbers of a sentence of the program's own with the decimal sign of the locale."""
        return localised(text, decimal_sign(str(self.locale)))

    @property
    def units(self) -> str:
        """``metric`` or ``us``, as the plan has it."""
        return self.project.plan.units


def signed(text: str) -> str:
    """Give a negative number a minus sign instead of a hyphen, which would open a list in Markdown."""
    return f"−{text[1:]}" if text.startswith("-") else text
