from __future__ import annotations

import random

import pytest

from moveplan.network.arcs import arcs_of
from moveplan.network.floats import effect, floats
from moveplan.network.graph import Network
from moveplan.network.passes import passes
from tests.network.builders import float_table, link, plain, task


def test_one_minute_more_on_the_critical_chain_costs_one_minute() -> None:
    table = float_table(plain({"A": ("", 5), "B": ("A", 3), "C": ("A", 2), "D": ("BC", 1)}))
    assert {name: row.effect for name, row in table.items()} == {"A": 1, "B": 1, "C": 0, "D": 1}


def test_a_task_that_is_critical_backwards_makes_the_finish_earlier_when_longer() -> None:
    network = Network(
        (task("a", 100), task("b", 10), task("c", 50)),
        (link("a", "b", "FF"), link("b", "c", "SS")),
    )
    rows = float_table(network)
    assert rows["b"].total_float_min == 0
    assert rows["b"].effect == -1
    assert rows["a"].effect == 1


def test_a_task_critical_in_its_start_only_does_not_move_the_finish() -> None:
    network = Network((task("a", 10), task("b", 5), task("c", 50)), (link("a", "b"), link("b", "c", "SS")))
    rows = float_table(network)
    assert rows["b"].total_float_min == 0
    assert rows["b"].effect == 0


def test_no_schedule_is_left_when_a_full_greatest_gap_would_be_passed() -> None:
    network = Network((task("a", 10), task("b", 10)), (link("a", "b", "FS"), link("a", "b", "SF", None, 20)))
    assert float_table(network)["a"].effect is None


def test_free_float_respects_greatest_gaps() -> None:
    network = Network((task("a", 10), task("b", 10), task("end", 100)), (link("a", "b", "FS", None, 30),))
    rows = float_table(network)
    assert rows["a"].free_float_min == 90
    assert rows["b"].free_float_min == 40


def test_only_what_is_beside_the_longest_chain_has_room() -> None:
    table = float_table(plain({"A": ("", 5), "B": ("A", 3), "C": ("A", 2), "D": ("BC", 1)}))
    assert [row.total_float_min for row in table.values()] == [0, 0, 1, 0]


@pytest.mark.parametrize("seed", range(8))
def test_the_effect_found_at_the_task_alone_is_that_of_computing_all_dates_anew(seed: int) -> None:
    draw = random.Random(seed)
    links = tuple(
        link(f"t{draw.randrange(b)}", f"t{b}", draw.choice(["FS", "SS", "FF", "SF"]), draw.randint(-3, 9))
        for b in range(1, 25)
        for _ in range(2)
    )
    network = Network(tuple(task(f"t{n}", draw.randint(0, 20)) for n in range(25)), links)
    graph = arcs_of(network)
    found = passes(graph)
    rows = floats(graph, found)
    assert [row.effect for row in rows] == [effect(graph, found, at) for at in range(25)]


def test_a_long_chain_is_quick() -> None:
    network = plain({f"{n}": ("", 5) for n in range(3000)})
    chained = Network(network.tasks, tuple(link(f"{n}", f"{n + 1}") for n in range(2999)))
    assert all(row.effect == 1 for row in float_table(chained).values())
