"""What keeping another share of the old water would cost: water, salt, power, and containers that are not there."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from moveplan.cost.bill import Bill
from moveplan.cost.materials import add_missing, add_water
from moveplan.practice.project import Project
from moveplan.quantities.leg.shares import Share

HOLDS_WATER = ("tub", "can")
"""Kinds of gear whose number follows from the water that is kept."""


def cost_of_share(project: Project, share: Share) -> Decimal:
    """Sum what hangs on the share of old water.

    Parameters
    ----------
    project : Project
        Its plan's prices come first.
    share : Share
        Its water, and the containers it takes.

    Returns
    -------
    Decimal
        In the plan's currency.
    """
    bill = Bill(project.plan)
    add_water(bill, replace(project, water=share.water))
    add_missing(bill, tuple(row for row in share.gear_needed if row[0] in HOLDS_WATER))
    return sum((line.amount for line in bill.lines), Decimal("0.00"))
