"""Waves in which animals come, and what a filter will never carry."""

from __future__ import annotations

from decimal import Decimal

import pytest

from moveplan.plan.livestock import Livestock
from moveplan.quantities.keeping.filter_load import ammonia_load, removal
from moveplan.quantities.keeping.stocking import balance_of, order_in, waves_of
from moveplan.quantities.policy import Policy
from tests.quantities.keeping.test_holding import system

POLICY = Policy({})


def group(name: str, kind: str, size_cm: float, temperament: str, *, wished: bool = False) -> Livestock:
    return Livestock(name, name, kind, 1, size_cm, None, temperament, "display", Decimal(1), wished=wished)


CREW = group("snails", "snail", 2.5, "peaceful")
CORALS = group("hammers", "large-polyp-coral", 10.0, "peaceful")
TIMID = group("firefish", "firefish", 6.0, "timid")
CALM = group("clowns", "clownfish", 7.0, "peaceful")
FIGHTER = group("tang", "tang", 14.0, "territorial")
ALL = ((FIGHTER, 1), (CALM, 2), (CORALS, 4), (TIMID, 2), (CREW, 10))


def test_clean_up_crew_before_corals_before_timid_before_territorial_fish() -> None:
    """Order of release in the trade: common practice, no source."""
    assert [one.id for one, _ in order_in(ALL)] == ["snails", "hammers", "firefish", "clowns", "tang"]


def test_fish_come_after_the_rest_and_fighters_after_the_peaceful() -> None:
    waves = waves_of(system(1.5, 30.0), ALL, 400.0, 1000.0, POLICY)
    assert [[one.id for one, _ in wave.groups] for wave in waves] == [
        ["snails", "hammers"],
        ["firefish", "clowns"],
        ["tang"],
    ]


def test_no_wave_after_the_first_adds_more_than_half_of_the_load_there_is() -> None:
    fish = tuple((group(f"f{n}", "chromis", 8.0, "peaceful"), 3) for n in range(8))
    first = 60.0
    waves = waves_of(system(1.5, 30.0), fish, 400.0, first, POLICY)
    held = first
    assert len(waves) > 2
    for number, wave in enumerate(waves):
        if len(wave.groups) > 1:
            assert wave.load <= held * (1.0 if number == 0 else 1 + POLICY["load_step"]) + 1e-9
        held = max(held, wave.load)


def test_everybody_comes_once() -> None:
    waves = waves_of(system(1.5, 30.0), ALL, 400.0, 20.0, POLICY)
    assert sorted(one.id for wave in waves for one, _ in wave.groups) == sorted(one.id for one, _ in ALL)


def test_live_rock_takes_up_what_was_measured_on_it() -> None:
    """Li et al. (2017), Acta Oceanol. Sin. 36(12), 87-94: 0.141 mg NH4/(kg h), 105 mg N a day for 40 kg."""
    low = removal(system(1.0, 40.0), POLICY, surfaces=0.0).low
    assert low == pytest.approx(105.1, abs=0.2)


def test_food_sets_the_upper_end_of_the_load() -> None:
    """Timmons and Ebeling (2013): feed × protein × 0.092; 2 g at 45 % are 82.8 mg N a day."""
    assert ammonia_load(system(), ((CALM, 1),), POLICY).high == pytest.approx(82.8)


def test_a_stock_beyond_the_filter_is_named_the_wished_first() -> None:
    wish = group("wish", "tang", 20.0, "territorial", wished=True)
    many = ((wish, 20), (CALM, 2))
    found = balance_of(system(0.5, 2.0), many, POLICY)
    assert found.load.likely > found.capacity.likely
    assert found.beyond[0] == "wish"
    assert balance_of(system(1.5, 40.0), ((CALM, 2),), POLICY).beyond == ()
