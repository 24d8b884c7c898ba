"""What jobs really took against their quotes, on one page for the firm alone."""

from __future__ import annotations

from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.printing import Printing
from moveplan.firm.real import reals_of

WORDS = {
    "drives": "Drives, hours",
    "travel": "Travel, km",
    "wear": "Wear",
    "materials": "Materials",
    "risk": "Reserve",
}
"""What positions without a name are called. [-]"""


def real_md(outlook: FirmOutlook) -> str:
    """Write the page of all jobs that were accepted with a quote."""
    firm = outlook.firm
    values = {
        "firm": firm,
        "rows": reals_of(outlook),
        "titles": {job: plan.title for job, plan in outlook.plans.items()},
        "words": WORDS,
    }
    return Printing(firm.zone, firm.locale, firm.currency).render("markdown", "firm/real.md.j2", values)
