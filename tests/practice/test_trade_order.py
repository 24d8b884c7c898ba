"""Order of teardown and of release in every way of moving: common practice in the trade, no published source."""

from __future__ import annotations

from collections import deque
from itertools import pairwise

import pytest

from moveplan.network.graph import Network
from tests.practice.test_ways import project

TEARDOWN = (
    "record-morning",
    "heaters-off",
    "draw-keep-water",
    "no-way-back",
    "corals-out",
    "rock-out",
    "invertebrates-out",
    "lower-water",
    "catch-fish",
    "drain-tank",
    "sand-out",
)
"""Readings, heaters cold, clean water, corals before stirring, rock, crawlers, low water, fish, then sand."""
RELEASE = ("rock-in", "water-matched", "release-invertebrates", "watch-evening")
TAKEN_DOWN = ("house_move", "larger_tank_same_spot", "house_move_into_larger_tank", "shut_down_and_restart")


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
    for before, after in pairwise(f"{key}-display" for key in TEARDOWN):
        assert before in waits_for(network, after), f"{after} does not wait for {before}"


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
    network = project("house_move").network
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
