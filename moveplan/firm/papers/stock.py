"""Salt, bags and tests over all jobs on one page, with the days by which to order."""

from __future__ import annotations

from moveplan.cost.packs import sold
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.printing import Printing
from moveplan.firm.reorder import stocked


def stock_md(outlook: FirmOutlook) -> str:
    """Write the page of what is used up."""
    firm = outlook.firm
    values = {
        "firm": firm,
        "rows": stocked(outlook),
        "names": {item: found["name"] for item, found in sold().items()},
        "units": {"salt": "kg"},
        "titles": {job: plan.title for job, plan in outlook.plans.items()},
    }
    return Printing(firm.zone, firm.locale, firm.currency).render("markdown", "firm/stock.md.j2", values)
