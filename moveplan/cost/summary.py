"""Cost lines and their sum."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from moveplan.estimate import Provenance


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of the bill.

    Parameters
    ----------
    item : str
        Id of the item, unique in the summary.
    name : str
        What to print.
    group : str
        Id of the group it is summed under.
    quantity : Decimal
        How much; negative for income.
    unit : str
        Unit of the quantity.
    unit_price : Decimal
        Price of one unit, never negative.
    amount : Decimal
        Quantity times unit price, rounded to the cent.
    provenance : Provenance
        Whose word the price is.
    basis : str
        How quantity and price came about.
    """

    item: str
    name: str
    group: str
    quantity: Decimal
    unit: str
    unit_price: Decimal
    amount: Decimal
    provenance: Provenance
    basis: str


@dataclass(frozen=True, slots=True)
class CostSummary:
    """The bill.

    Parameters
    ----------
    currency : str
        ISO 4217 code.
    lines : tuple of CostLine
        In the order of reading.
    total : Decimal
        Exact sum of the amounts.
    reserve : Decimal or None
        What brings the bill to what is promised; None: not computed.
    expected_loss : Decimal or None
        Sum of probability times cost of the risk register; None: not computed.
    mean, p50, p80 : Decimal or None
        Total with what the simulated runs add or save: extra hours and hire days, and the cost of mishaps; None: not
        computed.
    promised : Decimal or None
        Enough in the share of the runs that the plan asks for, never less than the bill; None: not computed.
    """

    currency: str
    lines: tuple[CostLine, ...]
    total: Decimal
    reserve: Decimal | None = None
    expected_loss: Decimal | None = None
    mean: Decimal | None = None
    p50: Decimal | None = None
    p80: Decimal | None = None
    promised: Decimal | None = None

    @property
    def groups(self) -> tuple[tuple[str, Decimal], ...]:
        """Sum of each group, in the order in which groups first occur."""
        sums: dict[str, Decimal] = {}
        for line in self.lines:
            sums[line.group] = sums.get(line.group, Decimal("0.00")) + line.amount
        return tuple(sums.items())

    @property
    def ready(self) -> Decimal | None:
        """What has to be there: what is promised, and deposits until they are back; None: not known."""
        paid = (line.amount for line in self.lines if line.group == "deposits" and line.amount > 0)
        return None if self.promised is None else sum(paid, self.promised)
