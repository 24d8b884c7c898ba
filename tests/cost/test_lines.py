"""The bill: every line from a quantity or the schedule, at the plan's price or an invented one."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from moveplan.cost.lines import cost_of
from moveplan.cost.summary import CostLine, CostSummary
from moveplan.errors import PlanFileError
from moveplan.estimate import Estimate, Provenance
from moveplan.plan.move import Assumption, Plan
from moveplan.plan.supplies import GearItem, Price, WaterMaking
from moveplan.plan.systems import NewTank
from moveplan.practice.ledger.entries import PURIFIED, TAP, Ledger, Pour
from moveplan.practice.project import Project
from moveplan.quantities.leg.mixing import Mixing
from moveplan.scheduling.schedule import Engine, Schedule, Status
from moveplan.times import MINUTES_A_DAY
from tests.examples import scheduled
from tests.outputs.scene import moving_day

SCENE = moving_day()
BOOK = "; price invented, from the price book: put your own under prices"
GIVEN = "; price as the plan says"


def bill(project: Project | None = None, **plan: Any) -> CostSummary:
    base = project or replace(SCENE.project, gear_needed=(("tub", 16, 14), ("heater", 2, 3)))
    return cost_of(replace(base, plan=replace(base.plan, **plan)), SCENE.schedule)


def supplied(*, bought_l: float = 0.0, made_l: float = 0.0) -> Project:
    """The scene with so much purified water from a shop and from a unit."""
    parts = (("fetch-water", bought_l), ("make-water", made_l))
    pours = tuple(Pour(task, TAP, PURIFIED, litres) for task, litres in parts if litres)
    return replace(SCENE.project, ledger=Ledger(pours))


def warmed(*energies_kwh: float) -> Project:
    """The scene with water that takes so much energy to warm."""
    time = Estimate(240, 260, 300, "min", "for the test")
    mixings = tuple(
        Mixing(155.0, 155.0, 1, (12.0, 9.0, 6.0), 25.5, 18.0, 600.0, (), True, 5.0, time, energy)
        for energy in energies_kwh
    )
    return replace(SCENE.project, mixings=mixings)


def lines(summary: CostSummary) -> dict[str, CostLine]:
    found = {line.item: line for line in summary.lines}
    assert len(found) == len(summary.lines)
    return found


def test_total_and_groups_are_exact_sums() -> None:
    for summary in (bill(), cost_of(*scheduled("house_move")), cost_of(*scheduled("short_plan"))):
        assert summary.total == sum(line.amount for line in summary.lines)
        assert sum(amount for _, amount in summary.groups) == summary.total
        for line in summary.lines:
            assert line.amount == line.amount.quantize(Decimal("0.01"))
            assert line.unit_price >= 0
            assert abs(line.quantity * line.unit_price - line.amount) <= Decimal("0.005")


def test_salt_is_what_the_water_needs() -> None:
    """11.9 kg at 3.20."""
    line = lines(bill())["salt"]
    assert (line.name, line.quantity, line.unit, line.amount) == (
        "Salt mix",
        Decimal("11.9"),
        "kg",
        Decimal("38.08"),
    )
    assert line.provenance is Provenance.ASSUMED
    assert line.basis == f"dry mix for 260 l of new and 50 l of spare water{BOOK}"


def test_the_price_of_the_plan_comes_first() -> None:
    line = lines(bill(prices=(Price("salt", Decimal("2.55"), "kg"),)))["salt"]
    assert line.amount == Decimal("30.35")  # 30.345, halves away from zero
    assert line.provenance is Provenance.GIVEN
    assert line.basis.endswith(GIVEN)


def test_water_is_bought_where_none_is_made() -> None:
    found = lines(bill(supplied(bought_l=310.0)))
    assert found["purified-water"].quantity == 310
    assert "tap-water" not in found


def test_ready_mixed_water_is_billed_as_it_is_fetched() -> None:
    """300 l for the day and 30 l for the first change, at 0.45: 148.50; nothing of it was made."""
    parts = (("fetch-salt-water", 300.0), ("fetch-salt-afresh-change-reef", 30.0))
    pours = tuple(Pour(task, TAP, "container:M1", litres) for task, litres in parts)
    line = lines(bill(replace(SCENE.project, ledger=Ledger(pours))))["salt-water"]
    assert (line.quantity, line.unit, line.amount) == (Decimal(330), "l", Decimal("148.50"))


def test_what_the_unit_cannot_make_in_time_is_bought_beside_what_it_makes() -> None:
    making = WaterMaking(190.0, 4.14, 3.5, 9.0, 3.0, 250.0, 0.06)
    found = lines(bill(supplied(bought_l=100.0, made_l=210.0), water_making=making))
    assert found["purified-water"].quantity == 100
    assert found["filter-wear"].quantity == 210
    assert found["tap-water"].quantity == 210 * 4


def test_water_that_is_made_costs_its_waste_too() -> None:
    making = WaterMaking(190.0, 4.14, 3.5, 9.0, 3.0, 250.0, 0.06)
    found = lines(bill(supplied(made_l=310.0), water_making=making))
    assert found["tap-water"].quantity == 310 * 4
    assert found["tap-water"].basis == f"310 l of purified water and 930 l of waste on the way to it{BOOK}"
    assert "purified-water" not in found


def test_new_water_is_warmed() -> None:
    """The energy of every mixing, losses to the room included, is billed once."""
    line = lines(bill(warmed(5.8, 1.3)))["electricity"]
    assert line.quantity == Decimal("7.1")
    assert "electricity" not in lines(bill(warmed(0.0)))


def test_only_gear_that_is_short_is_bought() -> None:
    found = lines(bill())
    assert (found["tub"].quantity, found["tub"].basis) == (Decimal(2), f"16 needed, 14 there{BOOK}")
    assert "heater" not in found


def test_gear_has_the_price_of_the_plan() -> None:
    gear = (GearItem("tubs", "Tubs", "tub", 14, 60.0, price=Decimal("12.50")),)
    line = lines(bill(gear=gear))["tub"]
    assert (line.amount, line.provenance) == (Decimal("25.00"), Provenance.GIVEN)


def test_listed_gear_that_is_not_owned_is_bought() -> None:
    gear = (GearItem("pump", "Transfer pump", "pump", 2, owned=False), GearItem("hose", "Hose", "other", 1))
    found = lines(bill(gear=gear))
    assert found["gear-pump"].name == "Transfer pump, to buy"
    assert found["gear-pump"].quantity == 2
    assert "gear-hose" not in found


def test_replaced_sand_is_bought_and_disposed_of() -> None:
    found = lines(bill())
    assert found["sand-display"].quantity == found["disposal-display"].quantity == Decimal("30.0")


def test_kept_sand_costs_nothing() -> None:
    system = replace(SCENE.project.plan.systems[0], old_sand="keep")
    found = lines(bill(systems=(system,)))
    assert "sand-display" not in found
    assert "disposal-display" not in found


def _new_tank(price: str) -> Plan:
    system = SCENE.project.plan.systems[0]
    tank = replace(system.tank, length_m=1.524, width_m=0.624, height_m=0.612)
    new = NewTank(tank, 100.0, 80.0, "other", 21.0, price, 12.0, 45.0)
    return replace(SCENE.project.plan, systems=(replace(system, new_tank=new),))


def test_a_new_tank_costs_what_the_plan_says() -> None:
    found = lines(bill(replace(SCENE.project, plan=_new_tank("890.00"))))
    line = found["new-tank-display"]
    assert (line.amount, line.unit, line.provenance) == (Decimal("890.00"), "item", Provenance.GIVEN)
    assert found["rock-display"].quantity == Decimal("12.0")
    assert found["sand-display"].quantity == Decimal("45.0")


def test_a_new_tank_without_a_price_is_priced_by_its_volume() -> None:
    """1.5 m by 0.6 m by 0.6 m inside: 540 l at 3.50."""
    line = lines(bill(replace(SCENE.project, plan=_new_tank(""))))["new-tank-display"]
    assert (line.quantity, line.amount) == (Decimal(540), Decimal("1890.00"))


def test_hire_is_by_the_day_for_which_it_is_booked() -> None:
    line = lines(bill())["hire-van"]
    assert (line.quantity, line.unit, line.amount) == (Decimal(2), "day", Decimal("190.00"))
    assert line.basis == f"local days for which it is booked, used or not: 2{GIVEN}"
    van = SCENE.project.plan.vehicles[0]
    kept = lines(bill(vehicles=(replace(van, hire_until=(van.hire_until or 0) + MINUTES_A_DAY),)))
    assert (kept["hire-van"].quantity, kept["hire-van"].amount) == (Decimal(3), Decimal("285.00"))


def test_an_own_vehicle_is_by_the_day_on_which_it_is_used() -> None:
    line = lines(bill(vehicles=(replace(SCENE.project.plan.vehicles[0], hired=False),)))["hire-van"]
    assert line.basis == f"local days on which it is used: 2{GIVEN}"


def test_a_hire_without_a_price_takes_the_book() -> None:
    van = replace(SCENE.project.plan.vehicles[0], cost_per_day=Decimal(0))
    unsaid = (Assumption("vehicles.van.cost", "0", "not said"),)
    line = lines(bill(vehicles=(van,), assumptions=unsaid))["hire-van"]
    assert line.provenance is Provenance.ASSUMED
    assert "hire-van" not in lines(bill(vehicles=(van,)))


def test_kilometres_go_there_and_back() -> None:
    """38 km over and 38 km back: 76 km at 0.30, and fuel of a hired van at 0.11 l a kilometre."""
    van = replace(SCENE.project.plan.vehicles[0], cost_per_km=Decimal("0.30"))
    found = lines(bill(vehicles=(van,)))
    assert (found["distance-van"].quantity, found["distance-van"].amount) == (
        Decimal("76.0"),
        Decimal("22.80"),
    )
    assert found["fuel-van"].quantity == Decimal("8.4")


def test_a_rate_of_an_own_car_covers_its_fuel() -> None:
    car = replace(SCENE.project.plan.vehicles[0], hired=False, cost_per_km=Decimal("0.30"))
    assert "fuel-van" not in lines(bill(vehicles=(car,)))


def test_paid_hours_are_those_of_the_schedule_by_kind_of_day() -> None:
    """Cai works on the moving day alone, a Saturday: 40 + 25 + 30 + 30 + 50 + 45 + 60 min and the corals' 45."""
    people = tuple(
        replace(person, cost_per_hour=Decimal(18) if person.id == "cai" else Decimal(0))
        for person in SCENE.project.plan.people
    )
    found = lines(bill(people=people))
    line = found["pay-cai-weekend"]
    assert (line.quantity, line.unit, line.amount) == (Decimal("5.42"), "hour", Decimal("97.56"))
    assert "pay-cai-workday" not in found
    assert "pay-una-weekend" not in found


