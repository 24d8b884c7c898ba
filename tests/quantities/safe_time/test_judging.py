"""Safe times as estimates: their range, and that what is said to extend them was tried and does."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, Journey, LoadSpace
from moveplan.quantities.safe_time.judging import TIMES, VAT, judged, lasting_h, minutes
from moveplan.quantities.safe_time.metabolism import Breathing
from moveplan.quantities.safe_time.safe_time import SafeTime
from moveplan.quantities.safe_time.verdicts import Judge
from tests.quantities.plans import MILD

FISH = Breathing(1.0, 0.07, 5.0, resting_mg_h=0.5, hardy=True)
LONG = Journey(1.0, 6.0, 1.0)
TUB = Box("tub", 60.0, 17.0, LONG)
BAG = Box("bag", 12.0, 4.0, LONG, insulated=True)
COLD = replace(MILD, load_spaces=(LoadSpace("van", -5.0, 8.0, 0.0, 0.6),))
HOT = replace(MILD, load_spaces=(LoadSpace("van", 25.5, 38.0, 0.0, 0.6),))


def safe(box: Box, load: Breathing = FISH, around=COLD) -> SafeTime:  # type: ignore[no-untyped-def]
    (found,) = judged([(box, load)], around, Judge(Policy({})))
    return found


def low_h(box: Box, around=COLD, load: Breathing = FISH) -> float:  # type: ignore[no-untyped-def]
    return lasting_h([(box, load)], around, Judge(Policy({})))[0]


def test_low_likely_and_high_are_minutes_with_their_basis() -> None:
    for box in (TUB, BAG):
        found = safe(box).estimate
        assert found.low <= found.likely <= found.high
        assert found.low == minutes(low_h(box))
        assert found.unit == "min"
        assert "1.0 h in the room, 6.0 h on the road, 1.0 h in the room" in found.basis


def test_minutes_are_whole_rounded_down_and_finite() -> None:
    assert minutes(1.999) == 119.0
    assert minutes(float("inf")) == 8760 * 60


def test_each_way_to_extend_it_was_tried_and_says_the_hours_that_it_gives() -> None:
    variants = {
        f"twice the water and air for each animal{VAT}": replace(TUB, water_l=34.0, volume_l=120.0),
        "a wrap of 10 mm foam": replace(TUB, wrapped=True),
        "a small heater with a thermostat in the rooms": replace(TUB, heater_w=25.0),
    }
    said = dict(words.removesuffix(" h").split(": ") for words in safe(TUB).extends)
    assert set(said) <= {*variants, "a load space kept at 22 °C"}
    assert {"a wrap of 10 mm foam", "a load space kept at 22 °C"} <= set(said)
    for words, hours in said.items():
        if words in variants:
            assert float(hours) == pytest.approx(low_h(variants[words]), abs=0.051)
        assert float(hours) > low_h(TUB)


def test_what_lasts_for_its_journey_is_told_no_way_to_extend_it() -> None:
    assert low_h(TUB, MILD) >= LONG.total_h
    assert safe(TUB, around=MILD).extends == ()


def test_where_it_is_too_hot_nobody_is_told_to_heat() -> None:
    found = safe(TUB, around=HOT)
    assert found.limited_by == "temperature"
    assert found.extends
    assert "heater" not in " ".join(found.extends)
    assert "a load space kept at 22 °C" in " ".join(found.extends)


def test_oxygen_is_not_said_to_extend_what_carbon_dioxide_ends() -> None:
    """Pure oxygen in the bag takes no carbon dioxide out of it; twice the water and gas do."""
    crowd = Breathing(60.0, 0.5, 60.0, resting_mg_h=30.0, hardy=True)
    found = safe(BAG, crowd, MILD)
    assert found.limited_by == "carbon-dioxide"
    assert [words.partition(":")[0] for words in found.extends] == ["twice the water and air for each animal"]


def test_a_bag_that_is_to_be_emptied_soon_after_it_is_opened_says_so() -> None:
    crowded = Breathing(40.0, 20.0, 15.0, resting_mg_h=20.0)
    assert safe(BAG, crowded, MILD).unpacking == "open"
    assert safe(TUB, FISH, MILD).unpacking == ""


def test_many_containers_at_once_are_as_each_by_itself() -> None:
    rows = ((BAG, FISH), (TUB, FISH))
    both = judged(rows, COLD, Judge(Policy({})))
    assert both == tuple(safe(box) for box, _ in rows)


def test_a_large_fish_is_told_the_least_water_that_lasts_and_the_vat_that_it_takes() -> None:
    """Half a kilogram in an aired tub that two people can carry, and in twice, four times, eight times as much."""
    large = Breathing(180.0, 8.0, 500.0, resting_mg_h=90.0, hardy=True)
    aired = replace(TUB, stones=4)
    more = {
        times: low_h(replace(aired, water_l=17.0 * times, volume_l=60.0 * times), MILD, large)
        for times in TIMES
    }
    least = min(times for times, hours in more.items() if hours >= LONG.total_h)
    assert least > 2
    assert safe(aired, large, MILD).extends[0] == (
        f"{TIMES[least]} the water and air for each animal{VAT}: {more[least]:.1f} h"
    )
    assert "stands in the vehicle" in VAT


def test_oxygen_beside_the_air_is_tried_where_air_alone_does_not_do() -> None:
    fish = Breathing(40.0, 2.0, 120.0, resting_mg_h=20.0, hardy=True)
    aired = replace(TUB, stones=1)
    air_h, gas_h = (low_h(box, MILD, fish) for box in (aired, replace(aired, oxygen=True)))
    assert gas_h > 2 * air_h
    assert air_h < LONG.total_h
    assert (
        f"oxygen out of a cylinder bubbling beside the air: {gas_h:.1f} h" in safe(aired, fish, MILD).extends
    )
