"""The bill while it is written: each line with its words, its price, and its amount to the cent."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal

from moveplan.cost.book import Tariff, price_book, tariff
from moveplan.cost.summary import CostLine
from moveplan.cost.words import line_words
from moveplan.plan.move import Plan

CENT = Decimal("0.01")


def cents(amount: Decimal) -> Decimal:
    """Round to the cent, halves away from zero.

    >>> cents(Decimal("1.005"))
    Decimal('1.01')
    """
    return amount.quantize(CENT, ROUND_HALF_UP)


def exact(value: float, places: int) -> Decimal:
    """Turn a computed quantity into a decimal of so many places, as it is printed.

    >>> exact(11.9333, 1)
    Decimal('11.9')
    """
    return Decimal(repr(float(value))).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)


@dataclass(slots=True)
class Bill:
    """Collects lines.

    Parameters
    ----------
    plan : Plan
        Where the prices come from.
    lines : list of CostLine
        In the order of reading.
    """

    plan: Plan
    lines: list[CostLine] = field(default_factory=list)

    def book(self, item: str, quantity: Decimal, subject: str = "", **values: object) -> None:
        """Add a line at the price of the plan, or else of the price book; nothing where the quantity is zero.

        Parameters
        ----------
        item : str
            Id in the price book, and key of the words.
        quantity : Decimal
            How much, in the unit of the price.
        subject : str
            Tells the line from others of the same item.
        **values : object
            What the words name.
        """
        line_id = f"{item}-{subject}" if subject else item
        self.add(line_id, price_book()[item].group, quantity, tariff(self.plan, item), item, **values)

    def add(
        self, line_id: str, group: str, quantity: Decimal, price: Tariff, key: str, **values: object
    ) -> None:
        """Add a line at a stated price; nothing where the quantity is zero.

        Parameters
        ----------
        line_id, group : str
            Id of the line, and what it is summed under.
        quantity : Decimal
            How much, in the unit of the price; negative for income.
        price : Tariff
            Of one unit.
        key : str
            Key of the words.
        **values : object
            What the words name.
        """
        if not quantity:
            return
        name, reason = line_words(key, values)
        self.lines.append(
            CostLine(
                item=line_id,
                name=name,
                group=group,
                quantity=quantity,
                unit=price.unit,
                unit_price=price.amount,
                amount=cents(quantity * price.amount),
                provenance=price.provenance,
                basis=f"{reason}; {price.basis}",
            )
        )
