"""Which tubs, pumps and heaters are where: a paper of all gear, by time, with the numbers on the labels."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.printing import Printing
from moveplan.firm.placing.lent import Taken


@dataclass(frozen=True, slots=True)
class GearRow:
    """Gear of one kind: what it is called, how many there are, how few are left, and where the others are."""

    name: str
    count: int
    fewest: int
    taken: tuple[tuple[Taken, str], ...]


def gear_md(outlook: FirmOutlook) -> str:
    """Write the paper of all gear."""
    firm = outlook.firm
    values = {"firm": firm, "rows": gear_rows(outlook)}
    printing = Printing(firm.zone, firm.locale, firm.currency)
    return printing.render("markdown", "firm/gear.md.j2", values)


def gear_rows(outlook: FirmOutlook) -> list[GearRow]:
    """List gear with the jobs it goes to, in order of time."""
    rows = []
    for one in outlook.firm.gear:
        taken = sorted(
            (row for job in outlook.placed for row in job.trace.gear if row.gear == one.item.id),
            key=lambda row: (row.start, row.job),
        )
        most = max(
            (sum(row.count for row in taken if row.start <= at.start < row.finish) for at in taken), default=0
        )
        told = tuple((row, outlook.plans[row.job].title) for row in taken)
        rows.append(GearRow(one.item.name, one.item.count, one.item.count - most, told))
    return rows
