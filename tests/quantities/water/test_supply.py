"""Purified water: what the unit makes in time, what is bought, and where it is made."""

from __future__ import annotations

import pytest

from moveplan.cost.book import price_book
from moveplan.practice.compose import project_of
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.leg.legs import plain_leg
from tests.quantities.plans import edited, plan_of


def test_a_unit_that_is_fast_enough_makes_all_of_it() -> None:
    supply = facts_of(plan_of()).supply
    assert supply is not None
    assert supply.bought_l == 0.0
    assert supply.needed_days < supply.days


def test_what_it_cannot_make_in_time_is_bought_and_said() -> None:
    plan = edited(("rate: 190 l/day", "rate: 3 l/day"))
    project = project_of(plan)
    facts = facts_of(plan, measured=project.measured[0])
    supply = facts.supply
    assert supply is not None
    assert supply.bought_l > 0
    assert supply.made_l + supply.bought_l == pytest.approx(facts.water.purified.likely)
    (said,) = (one for one in facts.findings if "are bought and fetched" in one.message)
    assert "water-making.rate" in said.where
    for way in ("second unit", "water-kept", "a move day from"):
        assert way in said.remedy
    made, fetched = (
        sum(one.litres for one in project.ledger.pours if one.task == task and one.source == "tap")
        for task in ("make-water", "fetch-water")
    )
    assert made == pytest.approx(supply.made_l)
    assert fetched == pytest.approx(supply.bought_l)
    assert "purified-water" in price_book()


def test_without_a_unit_all_is_bought() -> None:
    plan = edited(("water-making: {rate: 190 l/day, storage: 200 l}", "water-making: {rate: 0 l/day}"))
    supply = facts_of(plan).supply
    assert supply is not None
    assert (supply.made_l, supply.bought_l) == (0.0, facts_of(plan).water.purified.likely)


OPEN = ("dates: {move-day: 2027-03-13,", "dates: {move-day: 2027-03-13, access-from: 2027-02-01 12:00,")
NEAR = ("distance: 30 km}", "distance: 1 km, drive: {low: 1 min, likely: 2 min, high: 4 min}}")
THERE = ("floor-kind: slab, ", "floor-kind: slab, water: yes, power: yes, ")


def test_water_is_made_where_it_is_the_least_work() -> None:
    assert not plain_leg(edited(OPEN, THERE)).water_there
    near = edited(OPEN, THERE, NEAR, ("floor: 0, steps: 2, ", "floor: 2, "))
    assert plain_leg(near).water_there
    assert any(one.key == "water-making" for one in project_of(near).assumptions)


def test_water_is_not_made_in_a_home_that_opens_too_late() -> None:
    late = ("dates: {move-day: 2027-03-13,", "dates: {move-day: 2027-03-13, access-from: 2027-03-11 12:00,")
    assert not plain_leg(edited(late, THERE, NEAR, ("floor: 0, steps: 2, ", "floor: 2, "))).water_there
