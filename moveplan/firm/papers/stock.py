"""Salt, bags and tests over all jobs on one page, with the days by which to order."""

from __future__ import annotations

from moveplan.cost.packs import sold
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.printing import Printing
from moveplan.firm.reorder import Order, stocked

UNITS = {"salt": "kg"}
"""Units of what is not counted in pieces. [-]"""


def orders_of(outlook: FirmOutlook) -> tuple[tuple[str, str, Order], ...]:
    """Give what has to be ordered: its name, its unit and the order, the soonest first."""
    rows = [
        (sold()[one.item]["name"], UNITS.get(one.item, ""), one.order)
        for one in stocked(outlook)
        if one.order
    ]
    return tuple(sorted(rows, key=lambda row: (row[2].by, row[0])))


def stock_md(outlook: FirmOutlook) -> str:
    """Write the page of what is used up."""
    firm = outlook.firm
    values = {
        "firm": firm,
        "rows": stocked(outlook),
        "names": {item: found["name"] for item, found in sold().items()},
        "units": UNITS,
        "titles": {job: plan.title for job, plan in outlook.plans.items()},
    }
    return Printing(firm.zone, firm.locale, firm.currency).render("markdown", "firm/stock.md.j2", values)
