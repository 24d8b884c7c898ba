"""Money and what it pays for, in the keeper's currency and units."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal

from babel.numbers import format_currency

from moveplan.cost.summary import CostLine
from moveplan.outputs.printed.keeper import Keeper, signed

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
_LEAST = 5
"""What is saved is told to the unit up to here: steps would make nothing of it, or twice as much. Chosen. [-]"""


def _stepped(amount: Decimal, rounding: str) -> Decimal:
    step = next(step for most, step in _ROUNDED_TO if abs(amount) <= most)
    return (amount / step).to_integral_value(rounding) * step


@dataclass(frozen=True, slots=True)
class Money(Keeper):
    """Prints amounts of the plan's currency."""

    def money(self, amount: Decimal) -> str:
        """Print money as people round it: without cents."""
        whole = amount.to_integral_value(ROUND_HALF_UP)
        if not whole and amount:
            return f"under {self._whole(Decimal(1))}"
        return signed(self._whole(whole))

    def price(self, amount: Decimal) -> str:
        """Print a price as it was given or assumed, parts of a cent included."""
        exact = amount == amount.quantize(_CENT)
        return signed(
            format_currency(
                amount, self.project.plan.currency, locale=self.locale, decimal_quantization=exact
            )
        )

    def billed(self, line: CostLine) -> tuple[str, str]:
        """Print how much of something is paid for, and what one unit of it costs, in the keeper's units."""
        unit, per = (
            _SOLD_IN.get(line.unit, (line.unit, Decimal(1)))
            if self.units == "us"
            else (line.unit, Decimal(1))
        )
        quantity = line.quantity / per
        plural = "s" if unit in _COUNTED and quantity != 1 else ""
        price = line.unit_price * per
        if per != 1:
            price = price.quantize(_MILL if price < 1 else _CENT)
        return f"{self.number(quantity)} {unit}{plural}", self.price(price)

    def about(self, amount: Decimal) -> str:
        """Print money to be paid no finer than it is known: up to the next five, ten, fifty and so on."""
        return signed(self._whole(_stepped(amount, ROUND_CEILING)))

    def gain(self, amount: Decimal) -> str:
        """Print money that is saved no finer than it is known, and no more often too much than too little."""
        return self._whole(_stepped(amount, ROUND_HALF_EVEN)) if amount > _LEAST else self.money(amount)

    def _whole(self, amount: Decimal) -> str:
        return format_currency(
            amount,
            self.project.plan.currency,
            format="¤#,##0",
            locale=self.locale,
            currency_digits=False,
        )
