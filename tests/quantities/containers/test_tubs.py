"""Tubs of rock, media and old water: how many, how full, and none heavier than those who lift can lift."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.plan.supplies import GearItem
from moveplan.quantities.containers.tubs import (
    DAMP_L,
    EMPTY_KG_A_LITRE,
    WATER_KG_L,
    arrange,
    fill_l,
    keeping,
    racks_for,
    tub_volume_l,
)
from moveplan.quantities.freight.lifting import TUB_KG
from tests.quantities.plans import system

SOAKED = 1.36


def test_no_tub_is_heavier_than_two_people_lift_nor_fuller_than_on_the_road() -> None:
    for volume in (20.0, 40.0, 60.0, 90.0):
        water = fill_l(volume)
        assert WATER_KG_L * water + EMPTY_KG_A_LITRE * volume <= TUB_KG + 1e-9
        assert water <= 0.75 * volume
    assert fill_l(20.0) == pytest.approx(15.0)  # a small tub: the fill limits, not the mass
    assert fill_l(2000.0) == 0.0  # a tub that is too heavy when empty holds nothing
    assert fill_l(60.0) == pytest.approx((20.0 - 1.8) / 1.025)
    assert fill_l(60.0, 3.0) == pytest.approx(fill_l(60.0) - 3.0 / 1.025)


def test_the_most_numerous_tub_counts() -> None:
    tubs = (
        GearItem("few", "Few", "tub", 3, volume_l=90.0),
        GearItem("many", "Many", "tub", 8, volume_l=45.0),
        GearItem("bags", "Bags", "bag", 30, volume_l=12.0),
    )
    assert tub_volume_l(tubs) == 45.0
    assert tub_volume_l(()) == 60.0


def test_rock_travels_damp_in_as_many_tubs_as_its_mass_needs() -> None:
    found = arrange(replace(system(), rock_kg=32.0), 60.0, SOAKED)
    # 43.5 kg soaked; a tub takes 20 - 1.8 - 1.025 = 17.2 kg of it: three tubs of 14.5 kg.
    assert found.rock == 3
    assert found.rock_kg == pytest.approx(32.0 * SOAKED / 3)
    assert (found.media, found.keep) == (1, 0)
    assert found.used_l == 4 * DAMP_L
    assert arrange(replace(system(), rock_kg=0.0), 60.0, SOAKED).rock == 0


@pytest.mark.parametrize(
    ("sump_l", "rock_kg", "kind", "media"),
    [
        (30.0, 32.0, "heater", 1),  # in the sump
        (0.0, 32.0, "heater", 0),  # the rock is the filter
        (0.0, 32.0, "reactor", 1),
        (0.0, 32.0, "other", 1),  # a filter that hangs on the tank
        (0.0, 0.0, "heater", 1),  # it has some filter, whatever the plan says
    ],
)
def test_media_are_where_a_filter_is_named_or_nothing_else_can_be_one(
    sump_l: float, rock_kg: float, kind: str, media: int
) -> None:
    equipment = (replace(system().equipment[0], kind=kind),)
    one = replace(system(), sump_l=sump_l, rock_kg=rock_kg, equipment=equipment)
    assert arrange(one, 60.0, SOAKED).media == media


def test_old_water_is_shared_out_evenly_and_all_of_it() -> None:
    bare = arrange(replace(system(), rock_kg=9.0), 60.0, SOAKED)
    found = keeping(bare, 100.0)
    assert found.keep == 6  # 17.8 l each at most
    assert found.kept_l == pytest.approx(100.0)
    assert found.count == bare.count + 6
    assert keeping(bare, 0.0) == bare
    assert keeping(found, 0.0).kept_l == 0.0


@pytest.mark.parametrize("heaviest_kg", [15.0, TUB_KG])
@pytest.mark.parametrize("volume_l", [20.0, 40.0, 60.0])
def test_every_tub_is_lifted_with_what_is_in_it(heaviest_kg: float, volume_l: float) -> None:
    """15 kg: one man, 20 kg: two, by handles 0.3 to 0.4 m above the floor; HSE L23, recalled."""
    found = keeping(arrange(replace(system(), rock_kg=9.0), volume_l, SOAKED, heaviest_kg), 40.0)
    empty = EMPTY_KG_A_LITRE * volume_l
    assert empty + WATER_KG_L * found.rock_l + found.rock_kg <= heaviest_kg + 1e-9
    assert empty + WATER_KG_L * found.keep_l <= heaviest_kg + 1e-9
    assert found.rock * found.rock_kg == pytest.approx(9.0 * SOAKED)


def test_one_needs_more_tubs_than_two() -> None:
    two, one = (keeping(arrange(system(), 60.0, SOAKED, kg), 100.0) for kg in (TUB_KG, 15.0))
    assert one.count > two.count


def test_corals_stand_apart() -> None:
    # Nine colonies of 12 cm with 4 cm around each: 0.23 m² on tubs of 0.137 m² usable floor.
    assert racks_for([0.12] * 9, 60.0) == 2
    assert racks_for([0.12] * 5, 60.0) == 1
    assert racks_for([], 60.0) == 0