def test_a_weekend_may_have_its_own_rate() -> None:
    people = tuple(replace(person, cost_per_hour=Decimal(18)) for person in SCENE.project.plan.people)
    found = lines(bill(people=people, prices=(Price("pay-una-weekend", Decimal(25), "hour"),)))
    assert found["pay-una-weekend"].unit_price == 25
    assert found["pay-una-workday"].unit_price == 18


def test_deposits_come_back_and_sales_are_income() -> None:
    own = (
        Price("deposit-van", Decimal(200), "item"),
        Price("resale-old-tank", Decimal("150.50"), "item"),
        Price("extra-permit", Decimal(40), "item"),
    )
    found = lines(bill(prices=own))
    assert found["deposit-van"].amount + found["deposit-van-back"].amount == 0
    sale = found["resale-old-tank"]
    assert (sale.quantity, sale.unit_price, sale.amount) == (
        Decimal(-1),
        Decimal("150.50"),
        Decimal("-150.50"),
    )
    assert (sale.name, sale.group) == ("Sold: old tank", "income")
    assert bill(prices=own).total == bill().total - Decimal("150.50") + 40


def test_a_price_in_another_unit_is_refused() -> None:
    with pytest.raises(PlanFileError) as caught:
        bill(prices=(Price("salt", Decimal(3), "l"),), lines={"prices.salt": 77})
    assert str(caught.value) == (
        'scene.yaml:77 prices.salt: "salt" is priced per l, but is counted in kg; write the price per kg'
    )


def test_a_price_of_nothing_known_is_refused() -> None:
    with pytest.raises(PlanFileError) as caught:
        bill(prices=(Price("slat", Decimal(3), "kg"),), lines={"prices.slat": 77})
    assert str(caught.value) == (
        'scene.yaml:77 prices.slat: there is no item "slat" in the price book; name one of its items, such as salt;'
        ' begin with "extra-", "deposit-" or "resale-" for one of your own'
    )


def test_without_a_schedule_what_depends_on_it_is_left_out() -> None:
    summary = cost_of(SCENE.project, Schedule(Status.UNKNOWN, Engine.SERIAL))
    assert "hire-van" not in lines(summary)
    assert "salt" in lines(summary)
