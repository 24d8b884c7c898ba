"""Money, alone and per unit; decimal throughout."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, TypeAlias

from moveplan.planfile.problems import listed
from moveplan.planfile.schema.leaves import Leaf, Pattern
from moveplan.planfile.schema.refusals import each, refusal
from moveplan.planfile.schema.words import CURRENCY_CODE
from moveplan.units import kind_of_unit, quoted, unit_factor

_AMOUNT = r"([+-]?[0-9]{1,9}(?:\.[0-9]{1,4})?)"
_SUM = re.compile(rf"{_AMOUNT}\s*([A-Z]{{3}})?")
_PER = re.compile(
    rf"{_AMOUNT}\s*([A-Z]{{3}})?\s*(?:/|per\b|(?=each\b))\s*([0-9]{{1,6}}(?:\.[0-9]{{1,4}})?)?\s*(.+)"
)
_LATE = re.compile(r"(.+?)\s+within\s+([0-9]{1,3})\s*(day|week)s?")
_PRICE_FORM = r"^\s*[+]?[0-9]{1,9}(\.[0-9]{1,4})?\s*([A-Z]{3})?\s*(/|per\s|each\s*$).*"
_BASE = {"mass": "kg", "volume": "l", "length": "km", "duration": "hour"}
_SCALE = {"length": 1000, "duration": 60}
_COMMON = ("kg", "l", "km", "hour", "day", "kWh", "item")
_OTHERS = {
    "item": "item",
    "piece": "item",
    "each": "item",
    "kwh": "kWh",
    "month": "month",
    "trip": "trip",
    "night": "night",
    "person": "person",
    "set": "set",
}
_AS_WRITTEN = {"day": "day", "days": "day", "d": "day", "week": "week", "weeks": "week", "km": "km", "m": "m"}


@dataclass(frozen=True, slots=True)
class Money:
    """An amount, and its currency where one is written.

    Parameters
    ----------
    amount : Decimal
        Never negative.
    currency : str
        ISO 4217 code; empty: the plan's.
    unit : str
        What it is the price of one of; empty where it is a plain sum.
    """

    amount: Decimal
    currency: str = ""
    unit: str = ""


def _amount(text: str, number: str) -> Decimal:
    if number.startswith("-"):
        raise refusal(f"{quoted(text)} is a negative price", f"write {quoted(text.strip().lstrip('-'))}")
    return Decimal(number)


@dataclass(frozen=True)
class SumLeaf(Leaf[Money]):
    """A sum of money."""

    def read(self, text: str) -> Money:
        """Read amount and currency."""
        parts = _SUM.fullmatch(text.strip())
        if parts is None:
            message = f"{quoted(text)} is not a sum of money" if text.strip() else "has no value"
            raise refusal(message, 'write for example "35" or "35 EUR"')
        return Money(_amount(text, parts[1]), parts[2] or "")

    def json(self) -> dict[str, Any]:
        """Describe the sum."""
        pattern = r"^\s*[+]?[0-9]{1,9}(\.[0-9]{1,4})?\s*([A-Z]{3})?\s*$"
        return {"type": ["number", "string"], "minimum": 0, "pattern": pattern, "examples": ["35"]}


@dataclass(frozen=True)
class PriceLeaf(Leaf[Money]):
    """Money per unit; kept per kilogram, litre, kilometre, hour, day, or per thing."""

    units: tuple[str, ...] = ()
    sample: str = "3.20 per kg"

    def read(self, text: str) -> Money:
        """Read amount, currency and unit."""
        parts = _PER.fullmatch(text.strip())
        if parts is None:
            raise self._no_unit(text)
        unit, factor = _unit(parts[4])
        many = Fraction(parts[3]) if parts[3] else Fraction(1)
        if not unit or not many or (self.units and unit not in self.units):
            known = listed(self.units or _COMMON)
            why = "has no unit of a price" if not unit else f"is per {unit}" if many else "is per nothing"
            raise refusal(f"{quoted(text)} {why}", f'write it per {known}, for example "{self.sample}"')
        exact = Fraction(_amount(text, parts[1])) / (many * factor)
        return Money(Decimal(exact.numerator) / Decimal(exact.denominator), parts[2] or "", unit)

    def _no_unit(self, text: str) -> Exception:
        shown = text.strip()
        if not _SUM.fullmatch(shown):
            message = f"{quoted(text)} is not a price" if shown else "has no value"
            return refusal(message, f'write for example "{self.sample}"')
        offers = [quoted(f"{shown} per {unit}") for unit in self.units or ("kg", "item")]
        return refusal(f"{quoted(text)} does not say per what", f"write {' or '.join(offers)}")

    def json(self) -> dict[str, Any]:
        """Describe the price."""
        return {"type": "string", "pattern": _PRICE_FORM, "examples": [self.sample]}


def _unit(text: str) -> tuple[str, Fraction]:
    spelling = text.strip().casefold()
    if spelling in _OTHERS:
        return _OTHERS[spelling], Fraction(1)
    if spelling in _AS_WRITTEN:
        return _AS_WRITTEN[spelling], Fraction(1)
    kind = kind_of_unit(spelling)
    factor = unit_factor(spelling, kind) if kind in _BASE else None
    return ("", Fraction(1)) if factor is None else (_BASE[kind], factor / _SCALE.get(kind, 1))


@dataclass(frozen=True, slots=True)
class Late:
    """A sum that is due where fewer days than these are left."""

    fee: Money
    days: int


@dataclass(frozen=True)
class LateLeaf(Leaf[Late]):
    """What a late change costs, and what late means: ``95 EUR within 7 days``."""

    sample: str = "95 within 7 days"

    def read(self, text: str) -> Late:
        """Read sum and days."""
        parts = _LATE.fullmatch(text.strip())
        if parts is None:
            raise refusal(
                f"{quoted(text)} does not say what a late change costs, and what late is"
                if text.strip()
                else "has no value",
                f"write for example {quoted(self.sample)}",
            )
        return Late(SumLeaf().read(parts[1]), int(parts[2]) * (7 if parts[3] == "week" else 1))

    def json(self) -> dict[str, Any]:
        """Describe it."""
        return {
            "type": "string",
            "pattern": r"^\s*.+\swithin\s+[0-9]{1,3}\s*(day|week)s?\s*$",
            "examples": [self.sample],
        }


@dataclass(frozen=True)
class RatesLeaf(Leaf[tuple[Money, ...]]):
    """Several prices of one thing, each for another unit: ``[95 per day, 0.30 per km]``."""

    units: tuple[str, ...]
    sample: str

    def take(self, value: object) -> tuple[Money, ...]:
        """Read one price or a list of them."""
        rows = value if isinstance(value, list) else [value]
        leaf = PriceLeaf(self.units, self.sample)
        prices = each(leaf.take, rows)
        if len({price.unit for price in prices}) < len(prices):
            raise refusal("two prices are for the same unit", "keep one of them")
        return prices

    def json(self) -> dict[str, Any]:
        """Describe the prices."""
        one = {"type": "string", "pattern": _PRICE_FORM}
        several = {"type": "array", "items": one, "minItems": 1}
        return {"anyOf": [one, several], "examples": [self.sample]}


@dataclass(frozen=True)
class CurrencyLeaf(Pattern):
    """A currency of ISO 4217, also one of the past."""

    form: re.Pattern[str] = CURRENCY_CODE
    what: str = "a currency code of three letters"
    sample: str = "EUR"

    def read(self, text: str) -> str:
        """Find the currency."""
        from babel.core import get_global

        code = super().read(text)
        if code in get_global("all_currencies"):
            return code
        rows = (row for rows in get_global("territory_currencies").values() for row in rows)
        current = {row[0] for row in rows if row[2] is None}
        near = [one for one in current if sum(map(str.__eq__, one, code)) == 2]
        remedy = f'did you mean "{near[0]}"?' if len(near) == 1 else 'write for example "EUR"'
        raise refusal(f"{quoted(text)} is not a currency of ISO 4217", remedy)


Currency: TypeAlias = Annotated[str, CurrencyLeaf()]
Sum: TypeAlias = Annotated[Money, SumLeaf()]
PricePerUnit: TypeAlias = Annotated[Money, PriceLeaf()]
PerHour: TypeAlias = Annotated[Money, PriceLeaf(("hour",), "18 per hour")]
PerDay: TypeAlias = Annotated[Money, PriceLeaf(("day",), "12 per day")]
LateChange: TypeAlias = Annotated[Late, LateLeaf()]
VehicleRates: TypeAlias = Annotated[tuple[Money, ...], RatesLeaf(("day", "km"), "95 per day")]
