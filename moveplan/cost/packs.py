"""What is bought is sold in whole packs: which lines are bought together, and what is left of the last pack."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from decimal import ROUND_CEILING, Decimal
from functools import cache
from itertools import groupby
from typing import Any

from moveplan.compiled import template_folder
from moveplan.cost.bill import Bill
from moveplan.cost.book import Tariff
from moveplan.cost.summary import CostLine


@cache
def sold() -> dict[str, Any]:
    """Read what can be bought, by its item in the price book: name, shop and pack."""
    return tomllib.loads((template_folder() / "shopping.toml").read_text("utf-8"), parse_float=Decimal)


def bought_together(lines: Iterable[CostLine]) -> dict[tuple[str, str], list[CostLine]]:
    """Gather the lines that buy something by item and by whose it is: salt for all purposes, sand for each system."""
    found = sorted((line for line in lines if _item(line)), key=_key)
    return {key: list(held) for key, held in groupby(found, key=_key)}


def in_packs(item: str, amount: Decimal) -> Decimal:
    """Round an amount up to whole packs.

    >>> in_packs("salt", Decimal("15.3"))
    Decimal('20')
    """
    pack = Decimal(sold()[item]["pack"])
    return (amount / pack).to_integral_value(ROUND_CEILING) * pack


def add_rests(bill: Bill) -> None:
    """Add what the shop sells beyond what is used: the rest of each last pack."""
    for (item, whose), lines in bought_together(bill.lines).items():
        used = sum((line.quantity for line in lines), Decimal(0))
        first = lines[0]
        price = Tariff(first.unit_price, first.unit, first.provenance, first.basis.rpartition("; ")[2])
        name = ", ".join(filter(None, (sold()[item]["name"], whose)))
        words = {"name": name, "pack": sold()[item]["pack"], "unit": first.unit}
        bill.add(f"rest-{first.item}", first.group, in_packs(item, used) - used, price, "rest", **words)


def _key(line: CostLine) -> tuple[str, str]:
    item = _item(line)
    name, mark, whose = line.name.partition(", ")
    return item, whose if mark and item in {"sand", "rock", "new-tank", "food"} and name else ""


def _item(line: CostLine) -> str:
    """Find the thing that a line buys; empty where it buys none."""
    if line.quantity <= 0 or line.amount < 0:
        return ""
    known = [item for item in sold() if line.item == item or line.item.startswith(f"{item}-")]
    return max(known, key=len, default="")
