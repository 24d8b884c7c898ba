"""Numbers of containers, and animals shared out over them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from moveplan.plan.supplies import GearItem
from moveplan.quantities.containers.vessels import Held, Numbers, Use, Vessel, by_use, spread

GEAR = (
    GearItem("tubs", "Tubs", "tub", 9, volume_l=60.0),
    GearItem("flat", "Flat tubs", "tub", 3, volume_l=40.0),
    GearItem("pails", "Pails", "pail", 4, volume_l=15.0),
)


def vessel(number: str, use: Use, water_l: float = 10.0) -> Vessel:
    return Vessel(number, "tub", "tubs", use, "reef", 60.0, water_l, 1.8, (Held("livestock", "gobies", 2),))


def test_a_second_size_of_a_kind_counts_on_from_the_next_hundred() -> None:
    numbers = Numbers(GEAR)
    taken = [
        numbers.take(kind, gear)
        for kind, gear in (
            ("tub", "tubs"),
            ("tub", "flat"),
            ("tub", "tubs"),
            ("pail", "pails"),
            ("bag", "bag"),
        )
    ]
    assert taken == ["T1", "T101", "T2", "P1", "B1"]


def test_a_number_that_was_told_stays_with_what_it_was_told_for() -> None:
    alone, two, rock = (("tubs", "animals", "reef", *who) for who in (("a",), ("a", "b"), ("c",)))
    told = (("T1", two), ("T2", alone), ("T3", rock), ("T5", rock))
    numbers = Numbers(GEAR, told, ("T4",))
    taken = [numbers.take("tub", "tubs", what) for what in (rock, alone, alone, alone, rock, ())]
    assert taken == ["T3", "T2", "T1", "T6", "T5", "T7"]


def test_a_container_weighs_what_is_in_it() -> None:
    assert vessel("T1", Use.ROCK).kg == pytest.approx(1.8 + 10.25)  # seawater as 1.025 kg/l
    assert vessel("T1", Use.ROCK).account == "container:T1"
    assert vessel("T1", Use.ANIMALS).livestock == ("gobies",)


def test_containers_are_sorted_by_use() -> None:
    several = [vessel("T1", Use.ROCK), vessel("T2", Use.OLD_WATER, 15.0), vessel("T3", Use.ROCK)]
    assert {use: [one.number for one in those] for use, those in by_use(several).items()} == {
        Use.ROCK: ["T1", "T3"],
        Use.OLD_WATER: ["T2"],
    }


@given(st.lists(st.integers(1, 30), min_size=1, max_size=5), st.integers(1, 9))
def test_every_animal_is_in_one_container_and_none_holds_two_more_than_another(
    counts: list[int], containers: int
) -> None:
    groups = [(f"group{number}", count) for number, count in enumerate(counts)]
    rows = list(spread(groups, containers))
    assert len(rows) == containers
    for name, count in groups:
        assert sum(held.count for row in rows for held in row if held.id == name) == count
    totals = [sum(held.count for held in row) for row in rows]
    assert max(totals) - min(totals) <= 1
