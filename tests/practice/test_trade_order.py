"""Order of teardown and of release in every way of moving: common practice in the trade, no published source."""

from __future__ import annotations

from collections import deque
from itertools import pairwise

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Relation
from moveplan.practice.phases.day.teardown import SHALLOW_MIN
from tests.examples import NAMES, project

TEARDOWN = (
    ("record-morning", "heaters-off"),
    ("heaters-off", "draw-keep-water"),
    ("record-morning", "no-way-back"),
    ("no-way-back", "corals-out"),
    ("heaters-off", "draw-first"),
    ("draw-first", "draw-keep-water"),
    ("draw-first", "corals-out"),
    ("draw-keep-water", "rock-out"),
    ("corals-out", "rock-out"),
    ("rock-out", "invertebrates-out"),
    ("rock-out", "lower-water"),
    ("lower-water", "catch-fish"),
    ("invertebrates-out", "catch-fish"),
    ("catch-fish", "drain-tank"),
    ("drain-tank", "sand-out"),
)
"""Readings, heaters off, clean water, corals before stirring, rock, crawlers and low water, fish, then sand."""
RELEASE = ("rock-in", "water-matched", "release-invertebrates", "watch-evening")
TAKEN_DOWN = ("house_move", "larger_tank_same_spot", "house_move_into_larger_tank", "shut_down_and_restart")


@pytest.mark.parametrize("name", NAMES)
def test_a_vehicle_that_animals_are_in_does_not_stand(name: str) -> None:
    """Its air is the worst of the day: loaded last, driven at once; common practice, no source."""
    links = project(name).network.links
    loaded = [link for link in links if "load-animals-" in link.before and link.after.startswith("drive-")]
    assert all(0 < (link.max_gap_min or 0) <= 15 for link in loaded if not link.before.startswith("unload"))


def waits_for(network: Network, after: str) -> set[str]:
    """All that a task waits for, over any number of links."""
    into: dict[str, list[str]] = {}
    for link in network.links:
        if link.min_gap_min is not None:
            into.setdefault(link.after, []).append(link.before)
    seen: set[str] = set()
    queue = deque([after])
    while queue:
        for before in into.get(queue.popleft(), []):
            if before not in seen:
                seen.add(before)
                queue.append(before)
    return seen


@pytest.mark.parametrize("name", TAKEN_DOWN)
def test_a_tank_is_taken_down_in_the_order_of_the_trade(name: str) -> None:
    network = project(name).network
    for before, after in TEARDOWN:
        assert f"{before}-display" in waits_for(network, f"{after}-display"), (
            f"{after} must wait for {before}"
        )


@pytest.mark.parametrize("name", TAKEN_DOWN)
def test_fish_are_caught_straight_after_the_water_is_lowered(name: str) -> None:
    (link,) = [
        link
        for link in project(name).network.links
        if (link.before, link.after) == ("lower-water-display", "catch-fish-display")
    ]
    assert link.max_gap_min == SHALLOW_MIN


@pytest.mark.parametrize("name", TAKEN_DOWN)
def test_hot_heaters_stay_under_water_and_are_taken_out_cold(name: str) -> None:
    network = project(name).network
    for cold in ("lower-water-display", "strip-equipment-display"):
        assert "heaters-cool-display" in waits_for(network, cold)


def test_who_sits_in_a_trap_is_shut_in_after_all_that_crawls() -> None:
    """The water and the flow are still there for them meanwhile."""
    assert "invertebrates-out-display" in waits_for(project("house_move").network, "empty-trap-display")


def test_tubes_hang_when_the_signing_ends_and_may_be_hung_while_one_reads() -> None:
    network = project("house_move").network
    (link,) = (
        one
        for one in network.links
        if (one.before, one.after) == ("start-drip-display", "water-matched-display")
    )
    assert link.relation is Relation.FINISHTOFINISH


@pytest.mark.parametrize("name", ["house_move", "larger_tank_same_spot"])
def test_animals_wait_for_flow_warmth_and_a_tight_tank_and_not_for_lamps(name: str) -> None:
    network = project(name).network
    fish = [task.id for task in network.tasks if task.id.startswith("release-fish-display")]
    for one in (*fish, "release-invertebrates-display"):
        before = waits_for(network, one)
        assert {"leak-check-display", "warm-water-display"} <= before
        assert "mount-rest-display" not in before
    assert "leak-check-display" in waits_for(network, "place-corals-display")
    assert "mount-rest-display" in waits_for(network, "watch-evening-display")


@pytest.mark.parametrize("name", ["house_move", "larger_tank_same_spot"])
def test_corals_are_fixed_by_daylight(name: str) -> None:
    assert "watch-evening-display" in waits_for(project(name).network, "fix-corals-display")


