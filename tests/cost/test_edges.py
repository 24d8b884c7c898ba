"""The bill where one thing ends and another begins."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.cost.lines import cost_of
from moveplan.cost.work import days_used
from moveplan.errors import PlanFileError
from moveplan.plan.supplies import Price, WaterMaking
from moveplan.plan.systems import NewTank
from moveplan.times import MINUTES_A_DAY, Interval, at_local, to_local
from tests.cost.test_lines import SCENE, bill, lines, supplied
from tests.cost.test_running import _holding

MAKING = WaterMaking(190.0, 4.1, 3.5, 12.0, 3.0, 100.0, 0.06)


@pytest.mark.parametrize(("item", "near"), [("heatr", "heater"), ("qqqqqq", "salt")])
def test_the_nearest_item_is_offered_and_salt_where_none_is_near(item: str, near: str) -> None:
    with pytest.raises(PlanFileError) as caught:
        bill(prices=(Price(item, Decimal(3), "item"),))
    assert f"name one of its items, such as {near};" in str(caught.value)


def test_a_unit_that_makes_nothing_means_bought_water() -> None:
    nothing = lines(bill(supplied(bought_l=310.0), water_making=replace(MAKING, rate_l_day=0.0)))
    assert "purified-water" in nothing
    assert "tap-water" not in nothing
    made = lines(bill(supplied(made_l=310.0), water_making=replace(MAKING, rate_l_day=1.0)))
    assert "purified-water" not in made
    assert {"tap-water", "filter-wear"} <= set(made)


@pytest.mark.parametrize(
    ("kept_kg", "new_kg", "bought_kg"), [(30.0, 50.0, 20), (30.0, 30.0, 0), (30.0, 12.0, 0)]
)
def test_kept_sand_is_made_up_to_what_the_new_tank_takes(
    kept_kg: float, new_kg: float, bought_kg: int
) -> None:
    system = replace(SCENE.project.plan.systems[0], old_sand="keep", sand_kg=kept_kg)
    new = NewTank(system.tank, 0.0, 80.0, "other", 21.0, "300", 0.0, new_kg)
    found = lines(bill(systems=(replace(system, new_tank=new),)))
    assert (found["sand-display"].quantity if "sand-display" in found else 0) == bought_kg


def test_days_are_counted_as_the_keeper_counts_them() -> None:
    plan = SCENE.project.plan
    midnight = at_local(to_local(SCENE.schedule.placements[0].start, plan.zone).date(), 0, plan.zone)
    hour = 60
    for expected, stretches in (
        (0, []),
        (1, [(0, hour)]),
        (1, [(0, MINUTES_A_DAY)]),  # until midnight, not into the next day
        (2, [(0, MINUTES_A_DAY + 1)]),
        (2, [(-hour, hour)]),
        (1, [(0, hour), (5 * hour, 6 * hour)]),
        (1, [(0, 0)]),
        (3, [(-hour, hour), (MINUTES_A_DAY, MINUTES_A_DAY + hour)]),
    ):
        segments = [Interval(midnight + begin, midnight + end) for begin, end in stretches]
        assert days_used(segments, plan) == expected


def test_only_stays_without_a_lid_count_as_waiting() -> None:
    """The vat runs while the tang waits in it, not while a bag of the same name is shut."""
    project = _holding()
    route = project.routes[0]
    stay = next(stop for stop in project.routes[0].stops if stop.safe is not None)
    shut = replace(route, stops=(route.stops[0], replace(stay, container="Holding vat"), *route.stops[2:]))
    bills = [
        cost_of(one, SCENE.schedule) for one in (project, replace(project, routes=(*project.routes, shut)))
    ]
    assert bills[0].total == bills[1].total


def test_water_is_told_in_whole_litres() -> None:
    water = SCENE.project.water
    assert water is not None
    some = replace(
        water,
        new=replace(water.new, likely=259.6, high=300),
        spare=replace(water.spare, likely=50.4, high=60),
    )
    found = {line.item: line for line in cost_of(replace(SCENE.project, water=some), SCENE.schedule).lines}
    assert found["salt"].basis.startswith("dry mix for 260 l of new and 50 l of spare water;")


def test_a_new_tank_is_priced_by_whole_litres() -> None:
    """By hand: 1.501 x 0.6 x 0.6 m inside hold 540.36 l."""
    system = SCENE.project.plan.systems[0]
    tank = replace(system.tank, length_m=1.501, width_m=0.6, height_m=0.6, wall_m=0.0, base_m=0.0)
    new = NewTank(tank, 0.0, 0.0, "other", 21.0, "", 0.0, 0.0)
    line = lines(bill(systems=(replace(system, new_tank=new),)))["new-tank-display"]
    assert line.quantity == 540
