"""Every container of a day has one number, and together they hold what is to be held."""

from __future__ import annotations

import pytest

from moveplan.quantities.assemble import facts_of
from moveplan.quantities.containers.journeys import journeys_of
from moveplan.quantities.containers.means import Spec
from moveplan.quantities.containers.vessels import Use
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.leg.numbered import CAN_L, cans_for
from tests.quantities.plans import SECOND, TEXT, edited, plan_of, water_in


@pytest.fixture(scope="module")
def facts() -> SystemFacts:
    (one,) = facts_of(plan_of()).systems
    return one


LONG = journeys_of(8.0, 1.5, 1.0, 7.0, 1.3)
"""Longer than a bag of air may stay closed, from the catch on; not from the loading on."""


def test_no_two_containers_have_one_number_even_of_two_systems() -> None:
    both = facts_of(plan_of(TEXT.replace("livestock:\n", SECOND + "livestock:\n"))).systems
    numbers = [vessel.number for one in both for vessel in one.vessels]
    assert len(numbers) == len(set(numbers))
    assert {vessel.system for one in both for vessel in one.vessels} == {"reef", "frags"}


def test_numbers_of_a_kind_run_without_a_gap(facts: SystemFacts) -> None:
    for letter in ("T", "C"):
        own = sorted(int(one.number[1:]) for one in facts.vessels if one.number[0] == letter)
        assert own == list(range(1, len(own) + 1))


def test_containers_hold_every_animal_once_and_the_litres_that_were_reckoned(facts: SystemFacts) -> None:
    for group in facts.groups:
        held = [one for vessel in facts.vessels for one in vessel.holds if one.id == group.livestock.id]
        assert sum(one.count for one in held) == group.count
    assert water_in(facts.of_use(Use.OLD_WATER)) == pytest.approx(facts.water.kept.likely)
    assert water_in(facts.of_use(Use.ROCK, Use.MEDIA)) == pytest.approx(facts.tubs.used_l)
    assert water_in(facts.of_use(Use.NEW_WATER)) == pytest.approx(facts.water.new.likely)
    assert water_in(facts.of_use(Use.SPARE_WATER)) == pytest.approx(facts.spare_l)
    assert len(facts.of_use(Use.ROCK)) == facts.tubs.rock


def test_bags_are_in_boxes_and_wait_in_something_before() -> None:
    bag = edited(
        ("size: 7 cm, temperament: territorial", "size: 7 cm, temperament: territorial, container: bag"),
    )
    (one,) = facts_of(bag, measured={"clowns": LONG}).systems
    bags = [vessel for vessel in one.vessels if vessel.kind == "bag"]
    boxed = [held.id for box in one.of_use(Use.BAGS) for held in box.holds]
    assert sorted(boxed) == sorted(vessel.number for vessel in bags)
    (waiting,) = one.of_use(Use.WAITING)
    assert waiting.livestock == ("clowns",)
    assert waiting.water_l >= water_in(bag for bag in bags if bag.livestock == ("clowns",))


@pytest.mark.parametrize("count", [1, 2, 4, 5, 7, 9])
def test_no_bag_stands_with_fewer_others_than_it_was_judged_with(count: int) -> None:
    """Bags are shared out evenly over their boxes, so that none cools alone."""
    bag = edited(
        ("size: 7 cm, temperament: territorial", "size: 4 cm, container: bag"),
        ("count: 2", f"count: {count}"),
    )
    (one,) = facts_of(bag).systems
    boxed = [len(box.holds) for box in one.of_use(Use.BAGS)]
    bags = [vessel for vessel in one.vessels if vessel.kind == "bag"]
    assert sum(boxed) == len(bags) > 0
    assert max(boxed) - min(boxed) <= 1
    judged = [group.packing.box.neighbours for group in one.groups if group.packing.bagged]
    assert max(judged) <= min(boxed)


def test_a_can_is_filled_with_what_one_carries_over_stairs() -> None:
    """16 kg at knuckle height by one man over stairs; HSE L23, recalled."""
    can, small = Spec("can", "can", 20.0, 0, bought=True), Spec("can", "can", 10.0, 0, bought=True)
    assert [cans_for(can, litres) for litres in (0.0, 14.0, 14.1)] == [0, 1, 2]
    assert cans_for(small, 30.0) == 3
    assert CAN_L * 1.025 + 0.03 * 20 <= 16.0
