"""``summary.md``: verdict, dates, cost and risk on two pages."""

from __future__ import annotations

from decimal import Decimal
from itertools import groupby

from moveplan.cost.summary import CostSummary
from moveplan.outputs.documents import render
from moveplan.outputs.outlook import Outlook


def summary_md(outlook: Outlook) -> str:
    """Write the summary; where the plan cannot be followed the reasons come first.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]

    Returns
    -------
    str
        Markdown. [-]
    """
    return render(outlook, "markdown", "summary.md.j2", {"cost_groups": cost_groups(outlook.cost)})


def cost_groups(cost: CostSummary | None) -> tuple[tuple[str, Decimal], ...]:
    """Sum the bill by group, in the order in which the groups first appear.

    Parameters
    ----------
    cost : CostSummary or None
        The bill; None where it was not computed. [-]
    """
    lines = cost.lines if cost else ()
    order = list(dict.fromkeys(line.group for line in lines))
    grouped = groupby(sorted(lines, key=lambda line: order.index(line.group)), key=lambda line: line.group)
    return tuple((group, sum((line.amount for line in found), Decimal(0))) for group, found in grouped)
