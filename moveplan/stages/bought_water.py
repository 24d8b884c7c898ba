"""Salt water that a shop mixes, where the plan leaves it open: it cannot be mixed in time, or is cheaper bought."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from moveplan.cost.book import tariff
from moveplan.estimate import Provenance
from moveplan.plan.move import Assumption
from moveplan.practice.compose import EVE, project_of
from moveplan.practice.drafting.chains import Chains
from moveplan.practice.project import Project
from moveplan.quantities.water.amounts import making_of
from moveplan.stages.hung import contradicted
from moveplan.times import local_day

FIRST = "order-missing"
"""The task that everything about salt water waits for. [-]"""
HURRIED = 2.0
"""Time that is left over the longest chain of tasks, below which people's hours may be too few; assumed. [-]"""


def with_bought_water(project: Project, *, steps: bool) -> Project:
    """Let a shop mix the salt water where that is the only way or cheaper, and the plan does not say who does.

    Parameters
    ----------
    project : Project
        In which it is mixed at home.
    steps : bool
        Whether tasks say how they are done.
    """
    making = making_of(project.plan)
    if making.ready_mixed is not None or not project.mixings or not project.network.tasks:
        return project
    price = tariff(project.plan, "salt-water")
    hurried, priced = _hurried(project) and contradicted(project), price.provenance is Provenance.GIVEN
    if not (hurried or priced):
        return project
    bought = project_of(replace(project.plan, water_making=replace(making, ready_mixed=True)), steps=steps)
    if hurried and not contradicted(bought):
        why = "mixed at home it would not be ready before the moving day"
    elif priced and (less := _paid(project) - _paid(bought)) > 0:
        why = f"salt, purified water and what it takes to mix them cost {less} {project.plan.currency} more"
    else:
        return project
    litres = bought.water.mixed_l if bought.water else 0.0
    each = f"{price.amount.quantize(Decimal('0.01'))} {project.plan.currency}"
    value = f"yes: a shop mixes the salt water, {litres:.0f} l, each litre for {each}"
    return replace(
        bought, assumptions=(*bought.assumptions, Assumption("water-making.ready-mixed", value, why))
    )


def _hurried(project: Project) -> bool:
    """Whether so little time is left that it may be too short; only then the costly questions are asked."""
    days, tasks = project.plan.dates, {task.id: task for task in project.network.tasks}
    if days is None or not days.move_days or not {FIRST, EVE} <= tasks.keys():
        return False
    left_min = local_day(days.move_days[-1], project.plan.zone).start - project.plan.now
    return left_min < HURRIED * Chains(tasks, project.network.links).likely_min(FIRST, EVE)


def _paid(project: Project) -> Decimal:
    """Sum what is bought for the water and the gear; few plans name a price for it, so what writes bills waits here."""
    from moveplan.cost.ahead import add_ahead
    from moveplan.cost.bill import Bill
    from moveplan.cost.materials import add_gear, add_water

    bill = Bill(project.plan)
    add_water(bill, project)
    add_ahead(bill, project)
    add_gear(bill, project)
    return sum((line.amount for line in bill.lines), Decimal("0.00"))
