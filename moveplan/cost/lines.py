"""The bill of a scheduled project, every line derived from its quantities and its schedule."""

from __future__ import annotations

from decimal import Decimal

from moveplan.cost.ahead import add_ahead
from moveplan.cost.bill import Bill
from moveplan.cost.book import check_prices
from moveplan.cost.materials import add_consumables, add_gear, add_measures, add_own, add_tanks, add_water
from moveplan.cost.packs import add_rests
from moveplan.cost.running import add_running
from moveplan.cost.summary import CostSummary
from moveplan.cost.waiting import add_boarding, add_upkeep
from moveplan.cost.work import add_people, add_vehicles
from moveplan.practice.project import Project
from moveplan.risk.register.awaited import awaited
from moveplan.risk.register.ranked import register_of
from moveplan.scheduling.schedule import Schedule


def cost_of(project: Project, schedule: Schedule) -> CostSummary:
    """Write the bill.

    Parameters
    ----------
    project : Project
        What is used.
    schedule : Schedule
        When, by whom, with which vehicles; without placements only what does not depend on it is counted.

    Returns
    -------
    CostSummary
        Without reserve and expected loss; see :func:`moveplan.cost.reserve.with_reserve`.

    Raises
    ------
    PlanFileError
        Where a price of the plan fits nothing.
    """
    check_prices(project.plan)
    bill = Bill(project.plan)
    add_water(bill, project)
    add_ahead(bill, project)
    add_gear(bill, project)
    add_consumables(bill, project)
    add_tanks(bill, project)
    add_vehicles(bill, project, schedule)
    add_people(bill, project, schedule)
    add_boarding(bill, project, schedule)
    add_running(bill, project, schedule)
    add_upkeep(bill, project)
    add_measures(bill, (*register_of(project, schedule), *awaited(project, schedule)))
    add_own(bill)
    add_rests(bill)
    total = sum((line.amount for line in bill.lines), Decimal("0.00"))
    return CostSummary(project.plan.currency, tuple(bill.lines), total)
