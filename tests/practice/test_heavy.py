"""Heavy glass, hoses and curing rock are on the order list and the bill, and carriers who are asked for are priced."""

from __future__ import annotations

from decimal import Decimal

import pytest

from moveplan.cost.lines import cost_of
from moveplan.practice.compose import project_of
from moveplan.scheduling.schedule import Engine, Schedule, Status
from tests.quantities.plans import edited

TANK = "length: 90 cm, width: 45 cm, height: 45 cm, wall: 10 mm, base: 10 mm, water-height: 40 cm"
HUGE = "length: 200 cm, width: 80 cm, height: 65 cm, wall: 15 mm, base: 15 mm, water-height: 60 cm"
HEAVY = "length: 120 cm, width: 60 cm, height: 60 cm, wall: 19 mm, base: 19 mm, water-height: 40 cm"
BARE = Schedule(Status.FEASIBLE, Engine.SERIAL, ())
MAKING = "water-making: {rate: 190 l/day, storage: 200 l}\n"


@pytest.mark.parametrize(
    ("more", "amount"), [("", "280.00"), ("prices: {glass-firm: 190 per item}\n", "190.00")]
)
def test_a_firm_for_glass_that_no_team_carries_is_on_the_bill(more: str, amount: str) -> None:
    """Two carry 94 kg with aids; a firm carries 190, at the keeper's price if there is one."""
    project = project_of(edited((TANK, HUGE), (MAKING, MAKING + more)))
    assert ("glass-firm", 1, 0) in project.gear_needed
    line = next(one for one in cost_of(project, BARE).lines if one.item == "glass-firm")
    assert line.amount == Decimal(amount)
    orders = next(task for task in project.network.tasks if task.id == "order-missing")
    assert any("1 × firm that moves heavy glass" in step for step in orders.steps)
    light = project_of(edited(), steps=False)
    assert "glass-firm" not in {kind for kind, _, _ in light.gear_needed}


def test_a_hose_is_ordered_where_the_plan_has_none() -> None:
    project = project_of(edited(), steps=False)
    assert ("hose", 1, 0) in project.gear_needed
    own = project_of(edited((MAKING, MAKING + "gear: {h: {kind: hose, count: 2}}\n")), steps=False)
    assert ("hose", 1, 2) in own.gear_needed
    assert "hose" in {one.item for one in cost_of(project, BARE).lines}
    assert "hose" not in {one.item for one in cost_of(own, BARE).lines}
