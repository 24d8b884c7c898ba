"""Salt, bags and tests over all jobs: what each uses from when on, what is left, and by when to order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from moveplan.cost.packs import bought_together, in_packs
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.placing.one_job import Placed
from moveplan.firm.values import STOCKED, FirmStock
from moveplan.times import to_local

FIRST_USED = {"salt": "mix-", "test-kits": "record-"}
"""Beginnings of the ids of the tasks with which a job begins to use it; bags leave with the other gear. [-]"""
BAGS = "bag"
"""Kind of gear that is used once, and so comes out of the stock. Common practice, no source. [-]"""


@dataclass(frozen=True, slots=True)
class Use:
    """What one job uses of one thing.

    Parameters
    ----------
    job : str
        Id of the job.
    day : date
        From when on.
    amount : Decimal
        All that it uses. [kg], or pieces
    left : Decimal or None
        In the stock after it, below zero where it is short; None: not known. [kg], or pieces
    """

    job: str
    day: date
    amount: Decimal
    left: Decimal | None


@dataclass(frozen=True, slots=True)
class Order:
    """What has to be ordered.

    Parameters
    ----------
    amount : Decimal
        What all jobs together are short of, in whole packs. [kg], or pieces
    by : date
        Last day on which an order is there when it is first short.
    needed : date
        When it is first short.
    late : bool
        Whether that last day is over.
    """

    amount: Decimal
    by: date
    needed: date
    late: bool


@dataclass(frozen=True, slots=True)
class Stocked:
    """One thing over all jobs.

    Parameters
    ----------
    item : str
        As in the price book.
    stock : FirmStock or None
        What there is; None: the firm file does not say.
    uses : tuple of Use
        By day.
    order : Order or None
        None: there is enough, or it is not known what there is.
    """

    item: str
    stock: FirmStock | None
    uses: tuple[Use, ...]
    order: Order | None


def stocked(outlook: FirmOutlook) -> tuple[Stocked, ...]:
    """Follow the stock of each thing through all jobs that are still to use it.

    Parameters
    ----------
    outlook : FirmOutlook
        All jobs with their schedules; what was used before now is gone from the stock already.
    """
    given = {one.item: one for one in outlook.firm.stock}
    return tuple(_followed(outlook, item, given.get(item)) for item in STOCKED)


def _followed(outlook: FirmOutlook, item: str, stock: FirmStock | None) -> Stocked:
    rows = sorted(
        (day, placed.job, amount)
        for placed in outlook.placed
        for start, amount in _used(outlook, placed, item)
        if start >= outlook.firm.now
        for day in (to_local(start, outlook.firm.zone).date(),)
    )
    left = None if stock is None else stock.there
    uses = []
    for day, job, amount in rows:
        left = None if left is None else left - amount
        uses.append(Use(job, day, amount, left))
    return Stocked(item, stock, tuple(uses), _order(outlook, stock, uses))


def _order(outlook: FirmOutlook, stock: FirmStock | None, uses: list[Use]) -> Order | None:
    short = [use for use in uses if use.left is not None and use.left < 0]
    if stock is None or not short:
        return None
    by = short[0].day - timedelta(days=stock.delivery_days)
    missing = -min(use.left for use in short if use.left is not None)
    today = to_local(outlook.firm.now, outlook.firm.zone).date()
    return Order(in_packs(stock.item, missing), by, short[0].day, by < today)


def _used(outlook: FirmOutlook, placed: Placed, item: str) -> Iterator[tuple[int, Decimal]]:
    """Give when a job begins to use a thing, UTC, and how much of it."""
    if item == BAGS:
        kinds = {one.item.id: one.item.kind for one in outlook.firm.gear}
        rows = [row for row in placed.trace.gear if kinds[row.gear] == BAGS]
        if rows:
            yield min(row.start for row in rows), Decimal(sum(row.count for row in rows))
        return
    amount = _bought(placed).get(item, Decimal(0))
    starts = [
        one.start for one in placed.outlook.schedule.placements if one.task.startswith(FIRST_USED[item])
    ]
    if amount and starts:
        yield min(starts), amount


def _bought(placed: Placed) -> Mapping[str, Decimal]:
    lines = placed.outlook.cost.lines if placed.outlook.cost else ()
    found: dict[str, Decimal] = {}
    for (item, _), rows in bought_together(lines).items():
        found[item] = found.get(item, Decimal(0)) + sum((line.quantity for line in rows), Decimal(0))
    return found
