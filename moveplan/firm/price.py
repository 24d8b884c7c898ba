"""One price with its lines, and what of it is kept when a job is accepted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class QuoteLine:
    """One line of a quote.

    Parameters
    ----------
    item : str
        ``lead``, ``hand``, ``travel``, ``wear``, ``materials`` or ``risk``.
    quantity : Decimal
        Hours, kilometres, days of gear, or one. [h], [km], [day]
    unit_price : Decimal
        Price of one. [currency]
    amount : Decimal
        Their product, rounded to the cent. [currency]
    """

    item: str
    quantity: Decimal
    unit_price: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Price:
    """One price with its parts.

    Parameters
    ----------
    lines : tuple of QuoteLine
        What is charged.
    net, margin, tax, total : Decimal
        Sum of the lines, what comes on top, and all together; each rounded to the cent. [currency]
    """

    lines: tuple[QuoteLine, ...]
    net: Decimal
    margin: Decimal
    tax: Decimal
    total: Decimal


@dataclass(frozen=True, slots=True)
class Quoted:
    """What was quoted when a job was accepted.

    Parameters
    ----------
    price : Price
        The promised one.
    work : Mapping of str to Mapping of str to float
        Minutes of each of the firm's people, by task. [min]
    """

    price: Price
    work: Mapping[str, Mapping[str, float]]
