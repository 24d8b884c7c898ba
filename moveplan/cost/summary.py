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
        Id of the item, unique in the summary. [-]
    name : str
        What to print. [-]
    group : str
        Id of the group it is summed under. [-]
    quantity : Decimal
        How much; negative for income. [-]
    unit : str
        Unit of the quantity. [-]
    unit_price : Decimal
        Price of one unit, never negative. [-]
    amount : Decimal
        Quantity times unit price, rounded to the cent. [-]
    provenance : Provenance
        Whose word the price is. [-]
    basis : str
        How quantity and price came about. [-]
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
        ISO 4217 code. [-]
    lines : tuple of CostLine
        In the order of reading. [-]
    total : Decimal
        Exact sum of the amounts. [-]
    reserve : Decimal or None
        To keep back, from the simulation (P80 less mean); None: not computed. [-]
    expected_loss : Decimal or None
        Sum of probability times cost of the risk register; None: not computed. [-]
    """

    currency: str
    lines: tuple[CostLine, ...]
    total: Decimal
    reserve: Decimal | None = None
    expected_loss: Decimal | None = None
