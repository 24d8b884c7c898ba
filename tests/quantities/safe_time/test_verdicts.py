"""How long a container lasts: what bounds it, in which direction each thing moves it, and that nothing is a cliff."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, Journey, LoadSpace, Surroundings
from moveplan.quantities.safe_time.ends import Asked, ends_of
from moveplan.quantities.safe_time.gas_hours import gas_hours
from moveplan.quantities.safe_time.metabolism import Breathing
from moveplan.quantities.safe_time.verdicts import BOUND_BY, Judge, Verdict
from moveplan.science.numbers import Array
from tests.quantities.plans import MILD, ROOMS, WAY

POLICY = Policy({})
LOW, LIKELY, HIGH = ends_of(POLICY)
FISH = Breathing(6.0, 0.45, 15.0, resting_mg_h=3.0, hardy=True)
SMALL = Breathing(1.0, 0.07, 5.0, resting_mg_h=0.5, hardy=True)
TUB = Box("tub", 60.0, 17.0, WAY)
AIRED = replace(TUB, stones=1)
BAG = Box("bag", 12.0, 4.0, WAY, insulated=True)
OXYGEN = BOUND_BY.index("oxygen")
BATTERY = BOUND_BY.index("battery")
AMMONIA = BOUND_BY.index("ammonia")
TEMPERATURE = BOUND_BY.index("temperature")


def verdict(box: Box, load: Breathing = FISH, around: Surroundings = ROOMS, **policy: float) -> Verdict:
    """Judge one container at the low end."""
    own = Policy(policy)
    (found,) = Judge(own).verdicts([(box, load, ends_of(own)[0])], around)
    return found


def air(degrees: float) -> Surroundings:
    """Rooms and load space of one temperature."""
    return replace(
        ROOMS,
        rooms_low_c=(degrees, degrees),
        rooms_high_c=(degrees, degrees),
        load_spaces=(LoadSpace("van", degrees, degrees, 0.0, 0.6),),
    )


def test_the_shortest_limit_bounds_and_the_factor_cuts_gas_and_ammonia_but_not_the_path_of_temperature() -> (
    None
):
    for box in (TUB, AIRED, BAG):
        for around in (ROOMS, MILD):
            found = verdict(box, around=around)
            cut = [0.7 * one for one in found.hours[:3]] + list(found.hours[3:])
            assert POLICY["safety_factor"] == 0.7
            assert found.safe_h == pytest.approx(min(cut))
            assert found.limited_by == BOUND_BY[cut.index(min(cut))]


@pytest.mark.parametrize("box", [TUB, replace(TUB, wrapped=True), BAG], ids=("bare", "wrapped", "bag"))
@pytest.mark.parametrize("degrees", [*range(0, 22, 3), *range(30, 46, 3)])
def test_a_tenth_of_a_degree_of_air_moves_the_safe_time_by_minutes(box: Box, degrees: int) -> None:
    """No cliff: where it ends on the way, a tenth of a kelvin moves the end by less than half an hour."""
    one, other = (verdict(box, SMALL, air(degrees + more)).hours[TEMPERATURE] for more in (0.0, 0.1))
    assert (one < other) is (degrees < 25) or one == other
    if max(one, other) < WAY.total_h:
        assert abs(one - other) < 0.5


@pytest.mark.parametrize("degrees", [10.0, 18.0, 40.0])
def test_water_takes_on_the_temperature_of_the_room_from_when_it_is_filled_in(degrees: float) -> None:
    """In one air all the way, every hour before the animals come is one less after it, down to none; gases wait."""
    found = [
        verdict(replace(TUB, journey=replace(WAY, filled_h=hours)), SMALL, air(degrees))
        for hours in (0.0, 0.5, 24.0)
    ]
    fresh, half, stale = (one.hours[TEMPERATURE] for one in found)
    assert half == pytest.approx(max(fresh - 0.5, 0.0), abs=1e-6)
    assert stale == 0.0 < fresh < 24.0
    assert {one.hours[:3] for one in found} == {found[0].hours[:3]}
    warmed = verdict(replace(TUB, heater_w=100.0, journey=replace(WAY, filled_h=24.0)), SMALL, air(18.0))
    assert warmed.hours[TEMPERATURE] > WAY.before_h, "a heater in it keeps it warm from the filling on"


def test_the_grid_of_airs_reaches_from_too_cold_before_loading_to_never_too_cold() -> None:
    """So the test above sees ends in the room, on the road and after it."""
    hours = [verdict(TUB, SMALL, air(degrees)).hours[TEMPERATURE] for degrees in (0, 20, 23)]
    assert hours[0] < WAY.before_h < hours[1] < WAY.total_h < 24.0 < hours[2]


@pytest.mark.parametrize("index", [0, 1])
def test_each_room_counts_for_its_own_hours(index: int) -> None:
    rooms = list(ROOMS.rooms_low_c)
    rooms[index] -= 4.0
    assert verdict(TUB, around=replace(ROOMS, rooms_low_c=(rooms[0], rooms[1]))).safe_h <= verdict(TUB).safe_h
    cold = replace(ROOMS, rooms_low_c=(19.0, 5.0))
    assert verdict(TUB, around=cold).hours[TEMPERATURE] >= min(verdict(TUB).hours[TEMPERATURE], WAY.before_h)


def test_a_hot_load_space_shortens_and_heat_and_cold_are_judged_apart() -> None:
    hot = replace(MILD, load_spaces=(LoadSpace("van", 25.5, 38.0, 0.0, 0.6),))
    long = replace(TUB, journey=Journey(1.0, 6.0, 1.0))
    assert verdict(long, around=hot).limited_by == "temperature"
    assert verdict(long, around=hot).safe_h < verdict(long, around=MILD).safe_h
    heated = replace(long, heater_w=25.0)
    assert verdict(heated, around=hot).safe_h <= verdict(long, around=hot).safe_h
    both = replace(MILD, load_spaces=(LoadSpace("cold", 2.0, 5.0, 0.0, 0.6), *hot.load_spaces))
    assert verdict(long, around=both).safe_h <= min(
        verdict(long, around=hot).safe_h,
        verdict(long, around=replace(both, load_spaces=both.load_spaces[:1])).safe_h,
    )


def test_the_sun_on_a_parked_van_shortens() -> None:
    shade = replace(MILD, load_spaces=(LoadSpace("van", 22.0, 28.0, 0.0, 0.6),))
    sun = replace(MILD, load_spaces=(LoadSpace("van", 22.0, 28.0, 20.0, 0.6),))
    long = replace(TUB, journey=Journey(1.0, 4.0, 1.0))
    assert verdict(long, around=sun).hours[TEMPERATURE] < verdict(long, around=shade).hours[TEMPERATURE]


def test_altitude_lowers_what_oxygen_bounds() -> None:
    """83.52 kPa is 1,600 m and 70.11 kPa 3,000 m by ISO 2533: saturation falls to 82 and 68 % of that at the sea."""
    for box in (TUB, AIRED, BAG, replace(BAG, oxygen=True)):
        hours = [
            verdict(box, around=replace(MILD, pressure_kpa=kpa)).hours[OXYGEN]
            for kpa in (101.325, 83.52, 70.11)
        ]
        assert hours == sorted(hours, reverse=True)
        assert hours[2] < hours[0] or hours[0] > 1000


def test_air_oxygen_wrap_heater_and_water_each_help_against_what_they_help_against() -> None:
    assert verdict(AIRED).hours[OXYGEN] > verdict(TUB).hours[OXYGEN]
    assert verdict(replace(BAG, oxygen=True)).hours[OXYGEN] > 3 * verdict(BAG).hours[OXYGEN]
    assert verdict(replace(TUB, wrapped=True)).hours[TEMPERATURE] > verdict(TUB).hours[TEMPERATURE]
    warm = replace(TUB, wrapped=True, heater_w=25.0)
    assert verdict(warm).hours[TEMPERATURE] > verdict(replace(TUB, wrapped=True)).hours[TEMPERATURE]
    assert verdict(replace(AIRED, water_l=34.0)).hours[AMMONIA] == pytest.approx(
        2 * verdict(AIRED).hours[AMMONIA]
    )


def test_a_pump_ends_with_its_battery() -> None:
    crowd = Breathing(20.0, 0.1, 60.0, resting_mg_h=10.0)
    short, long = (verdict(AIRED, crowd, replace(MILD, battery_h=hours)) for hours in (3.0, 20.0))
    assert 3.0 <= short.hours[BATTERY] < long.hours[BATTERY]
    assert short.hours[OXYGEN] == long.hours[OXYGEN]


@pytest.mark.parametrize("hours", [1.0, 4.0, 20.0])
def test_hours_of_a_battery_count_as_they_are_and_only_those_after_them_by_the_factor(hours: float) -> None:
    """What breathes evenly uses up a lidded tub in some hours: those are biology, and are cut; the battery is not."""
    crowd = Breathing(20.0, 0.1, 0.0, steady_mg_h=20.0)
    found = verdict(AIRED, crowd, replace(MILD, battery_h=hours), longest_aerated=48.0)
    assert found.limited_by == "battery"
    assert (
        hours < found.safe_h == found.hours[BATTERY] <= hours + 0.7 * verdict(TUB, crowd, MILD).hours[OXYGEN]
    )


def test_a_container_without_a_pump_or_whose_gases_end_first_knows_no_battery() -> None:
    assert verdict(TUB).hours[BATTERY] == verdict(BAG).hours[BATTERY] == float("inf")
    crowd = Breathing(400.0, 0.1, 60.0, resting_mg_h=200.0)
    assert verdict(AIRED, crowd).limited_by in {"oxygen", "carbon-dioxide"}
    assert verdict(AIRED, crowd).hours[BATTERY] == float("inf")


def test_oxygen_beside_the_air_does_where_air_of_3_000_m_does_not_and_no_longer_than_the_pump() -> None:
    """A fish of some 60 g netted into 18 l of a box of 40 l, at 70.11 kPa."""
    high, box = replace(MILD, pressure_kpa=70.11), replace(AIRED, kind="box", volume_l=40.0, water_l=18.0)
    fish = Breathing(24.0, 0.9, 60.0, resting_mg_h=12.0, hardy=True)
    fed = replace(box, oxygen=True)
    assert verdict(replace(box, stones=4), fish, high).hours[OXYGEN] < 2.0
    assert verdict(fed, fish, high).hours[OXYGEN] > WAY.total_h
    carbon = BOUND_BY.index("carbon-dioxide")
    assert verdict(fed, fish, high).hours[carbon] >= verdict(box, fish, high).hours[carbon]
    flat = verdict(fed, fish, replace(high, battery_h=3.0)).safe_h
    assert 3.0 < flat < verdict(fed, fish, high).safe_h


def test_corals_are_not_excited_by_being_caught_and_hardy_fish_bear_twice_the_ammonia() -> None:
    fish, coral = Breathing(12.0, 0.1, 0.0, resting_mg_h=6.0), Breathing(12.0, 0.1, 0.0, steady_mg_h=12.0)
    assert verdict(TUB, coral).hours[OXYGEN] != verdict(TUB, fish).hours[OXYGEN]
    tender = replace(FISH, hardy=False)
    assert verdict(AIRED).hours[AMMONIA] == pytest.approx(2 * verdict(AIRED, tender).hours[AMMONIA])


def test_a_container_that_stays_in_the_vehicle_never_lasts_longer_in_the_cold() -> None:
    for box in (TUB, replace(TUB, wrapped=True), BAG):
        assert verdict(box).in_vehicle_h <= verdict(box).safe_h
    assert (
        verdict(TUB, around=replace(ROOMS, load_spaces=())).in_vehicle_h
        == verdict(TUB, around=replace(ROOMS, load_spaces=())).safe_h
    )


def test_low_likely_and_high_are_in_their_order() -> None:
    for box in (TUB, AIRED, BAG, replace(BAG, oxygen=True)):
        low, likely, high = Judge(POLICY).verdicts([(box, FISH, end) for end in (LOW, LIKELY, HIGH)], ROOMS)
        assert low.safe_h <= likely.safe_h <= high.safe_h


def test_many_at_once_are_as_each_by_itself_whatever_was_judged_before() -> None:
    rows = [(box, load, end) for box in (TUB, AIRED, BAG) for load in (FISH, SMALL) for end in (LOW, HIGH)]
    judge = Judge(POLICY)
    judge.verdicts(rows[:3], ROOMS)
    judge.verdicts(rows, MILD)
    together = judge.verdicts(rows, ROOMS)
    for row, found in zip(rows, together, strict=True):
        (alone,) = Judge(POLICY).verdicts([row], ROOMS)
        assert found.hours == pytest.approx(alone.hours)


def test_a_warmer_ceiling_and_a_lower_floor_give_time() -> None:
    assert verdict(TUB, temperature_floor=20.0).safe_h > verdict(TUB, temperature_floor=23.0).safe_h


def test_gases_are_followed_once_for_all_ways_that_are_the_same_to_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A longer stay after the road, or any way of a closed bag, needs no second look; a longer road does."""
    followed: list[Box] = []

    def counted(rows: Sequence[Asked], around: Surroundings, policy: Policy) -> Array:
        followed.extend(box for box, _, _ in rows)
        return gas_hours(rows, around, policy)

    monkeypatch.setattr("moveplan.quantities.safe_time.verdicts.gas_hours", counted)
    judge, later = Judge(POLICY), replace(WAY, after_h=WAY.after_h + 1.0)
    further = replace(WAY, road_h=WAY.road_h + 1.0)
    for box, times in ((AIRED, 2), (BAG, 1)):
        followed.clear()
        boxes = [replace(box, journey=way) for way in (WAY, later, further)]
        found = [judge.verdicts([(one, FISH, LOW)], ROOMS)[0] for one in boxes]
        assert len(followed) == times
        assert found == [verdict(one) for one in boxes], "as if each had been followed for itself"
