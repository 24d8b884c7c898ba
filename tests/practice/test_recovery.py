"""After a move in a day the aftercare follows the growth model: days of looking, feeding and holding back."""

from __future__ import annotations

from itertools import pairwise

import pytest

from moveplan.network.graph import Network
from moveplan.network.task import Kind
from moveplan.quantities.keeping.cycle import dip_after
from moveplan.quantities.keeping.gates import NitrogenGates
from tests.examples import project
from tests.practice.test_trade_order import waits_for

REEF = NitrogenGates(0.25, 1.0)
HEAVY = (
    "policy.gate-total-ammonia=0.15 mg N/l",
    "systems.display.temperature=24 C",
    "places.harbour.drive={low: 10 h, likely: 12 h, high: 14 h}",
)


def days(network: Network, task: str) -> tuple[float, float, float]:
    found = network.task(task).estimate
    return found.low / 1440, found.likely / 1440, found.high / 1440


def test_keeping_less_of_the_bacteria_takes_longer_to_recover() -> None:
    """The published kinetics behind it: seeds of 70, 50, 30 and 10 % peak ever higher and later (see the cycle)."""
    dips = [dip_after(0.4, 26.0, float(hours), REEF) for hours in (2, 8, 24, 48)]
    for less, more in pairwise(dips):
        assert less.kept > more.kept
        assert less.ammonia.likely < more.ammonia.likely
        assert less.days.high <= more.days.high


def test_a_filter_that_waits_in_the_new_tank_shortens_it() -> None:
    alone, helped = dip_after(0.4, 26.0, 48.0, REEF), dip_after(0.4, 26.0, 48.0, REEF, 0.5)
    assert helped.ammonia.likely < alone.ammonia.likely
    assert helped.kept == pytest.approx(min(alone.kept + 0.5, 1.0))
    assert helped.ammonia.basis.endswith("and 50% of what is needed waits in the new tank")


def test_the_tank_carries_its_old_stock_at_a_hold_point_after_the_dip() -> None:
    network = project("house_move").network
    assert days(network, "filter-recovers-display") == (2.0, 2.0, 2.0), "it stays below the limits throughout"
    assert network.task("carries-stock-display").kind is Kind.HOLD_POINT
    assert "filter-recovers-display" in waits_for(network, "carries-stock-display")
    assert "carries-stock-display" in waits_for(network, "settled-display")


def test_looks_meals_and_days_of_holding_back_follow_from_the_model() -> None:
    usual, long = project("house_move").network, project("house_move", *HEAVY).network
    meals, more = (one.task("feed-little-display").repeats for one in (usual, long))
    assert meals is not None
    assert more is not None
    assert meals.times == 7 < more.times
    looks = long.task("daily-look-display").repeats
    assert looks is not None
    assert looks.times >= more.times, "as long as the feed is halved somebody measures every day"
    assert days(long, "filter-recovers-display") > days(usual, "filter-recovers-display")
    first = long.task("filter-recovers-display").steps[0]
    assert first.startswith("Some bacteria are lost in the move. By the growth model ammonia reaches ")
    assert "above the limits for" in first or "at worst above them for" in first


def test_nobody_comes_back_from_boarding_before_the_tank_carries_those_who_are_there() -> None:
    network = project("service_firm_office_tank").network
    assert "carries-stock-display" in waits_for(network, "ready-for-boarders-tidewell")


def test_where_animals_come_in_waves_the_last_wave_says_it() -> None:
    network = project("larger_tank_other_spot").network
    assert not any(task.id.startswith("carries-stock") for task in network.tasks)
    last = max(task.id for task in network.tasks if task.id.startswith("wave-settled-"))
    assert last in waits_for(network, "settled-display")
    assert "settled-display" in waits_for(network, "choose-newcomers-display.1")


HOLDS = {
    "house_move": (
        "keys-in-hand",
        "vehicle-here-van",
        "weather-fits",
        "water-matched-display",
        "leak-check-display",
    ),
    "house_move_into_larger_tank": (
        "leak-tested-display",
        "cycle-done-display",
        "keys-early",
        "carries-stock-display",
    ),
    "house_move_with_gap": ("holding-ready-display", "weather-fits", "weather-fits-in", "keys-in-hand-in"),
    "larger_tank_other_spot": ("leak-tested-display", "cycle-done-display", "match-wave-display.1"),
    "service_firm_office_tank": (
        "vehicle-here-van-one",
        "vehicle-here-van-two",
        "ready-for-boarders-tidewell",
    ),
}


@pytest.mark.parametrize(("name", "holds"), HOLDS.items())
def test_nothing_passes_its_hold_points(name: str, holds: tuple[str, ...]) -> None:
    tasks = {task.id: task for task in project(name).network.tasks}
    for hold in holds:
        assert tasks[hold].kind is Kind.HOLD_POINT
        assert tasks[hold].steps[-1].startswith("Done when")


def test_no_leg_drives_without_vehicle_weather_and_keys() -> None:
    for name in ("house_move", "house_move_with_gap", "service_firm_office_tank", "small_tank_move"):
        network = project(name).network
        for go in ("go-or-no-go", "go-or-no-go-in"):
            if any(task.id == go for task in network.tasks):
                before = waits_for(network, go)
                assert "weather-fits" in before
                assert any(task.startswith("vehicle-here-") for task in before)
                assert any(task.startswith("keys-") for task in before)


def test_the_weather_is_no_matter_within_one_home() -> None:
    assert not any(task.id.startswith("weather") for task in project("larger_tank_same_spot").network.tasks)


COLD = ("vehicles.van.air-temperature=2 C", "livestock.tang.container=tub")


def test_wraps_that_tubs_need_are_on_the_order() -> None:
    cold = project("house_move", *COLD)
    (row,) = (row for row in cold.gear_needed if row[0] == "wrap")
    assert row[1] > 0
    assert (
        f"{row[1]} × wrap of 10 mm closed-cell foam for a tub, lid included"
        in (cold.network.task("order-missing").steps[0])
    )
    warm = project(
        "house_move",
        "gear.wraps={name: Foam wraps, kind: wrap, count: 30}",
        *COLD,
    )
    assert "wrap of" not in warm.network.task("order-missing").steps[0]
