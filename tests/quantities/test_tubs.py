from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.plan.supplies import GearItem
from moveplan.quantities.tubs import (
    CORALS_KG,
    FILL,
    MEDIA_KG,
    ONE_PERSON_KG,
    ROCK_SHARE,
    TUB_EMPTY_SHARE,
    TWO_PEOPLE_KG,
    WATER_KG_L,
    arrange,
    fill_l,
    lift_kg,
    tub_volume_l,
)
from tests.quantities.plans import system


def test_no_tub_is_heavier_than_two_people_lift_nor_fuller_than_on_the_road() -> None:
    for volume in (20.0, 40.0, 60.0, 90.0):
        water = fill_l(volume)
        assert WATER_KG_L * water + TUB_EMPTY_SHARE * volume <= TWO_PEOPLE_KG + 1e-9
        assert water <= FILL * volume
    assert fill_l(20.0) == pytest.approx(15.0)  # a small tub: the fill limits, not the mass
    assert fill_l(2000.0) == 0.0  # a tub that is too heavy when empty holds nothing


def test_the_most_numerous_tub_counts() -> None:
    tubs = (
        GearItem("few", "Few", "tub", 3, volume_l=90.0),
        GearItem("many", "Many", "tub", 8, volume_l=45.0),
        GearItem("bags", "Bags", "bag", 30, volume_l=12.0),
    )
    assert tub_volume_l(tubs) == 45.0
    assert tub_volume_l(()) == 60.0


def test_rock_takes_as_many_tubs_as_its_mass_needs() -> None:
    found = arrange(replace(system(), rock_kg=32.0), [], 0.0, 60.0, 1.36)
    # 0.55 of (33.3 - 1.8) kg is soaked rock, 12.7 kg when dry: three tubs.
    assert found.rock_kg == pytest.approx(ROCK_SHARE * (TWO_PEOPLE_KG - 1.8) / 1.36)
    assert found.rock == 3
    assert (found.coral, found.media, found.keep) == (0, 1, 0)


def test_corals_stand_apart_and_old_water_fills_what_is_left() -> None:
    none = arrange(replace(system(), rock_kg=0.0), [], 0.0, 60.0, 1.36)
    assert (none.rock, none.coral, none.keep) == (0, 0, 0)
    some = arrange(replace(system(), rock_kg=0.0), [0.12] * 9, 100.0, 60.0, 1.36)
    # Nine colonies of 12 cm with 4 cm around each: 0.23 m² on tubs of 0.137 m² usable floor.
    assert some.coral == 2
    assert some.kept_l >= 100.0
    assert some.kept_l - some.water_l < 100.0
    assert some.count == some.rock + some.coral + some.media + some.keep


def test_a_tub_of_rock_keeps_its_mass() -> None:
    found = arrange(replace(system(), rock_kg=32.0), [], 0.0, 60.0, 1.36)
    load = 1.36 * found.rock_kg + WATER_KG_L * found.rock_water_l + TUB_EMPTY_SHARE * found.volume_l
    assert load == pytest.approx(TWO_PEOPLE_KG)


def test_one_person_alone_lifts_every_tub_with_what_is_in_it() -> None:
    """25 kg: the filter of HSE L23 for one man who lifts close to the body, recalled."""
    for volume in (20.0, 40.0, 60.0, 120.0):
        found = arrange(
            replace(system(), rock_kg=9.0), [0.1] * 3, 40.0, volume, 1.36, heaviest_kg=lift_kg(1, volume)
        )
        empty = TUB_EMPTY_SHARE * volume
        assert found.lift_kg == ONE_PERSON_KG == 25.0
        assert empty + WATER_KG_L * found.coral_water_l + CORALS_KG <= ONE_PERSON_KG + 1e-9
        assert empty + WATER_KG_L * found.media_water_l + MEDIA_KG <= ONE_PERSON_KG + 1e-9
        assert empty + WATER_KG_L * found.water_l <= ONE_PERSON_KG
        rock = 1.36 * found.rock_kg
        assert empty + WATER_KG_L * found.rock_water_l + rock <= ONE_PERSON_KG + 1e-9
        assert found.kept_l >= 40.0


def test_two_people_fill_tubs_as_before_and_one_needs_more_of_them() -> None:
    stock = replace(system(), rock_kg=9.0)
    two = arrange(stock, [], 100.0, 60.0, 1.36)
    one = arrange(stock, [], 100.0, 60.0, 1.36, heaviest_kg=lift_kg(1, 60.0))
    assert fill_l(60.0) == two.water_l
    for found in (one, two):
        water = found.coral_water_l * WATER_KG_L
        assert TUB_EMPTY_SHARE * 60.0 + water + CORALS_KG == pytest.approx(found.lift_kg)
    assert lift_kg(0, 60.0) == lift_kg(5, 60.0) == TWO_PEOPLE_KG
    assert one.count > two.count


def test_a_tub_that_one_person_cannot_get_hold_of_is_for_two() -> None:
    assert lift_kg(1, 400.0) == TWO_PEOPLE_KG