def test_loading_begins_while_equipment_comes_off() -> None:
    network = project("house_move").network
    for early, waited in (("load-cans-van", "fill-cans-display"), ("load-early-van", "rock-out-display")):
        before = waits_for(network, early)
        assert waited in before
        assert "strip-equipment-display" not in before
        assert early in waits_for(network, "load-tank-van")
    assert "catch-fish-display" not in waits_for(network, "load-cans-van")


def test_tubs_wait_for_the_catch_where_the_pair_that_carries_is_the_pair_that_catches() -> None:
    three, four = (
        project("house_move", *more).network for more in ((), ("people.ola={name: Ola, lifts: yes}",))
    )
    assert "catch-fish-display" in waits_for(three, "load-early-van")
    assert "catch-fish-display" not in waits_for(four, "load-early-van")


def test_cans_wait_for_the_one_pump_and_a_second_one_frees_them() -> None:
    drawn, cans = "draw-keep-water-display", "fill-cans-display"
    assert drawn in waits_for(project("house_move", "gear.pump.count=1").network, cans)
    assert drawn not in waits_for(project("house_move").network, cans)


def test_equipment_runs_until_the_last_coral_is_out() -> None:
    assert "corals-out-display" in waits_for(project("house_move").network, "strip-equipment-display")


@pytest.mark.parametrize("name", ["house_move", "larger_tank_same_spot", "house_move_into_larger_tank"])
def test_animals_are_let_in_in_the_order_of_the_trade(name: str) -> None:
    network = project(name).network
    for before, after in pairwise(f"{key}-display" for key in RELEASE):
        assert before in waits_for(network, after), f"{after} does not wait for {before}"
    fish = [task.id for task in network.tasks if task.id.startswith("release-fish-display")]
    assert fish
    for one in fish:
        assert {"place-corals-display", "release-invertebrates-display"} <= waits_for(network, one)


def test_timid_fish_come_before_territorial_ones() -> None:
    before = waits_for(project("house_move").network, "release-fish-display-territorial")
    assert "release-fish-display-timid" in before


def test_in_waves_corals_and_clean_up_crew_come_before_fish_and_fighters_last() -> None:
    network = project("larger_tank_other_spot").network
    titles = {task.id: task.title for task in network.tasks}
    assert "Cerith snails" in titles["move-wave-display.1"]
    assert "cardinals" in titles["move-wave-display.2"]
    assert {"Clownfish", "dottyback"} <= set(titles["move-wave-display.3"].split())
    assert {"wave-settled-display.1", "rock-over-display.2"} <= waits_for(network, "move-wave-display.2")


def test_animals_are_loaded_last_and_unloaded_first() -> None:
    network = project("house_move", "vehicles.van.load-space.length=4.4 m").network
    assert "load-tank-van" in waits_for(network, "load-animals-van")
    assert "unload-animals-van" in waits_for(network, "unload-tank-van")


def test_nothing_is_ordered_before_permission_and_floor() -> None:
    network = project("house_move_into_larger_tank").network
    assert {"wait-permission", "check-new-floor", "check-new-power"} <= waits_for(
        network, "order-tank-display"
    )


def test_a_new_tank_is_full_on_its_stand_for_its_leak_test_before_salt_water_comes() -> None:
    network = project("house_move_into_larger_tank").network
    chain = (
        "order-tank",
        "place-tank",
        "plumb-tank",
        "stand-full",
        "leak-tested",
        "fill-ahead",
        "cycle-done",
    )
    for before, after in pairwise(f"{key}-display" for key in chain):
        assert before in waits_for(network, after)


@pytest.mark.parametrize("name", NAMES)
def test_a_tube_hangs_before_the_one_who_signs_for_the_water_opens_its_valve(name: str) -> None:
    network = project(name).network
    for hold in (task for task in network.tasks if task.id.startswith("water-matched-")):
        if not any("Open each valve" in step for step in hold.steps):
            continue
        system = hold.id.removeprefix("water-matched-")
        hung = [f"{key}-{system}" for key in ("start-drip", "start-ramp-corals", "float-fish")]
        there = {task.id for task in network.tasks if task.id in hung and "shut" in " ".join(task.steps)}
        assert there
        assert there <= waits_for(network, hold.id)


def test_many_fish_in_a_trap_are_tipped_out_in_their_own_time() -> None:
    """Thirty of them take longer than the quarter of an hour between the rock and the catch."""
    gaps = [
        next(
            link.max_gap_min
            for link in project("house_move", *changes).network.links
            if (link.before, link.after) == ("rock-out-display", "catch-fish-display") and link.max_gap_min
        )
        for changes in ((), ("livestock.tang.count=30",))
    ]
    few, many = gaps
    assert few is not None
    assert many is not None
    assert many > few
