"""The ways of packing a company: what is on offer, how full, and what it takes from the stock."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.quantities.containers.bags import bags_of
from moveplan.quantities.containers.company import Company, Journeys
from moveplan.quantities.containers.means import Means, Spec, bags_to_a_box, boxes_for
from moveplan.quantities.containers.offers import Offer, opened
from moveplan.quantities.containers.stock import Stock
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Journey
from tests.quantities.plans import WAY, means

WAYS = Journeys(WAY, Journey(2.0, 0.0, 0.0), Journey(1.0, 1.0, 4.0))
FISH = Company(3, 30.0, 0.08, (), "", may_be_bagged=True, bags=3, journeys=WAYS)
CORALS = Company(4, 0.0, 0.10, (0.10,) * 4, "", may_be_bagged=False, bags=0, journeys=WAYS)
POLICY = Policy({})


def offers(company: Company = FISH, have: Means | None = None) -> tuple[Offer, ...]:
    """Whatever a company could travel in; those that are bagged late wait in the first place there is."""
    have = have or means()
    bags = bags_of(company, have, POLICY)
    late = [
        replace(bag, waiting=place) for bag in bags.late for place in bags.waits(bag, lambda one: one.own_min)
    ]
    return (*opened(company, have, POLICY, company.journeys.whole, 2.0), *bags.whole, *late)


def test_fish_may_travel_in_every_kind_and_corals_in_what_stands_still() -> None:
    assert {one.spec.kind for one in offers()} == {"tub", "pail", "box", "bag"}
    assert {one.spec.kind for one in offers(CORALS)} == {"tub", "box"}


def test_no_more_containers_than_animals() -> None:
    assert max(one.count for one in offers()) == 3
    assert {one.count for one in offers() if one.spec.kind == "bag"} == {3}


def test_water_covers_the_longest_and_is_enough_for_the_mass() -> None:
    """0.6 of the longest, 7 cm at least; and no more grams a litre than the policy allows."""
    long = replace(FISH, longest_m=0.20, biomass_g=60.0)
    for one in offers(long):
        if one.spec.kind in ("tub", "box"):
            assert one.count * one.box.water_l >= 60.0 / POLICY["loading_aerated"] - 0.1
    assert min(one.box.depth_m for one in offers(long) if one.spec.kind == "tub") > min(
        one.box.depth_m for one in offers() if one.spec.kind == "tub"
    )


def test_bags_hold_a_third_or_half_of_water_and_their_water_is_there_where_they_wait() -> None:
    bags = [one for one in offers() if one.spec.kind == "bag"]
    assert {round(one.box.water_l, 1) for one in bags} == {4.0, 6.0}
    assert {one.box.journey for one in bags if one.waiting is None} == {WAYS.whole}
    waited = [one for one in bags if one.waiting is not None]
    assert waited
    for one in waited:
        assert one.box.journey == WAYS.bagged
        assert one.waiting is not None
        assert one.waiting.box.journey == WAYS.waiting
        assert one.waiting.count * one.waiting.box.water_l >= 3 * one.box.water_l


def test_oxygen_is_on_offer_only_where_there_is_some() -> None:
    assert not any(one.box.oxygen for one in offers())
    fed = [one for one in offers(have=means(oxygen=True)) if one.box.oxygen]
    assert {one.spec.kind for one in fed} == {"tub", "pail", "box", "bag"}
    assert all(one.box.stones for one in fed if one.spec.kind != "bag")  # air takes the carbon dioxide out


def test_boxes_hold_as_many_bags_as_fit() -> None:
    """By volume 40 l over 12 l is 3; but 2 kg and 3 bags of 0.1 kg and 6 l would be 20.8 kg, and two people lift 20."""
    assert bags_to_a_box(means()) == 2
    assert [boxes_for(means(), bags) for bags in (1, 2, 3)] == [1, 1, 2]
    assert bags_to_a_box(replace(means(), lift_kg=21.0)) == 3
    assert bags_to_a_box(means(Spec("box", "small", 10.0, 0, bought=True))) == 1


def test_what_is_taken_is_not_there_for_the_next() -> None:
    spec = Spec("tub", "tubs", 60.0, 4, bought=True)
    stock = Stock(means(spec, outlets=4, wraps=1, heaters=0), 2.0)
    aired = next(
        one
        for one in offers(have=stock.means)
        if one.spec is spec and one.box.stones == 2 and one.box.wrapped and one.count == 2
    )
    stock.taking(aired)
    assert stock.left(spec) == 2
    assert stock.short(spec, 3) == 1
    assert stock.short_of("outlet", 4, 1) == 1
    assert stock.short_of("wrap", 1, 1) == 1


def test_what_has_to_be_got_costs_more_than_what_is_there() -> None:
    def cheapest(there: int) -> float:
        stock = Stock(means(Spec("tub", "tubs", 60.0, there, bought=True)), 2.0)
        tubs = [one for one in offers(have=stock.means) if one.spec.gear == "tubs"]
        return min(map(stock.pricing(FISH), tubs))

    assert cheapest(0) == pytest.approx(cheapest(5) + 60.0)


def test_a_size_that_is_not_bought_is_offered_only_as_far_as_it_is_there() -> None:
    small = Spec("tub", "small", 30.0, 1, bought=False)
    stock = Stock(means(Spec("tub", "tubs", 60.0, 0, bought=True), small), 2.0)
    assert {one.count for one in offers(have=stock.means) if one.spec is small} == {1}
    stock.take("small", 1)
    assert not any(stock.offers(one) for one in offers(have=stock.means) if one.spec is small)
