from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.quantities.boxes import Box, Surroundings, cooling_constant_h
from moveplan.quantities.judging import judged, minutes, safe_time_of
from moveplan.quantities.metabolism import Breathing
from moveplan.quantities.policy import Policy

POLICY = Policy({})
AROUND = Surroundings(
    temperature_c=25.5,
    salinity_psu=35.0,
    room_c=19.0,
    vehicle_c=8.0,
    cold_h=2.0,
    needed_h=8.0,
    battery_h=20.0,
)
FISH = Breathing(oxygen_mg_h=6.0, ammonia_mg_n_h=0.45, biomass_g=15.0)
BAG = Box(4.0, 8.0, insulated=True)
TUB = Box(30.0, 15.0, aerated=True, heated=True)


def low_h(box: Box, load: Breathing = FISH, around: Surroundings = AROUND) -> float:
    """Low end of a safe time. [h]."""
    return safe_time_of(box, load, around, POLICY).estimate.low / 60


def test_the_mean_air_is_weighted_by_time() -> None:
    assert AROUND.mean_air_c == pytest.approx(0.25 * 8 + 0.75 * 19)
    assert replace(AROUND, cold_h=20.0).mean_air_c == pytest.approx(8.0)
    assert replace(AROUND, needed_h=0.0).mean_air_c == pytest.approx(8.0)


def test_insulation_wrap_and_neighbours_slow_the_cooling() -> None:
    bare = Box(10.0, 5.0)
    constants = [
        cooling_constant_h(box, AROUND)
        for box in (
            bare,
            replace(bare, wrapped=True),
            replace(bare, insulated=True),
            replace(bare, insulated=True, neighbours=3),
        )
    ]
    assert constants == sorted(constants)
    assert constants[0] < 0.5 * constants[2]


def test_more_animals_in_one_bag_are_safe_for_less_time() -> None:
    warm = replace(AROUND, room_c=25.0, vehicle_c=25.0)
    times = [low_h(BAG, Breathing(6.0 * n, 0.45 * n, 15.0 * n), warm) for n in (1, 2, 4, 8)]
    assert times == sorted(times, reverse=True)
    assert times[-1] < times[0]


def test_an_aerated_tub_lasts_longer_than_a_bag_and_ends_with_its_battery() -> None:
    mild = replace(AROUND, room_c=25.5, vehicle_c=25.5)
    busy = replace(FISH, oxygen_mg_h=60.0)
    assert low_h(TUB, FISH, mild) > low_h(BAG, FISH, mild)
    assert low_h(TUB, busy, replace(mild, battery_h=3.0)) < low_h(TUB, busy, mild)


def test_low_likely_and_high_come_from_the_spread_of_oxygen_use() -> None:
    found = safe_time_of(BAG, FISH, replace(AROUND, room_c=25.0, vehicle_c=25.0), POLICY)
    assert found.estimate.low <= found.estimate.likely <= found.estimate.high
    assert found.estimate.unit == "min"
    assert found.limited_by in ("oxygen", "carbon-dioxide", "ammonia", "temperature", "policy")


def test_every_way_to_extend_it_was_tried_and_does() -> None:
    found = safe_time_of(BAG, FISH, replace(AROUND, vehicle_c=2.0), POLICY)
    assert found.extends
    for words in found.extends:
        hours = float(words.rpartition(": ")[2].removesuffix(" h"))
        assert hours > 1.1 * found.estimate.low / 60 - 0.1


def test_a_warm_vehicle_counts_as_much_as_a_cold_one() -> None:
    mild = low_h(BAG, around=replace(AROUND, vehicle_c=25.5, room_c=25.5))
    assert low_h(BAG, around=replace(AROUND, vehicle_c=45.0, cold_h=8.0)) < mild
    assert low_h(BAG, around=replace(AROUND, vehicle_c=-5.0, cold_h=8.0)) < mild


def test_a_heated_tub_is_reckoned_in_the_cold_only_if_the_way_is_long() -> None:
    near, far = low_h(TUB, around=replace(AROUND, cold_h=0.5)), low_h(TUB, around=replace(AROUND, cold_h=6.0))
    assert near > far


def test_many_containers_at_once_are_as_each_by_itself() -> None:
    pairs = ((BAG, FISH), (TUB, FISH))
    for (worst, safe), pair in zip(judged(pairs, AROUND, POLICY), pairs, strict=True):
        ((alone, by_itself),) = judged((pair,), AROUND, POLICY)
        assert worst.safe_h == pytest.approx(alone.safe_h)
        assert safe == by_itself


def test_what_extends_a_container_is_what_its_variant_would_last() -> None:
    longer = low_h(replace(BAG, water_l=2 * BAG.water_l, gas_l=2 * BAG.gas_l))
    said = safe_time_of(BAG, FISH, AROUND, POLICY).extends[0]
    words, hours = said.removesuffix(" h").split(": ")
    assert words == "twice the water and air, or half the animals to a container"
    assert float(hours) == pytest.approx(longer, abs=0.07)  # a tenth of an hour shown, whole minutes beneath


def test_minutes_are_whole_rounded_down_and_finite() -> None:
    assert minutes(1.999) == 119.0
    assert minutes(float("inf")) == 8760 * 60


def test_opening_matters_where_ammonia_bites_when_air_comes_in() -> None:
    crowded = Breathing(40.0, 20.0, 15.0)
    assert safe_time_of(BAG, crowded, AROUND, POLICY).unpacking == "open"
    assert safe_time_of(TUB, FISH, AROUND, POLICY).unpacking == ""
