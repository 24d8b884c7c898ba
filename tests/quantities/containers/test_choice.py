"""Which containers are chosen: that they can be lifted, hold who is in them, last, and use what there is first."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.quantities.assemble import facts_of
from moveplan.quantities.containers.means import Spec
from moveplan.quantities.containers.packing import Packing
from moveplan.quantities.containers.pricing import ONE_HAND_KG
from moveplan.quantities.containers.tubs import CORALS_KG, EMPTY_KG_A_LITRE, WATER_KG_L
from moveplan.quantities.freight.lifting import TUB_KG
from moveplan.quantities.safe_time.boxes import Journey, LoadSpace
from tests.quantities.plans import MILD, ROOMS, WAY, edited, group, means, packed, plan_of

CLOWNS = group("clowns", "clownfish", 7.0, 2)
GOBY = group("goby", "goby", 8.0)
TANG = group("tang", "tang", 15.0, temperament="territorial")
SNAILS = group("snails", "snail", 2.0, 10)
STICKS = group("sticks", "small-polyp-coral", 10.0, 3)
LEATHERS = group("leathers", "soft-coral", 10.0, 3)
ALL = (CLOWNS, GOBY, TANG, SNAILS, STICKS, LEATHERS)
OXYGEN = means(
    Spec("bag", "bags", 12.0, 20, bought=True), Spec("box", "boxes", 40.0, 8, bought=True), oxygen=True
)


def kg(packing: Packing) -> float:
    """What one of its containers weighs. [kg]."""
    load = CORALS_KG if packing.racked else 0.0
    return WATER_KG_L * packing.water_l + EMPTY_KG_A_LITRE * packing.spec.volume_l + load


@pytest.mark.parametrize("lift_kg", [10.0, 15.0, TUB_KG])
@pytest.mark.parametrize("around", [ROOMS, MILD], ids=("cold", "mild"))
def test_no_container_holds_more_than_the_rule_of_lifting_allows(lift_kg: float, around: object) -> None:
    for packing in packed(*ALL, around=around, have=means(lift_kg=lift_kg)).values():  # type: ignore[arg-type]
        assert kg(packing) <= (ONE_HAND_KG if packing.gear == "pail" else lift_kg) + 1e-6
        assert packing.water_l <= 0.75 * packing.spec.volume_l + 1e-6


def test_containers_are_filled_to_need() -> None:
    """Two fish of 7 cm in mild air need far less than can be lifted; a day in them needs more."""
    short, long = (
        packed(CLOWNS, around=MILD, way=Journey(1.0, 0.5, hours))["clowns"] for hours in (1.0, 18.0)
    )
    assert kg(short) < ONE_HAND_KG
    assert short.count * short.water_l < long.count * long.water_l


def test_every_traveller_has_containers_that_last_where_any_do() -> None:
    found = packed(*ALL, have=means(outlets=20, wraps=20, heaters=20))
    assert found.keys() == {one.livestock.id for one in ALL}
    for name, packing in found.items():
        assert packing.safe.estimate.low >= 60 * WAY.total_h, name
        assert packing.safe.extends == ()


def test_leathers_travel_apart_from_stick_corals_and_corals_from_others() -> None:
    found = packed(*ALL, group("plates", "small-polyp-coral", 8.0, 2))
    assert found["leathers"].shares_with == ()
    assert found["sticks"].shares_with == ("plates",)
    assert found["sticks"].racked
    assert not found["snails"].racked
    assert not {"sticks", "leathers", "plates"} & set(found["snails"].shares_with)


def test_who_fights_or_is_toxic_travels_alone() -> None:
    found = packed(*ALL, group("zoas", "zoanthid", 8.0, 2))
    assert found["tang"].shares_with == found["zoas"].shares_with == ()
    assert "tang" not in found["goby"].shares_with


@pytest.mark.parametrize("kind", ["tub", "pail", "bag"])
def test_the_kind_of_container_that_the_keeper_asks_for_is_taken(kind: str) -> None:
    found = packed(group("clowns", "clownfish", 7.0, 2, container=kind), GOBY)
    assert found["clowns"].gear == kind
    assert found["clowns"].shares_with == ()


def test_what_the_keeper_asks_for_is_taken_even_if_it_does_not_last_and_what_would_help_is_said() -> None:
    cold = replace(ROOMS, load_spaces=(LoadSpace("van", -5.0, 0.0, 0.0, 0.6),))
    found = packed(
        group("clowns", "clownfish", 7.0, 2, container="pail"), around=cold, way=Journey(2.0, 8.0, 2.0)
    )
    assert found["clowns"].gear == "pail"
    assert found["clowns"].safe.estimate.low < 60 * 12
    assert "a load space kept at 22 °C" in " ".join(found["clowns"].safe.extends)


@pytest.mark.parametrize("kind", ["foxface", "tang"])
def test_no_bag_holds_what_has_spines(kind: str) -> None:
    assert packed(group("one", kind, 12.0, container="bag"))["one"].gear != "bag"


def test_a_second_size_that_is_there_is_used_before_one_is_bought() -> None:
    most = Spec("tub", "usual", 60.0, 0, bought=True)
    other = Spec("tub", "other", 50.0, 3, bought=False)
    chosen = packed(TANG, around=MILD, have=means(most, other))["tang"]
    assert chosen.spec.gear == "other"
    assert packed(TANG, around=MILD, have=means(replace(most, there=3), other))["tang"].spec.there == 3
    taken = packed(STICKS, LEATHERS, TANG, around=MILD, have=means(most, replace(other, there=1)))
    assert sum(one.count for one in taken.values() if one.spec.gear == "other") <= 1


def test_more_outlets_make_aired_containers_chosen() -> None:
    """Where air costs nothing to get it is taken before more containers."""
    groups = (CLOWNS, GOBY, TANG, STICKS)
    none, many = (packed(*groups, around=MILD, have=means(outlets=outlets)) for outlets in (0, 40))
    aired = [sum(one.count * one.box.stones for one in found.values()) for found in (none, many)]
    assert aired[0] <= aired[1]
    assert aired[1] > 0
    counts = [sum(one.count for one in found.values()) for found in (none, many)]
    assert counts[1] <= counts[0]


def test_on_a_nine_hour_drive_small_fish_travel_in_bags_under_oxygen_where_the_keeper_says_so() -> None:
    """In insulated boxes, closed as they are caught, for oxygen lasts for the whole way."""
    small = group("clowns", "clownfish", 5.0, 4, container="bag")
    found = packed(small, around=MILD, way=Journey(2.0, 9.0, 1.0), have=OXYGEN)["clowns"]
    assert found.gear == "bag"
    assert found.box.oxygen
    assert found.box.insulated
    assert found.count == 4
    assert found.waiting is None
    assert found.box.journey == Journey(2.0, 9.0, 1.0)
    assert found.safe.estimate.low >= 60 * 12


def test_bags_of_air_that_last_no_long_day_are_closed_before_loading() -> None:
    """Eleven hours and their reserve are more than the twelve that a bag of air may stay closed."""
    small = group("clowns", "clownfish", 5.0, 4, container="bag")
    found = packed(small, around=MILD, way=Journey(8.0, 2.0, 1.0), have=means())["clowns"]
    assert found.gear == "bag"
    assert found.waiting is not None
    assert found.waiting.box.journey == Journey(7.0, 0.0, 0.0)
    assert found.box.journey == Journey(1.0, 2.0, 1.0)
    assert found.safe.estimate.low >= 60 * 4
    assert found.waiting.safe.estimate.low >= 60 * 7


def test_oxygen_is_taken_where_there_is_some_and_it_is_needed() -> None:
    """A closed bag under air is good for twelve hours at most, under oxygen for a day; policy."""
    one = group("clowns", "clownfish", 5.0, 1, container="bag")
    with_it, without_it = (
        packed(one, around=MILD, way=Journey(1.0, 12.0, 1.0), have=have)["clowns"]
        for have in (OXYGEN, means())
    )
    assert with_it.box.oxygen
    assert not without_it.box.oxygen
    assert with_it.safe.estimate.low > without_it.safe.estimate.low
    assert without_it.safe.estimate.low <= 60 * 12


def test_who_is_sick_or_leaves_or_is_only_wished_for_does_not_travel() -> None:
    plan = edited(
        ("kind: goby, count: 1", "kind: goby, count: 1, sick: 1"),
        ("kind: snail, count: 10", "kind: snail, count: 10, leaves: 10"),
    )
    (facts,) = facts_of(plan).systems
    assert [one.livestock.id for one in facts.groups] == ["clowns", "corals"]


@pytest.mark.parametrize(("units", "word"), [("metric", " l "), ("us", " US gal ")])
def test_labels_are_in_the_units_of_the_plan(units: str, word: str) -> None:
    plan = edited(("units: metric", f"units: {units}"))
    (facts,) = facts_of(plan).systems
    assert all(word in one.packing.label for one in facts.groups)


def test_what_cold_ends_is_told_to_last_longer_in_a_warm_load_space() -> None:
    warm = ("payload: 1100 kg,", "payload: 1100 kg, air-temperature: 25 C,")
    far = ("distance: 30 km", "distance: 700 km")
    (cold,), (mild,) = facts_of(edited(far)).systems, facts_of(edited(far, warm)).systems
    said = " ".join(words for one in cold.groups for words in one.packing.safe.extends)
    assert "a load space kept at 22 °C" in said
    for before, after in zip(cold.groups, mild.groups, strict=True):
        assert after.packing.safe.limited_by != "temperature" or (
            after.packing.safe.estimate.low >= before.packing.safe.estimate.low
        )


def test_the_same_plan_is_packed_the_same_twice() -> None:
    assert facts_of(plan_of()).systems == facts_of(plan_of()).systems
