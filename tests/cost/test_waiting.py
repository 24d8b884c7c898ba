"""What waiting costs: boarding by the days of the schedule, and what a holding system uses up."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.cost.bill import Bill
from moveplan.cost.lines import cost_of
from moveplan.cost.waiting import add_boarding, boarded_days
from moveplan.plan.people import Boarding
from moveplan.scheduling.schedule import Engine, Placement, Schedule, Status
from moveplan.times import Interval
from tests.examples import project, scheduled
from tests.outputs.scene import moving_day

SCENE = moving_day()
GIVEN = "; price as the plan says"
BEGIN = SCENE.schedule.placements[0].start
BEGIN -= BEGIN % 1440
"""A midnight, UTC. [min]"""


def at(task: str, day: int, hour: int) -> Placement:
    start = BEGIN + 1440 * day + 60 * hour
    return Placement(task, start, start + 60, (Interval(start, start + 60),), (), ())


def boarded(*placements: Placement) -> Schedule:
    return Schedule(Status.FEASIBLE, Engine.SERIAL, placements=placements)


def test_boarding_is_billed_from_the_day_they_are_brought_until_the_day_they_are_fetched() -> None:
    """Brought on day 2 in the evening, fetched on day 90 in the morning: 90 - 2 = 88 days at 6.00, 528.00."""
    place = Boarding("shop", "Corner shop", "mill", 200.0, ("fish",), Decimal(6))
    animals = tuple(replace(group, boarded="shop") for group in SCENE.project.plan.livestock[:1])
    plan = replace(SCENE.project.plan, boarding=(place,), livestock=animals)
    project, bill = replace(SCENE.project, plan=plan), Bill(plan)
    add_boarding(bill, project, boarded(at("board-out-shop", 2, 18), at("board-back-shop", 90, 9)))
    line = next(one for one in bill.lines if one.item == "boarding-shop")
    assert (line.quantity, line.amount) == (Decimal(88), Decimal("528.00"))
    assert line.basis == f"88 days for Clownfish{GIVEN}"


def test_there_and_back_on_one_day_is_a_day_and_without_a_schedule_nothing_is_known() -> None:
    project = SCENE.project
    assert boarded_days(project, boarded(at("board-out-a", 2, 8), at("board-back-a-in", 2, 17)), "a") == 1
    assert boarded_days(project, boarded(), "a") == 0


def test_the_bill_counts_the_days_of_the_schedule() -> None:
    found, schedule = scheduled("service_firm_office_tank")
    out, back = schedule.of("board-out-tidewell"), schedule.of("board-back-tidewell")
    line = next(one for one in cost_of(found, schedule).lines if one.item == "boarding-tidewell")
    assert line.quantity == round((back.start - out.start) / 1440)
    assert line.quantity >= 10, "back no earlier than ten days after the move"


def test_a_holding_system_is_billed_for_the_salt_and_water_of_its_changes_and_for_food() -> None:
    """42 days: 42 x 2 g x 0.5 = 0.042 kg of food at 60.00, 2.52; salt of five batches at 3.20 a kilogram."""
    found, schedule = scheduled("house_move_with_gap")
    lines = {line.item: line for line in cost_of(found, schedule).lines}
    (one,) = found.upkeep
    assert (lines["food-display"].quantity, lines["food-display"].amount) == (
        Decimal("0.042"),
        Decimal("2.52"),
    )
    assert float(lines["salt-display"].quantity) == round(5 * one.batch_salt_kg, 1)


def test_all_purified_water_of_the_ledger_is_billed_and_its_waste() -> None:
    """Mixed, changed in the holding system, and in place of what evaporates; three litres of waste for one."""
    found, schedule = scheduled("house_move_with_gap")
    lines = {line.item: line for line in cost_of(found, schedule).lines}
    times = {task.id: task.repeats.times for task in found.network.tasks if task.repeats}
    made = sum(one.litres * times.get(one.task, 1) for one in found.ledger.pours if one.target == "purified")
    assert float(lines["filter-wear"].quantity) == pytest.approx(made, abs=0.5)
    assert lines["tap-water"].quantity == 4 * lines["filter-wear"].quantity


def test_salt_for_the_changes_is_ordered_with_the_rest() -> None:
    found = project("house_move_with_gap")
    assert found.water is not None
    (one,) = found.upkeep
    step = next(step for step in found.network.task("order-missing").steps if "salt mix" in step)
    assert "changes of the holding system" in step
    ordered = found.water.salt.likely + one.salt_kg + found.afresh_salt_kg
    assert f"{ordered:.0f} kg" in step or f"{ordered:.1f} kg" in step


def test_salt_for_the_first_change_and_a_reserve_for_the_arrival_are_said_and_billed() -> None:
    """295.2 l, salinity 35, 25.5 °C: 0.03828 kg of mix for a litre, a tenth changed, a fifth in reserve."""
    found, schedule = scheduled("house_move")
    lines = {line.item: line for line in cost_of(found, schedule).lines}
    assert float(lines["salt-afresh"].quantity) == pytest.approx(0.03828 * 29.5, abs=0.06)
    assert float(lines["salt-reserve"].quantity) == pytest.approx(0.03828 * 59.0, abs=0.06)
    for task in ("order-missing", "pack-kit"):
        assert any("reserve" in step and "2.26 kg" in step for step in found.network.task(task).steps)
    assert found.water is not None
    poured = sum(pour.litres for pour in found.ledger.pours if pour.source == "purified" != pour.target)
    salted = poured - sum(
        pour.litres for pour in found.ledger.pours if (pour.source, pour.target) == ("purified", "drain")
    )
    assert found.water.salt.likely + found.more_salt_kg == pytest.approx(0.03828 * salted, rel=0.01)


def test_water_that_boarded_animals_take_along_is_made_up_for_with_salt_on_the_bill() -> None:
    """What comes out of the tank with them, at 0.03828 kg of mix a litre."""
    boarded = ("boarding.shop={place: shop, volume: 400 l}", "places.shop={distance: 5 km}")
    found = project("house_move", *boarded, "livestock.clowns.boarded=shop")
    taken = sum(
        pour.litres
        for pour in found.ledger.pours
        if pour.task == "board-out-shop" and pour.source == "system:display"
    )
    assert taken > 0
    bare = project("house_move")
    assert found.afresh_salt_kg - bare.afresh_salt_kg == pytest.approx(0.03828 * taken, rel=0.01)
    schedule = Schedule(Status.FEASIBLE, Engine.SERIAL, ())
    line = next(line for line in cost_of(found, schedule).lines if line.item == "salt-afresh")
    assert float(line.quantity) == pytest.approx(found.afresh_salt_kg, abs=0.06)
