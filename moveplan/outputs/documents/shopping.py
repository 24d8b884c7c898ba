"""What has to be bought, by shop, with what is needed, what is there, and by when: ``shopping.md``, and on paper.

The amounts are those of the bill; what is not a thing (hire, pay, electricity, water from the tap) is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from itertools import groupby

from moveplan.cost.packs import bought_together, in_packs, sold
from moveplan.cost.summary import CostLine
from moveplan.estimate import Provenance
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.papers.decisions import ORDER
from moveplan.outputs.wording.documents import render
from moveplan.units import decimal_sign, localised, retold, told_beside


@dataclass(frozen=True, slots=True)
class Row:
    """One thing to buy.

    Parameters
    ----------
    item, name, whose, shop : str
        Item of the price book, what to print, for which system or boarder (empty: for all), and where it is sold.
    need, have, buy : str
        Amounts with their units, as they are printed; what is bought in packs as they are sold.
    price : Decimal
        Of what is bought, in the plan's currency.
    assumed : bool
        Whether the price is none that the keeper gave.
    """

    item: str
    name: str
    whose: str
    shop: str
    need: str
    have: str
    buy: str
    price: Decimal
    assumed: bool


def shopping(outlook: Outlook) -> tuple[Row, ...]:
    """List what has to be bought, by shop; what belongs to one item and price in one row.

    Parameters
    ----------
    outlook : Outlook
        What was found; without a bill there is nothing to list.
    """
    held = bought_together(outlook.cost.lines if outlook.cost else ())
    rows = [_row(outlook, item, whose, lines) for (item, whose), lines in held.items()]
    return tuple(sorted(rows, key=lambda row: (row.shop, row.name, row.whose)))


def _row(outlook: Outlook, item: str, whose: str, lines: list[CostLine]) -> Row:
    found = sold()[item]
    missing = sum((line.quantity for line in lines), Decimal(0))
    gear = {kind: (needed, there) for kind, needed, there in outlook.project.gear_needed}
    needed, there = gear.get(item, (missing, Decimal(0)))
    bought = in_packs(item, missing)
    plan, unit = outlook.project.plan, lines[0].unit
    local = partial(localised, sign=decimal_sign(plan.locale))
    return Row(
        item,
        local(told_beside(found["name"], plan.units)),
        whose,
        found["shop"],
        local(_shown(needed, unit, plan.units)),
        local(_shown(there, unit, plan.units)) if item in gear else "?",
        local(_packed(bought, Decimal(found["pack"]), unit, plan.units)),
        sum((line.unit_price for line in lines[:1]), Decimal(0)) * bought,
        any(line.provenance is not Provenance.GIVEN for line in lines),
    )


def _packed(amount: Decimal, pack: Decimal, unit: str, units: str) -> str:
    """Say how many packs of what size, as they are sold; what is sold by any amount, or in pieces, as it is."""
    if not _weighed(unit) or pack == 1:
        return _shown(amount, unit, units)
    number, size = f"{(amount / pack).normalize():f}", told_beside(f"{pack.normalize():f} {unit}", units)
    return size if number == "1" else f"{number} × {size}"


def _shown(amount: Decimal | int, unit: str, units: str) -> str:
    """Say how much; what is not counted in pieces in the keeper's units."""
    number = f"{Decimal(amount).normalize():f}"
    return retold(f"{number} {unit}", units) if _weighed(unit) else number


def _weighed(unit: str) -> bool:
    """Whether a thing is sold by weight or volume, and not in pieces."""
    return unit not in {"item", "set"}


def shopping_md(outlook: Outlook) -> str:
    """Write the shopping list.

    Returns
    -------
    str
        Markdown that reads well as plain text.
    """
    return render(outlook, "markdown", "shopping.md.j2", by_shop(outlook))


def by_shop(outlook: Outlook) -> dict[str, object]:
    """Gather what a shopping list says: the rows of each shop, and by when they are ordered."""
    starts = {one.task: one.start for one in outlook.schedule.placements}
    latest = {one.task: one.latest for one in (outlook.risk.start_by if outlook.risk else ())}
    shops = groupby(shopping(outlook), key=lambda row: row.shop)
    return {
        "shops": [(shop, list(rows)) for shop, rows in shops],
        "order_by": starts.get(ORDER),
        "latest": latest.get(ORDER),
    }
