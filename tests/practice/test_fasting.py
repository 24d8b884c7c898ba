"""Last meals before a move, first meals after it, and who gives them; windows are common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from moveplan.practice.comfort.mealtimes import Mealtime, feeding_hours
from moveplan.practice.comfort.unfed import long_fasts
from moveplan.quantities.keeping.feeding import Feeder
from moveplan.times import iso
from tests.examples import plan, project, scheduled

HOUR = 60
MOVED = ("house_move", "house_move_with_gap", "house_move_into_larger_tank", "service_firm_office_tank")


@pytest.mark.parametrize("name", MOVED)
def test_every_fast_lies_inside_its_window_with_room_on_both_sides(name: str) -> None:
    """A tenth of the window: 1.6 h of 20 to 36 h, 1.2 h of 12 to 24 h; from meal to meal 60 and 48 h, less 2.4 h."""
    found, schedule = scheduled(name)
    assert found.meals
    for meals in found.meals:
        fast = schedule.of(meals.catch).start - schedule.of(meals.last).finish
        small = "small" in meals.last
        low, high = (13.2 * HOUR, 22.8 * HOUR) if small else (21.6 * HOUR, 34.4 * HOUR)
        assert low <= fast <= high, meals
        if meals.fed_by:
            assert not meals.first, "the boarding place gives it"
            continue
        whole = schedule.of(meals.first).start - schedule.of(meals.last).finish
        assert whole <= (45.6 if meals.whole_min == 48 * HOUR else 57.6) * HOUR


def test_every_fish_that_travels_has_its_last_and_its_first_meal() -> None:
    found = project("house_move_with_gap")
    fed = [animal for meals in found.meals for animal in meals.livestock]
    assert sorted(fed) == sorted(2 * ["clowns", "goby", "cardinals"])
    assert {meals.first for meals in found.meals} == {"look-holding-display", "feed-little-display-in"}


def test_a_tank_of_small_fish_has_one_last_meal_and_its_corals_none_of_their_own() -> None:
    found = project("larger_tank_same_spot").network
    assert [task.id for task in found.tasks if task.id.startswith("last-feed")] == ["last-feed-display"]
    link = next(
        one for one in found.links if (one.before, one.after) == ("last-feed-display", "catch-fish-display")
    )
    assert link.min_gap_min == 12 * HOUR + 72


def test_large_hunters_are_fed_a_day_earlier_and_may_wait_longer_for_the_next_meal() -> None:
    """36 to 48 h, a tenth of 12 h inside: 37 h 12 min to 46 h 48 min; the meal itself takes 10 min."""
    lion = "livestock.lion={name: Lionfish, kind: lionfish, count: 1, size: 25 cm}"
    found = project("house_move", lion)
    gaps = [
        (link.min_gap_min, link.max_gap_min)
        for link in found.network.links
        if (link.before, link.after) == ("last-feed-large-display", "catch-fish-display")
    ]
    assert gaps == [(37 * HOUR + 12, None), (None, 46 * HOUR + 48 + 10)]
    whole = {meals.last: meals.whole_min for meals in found.meals}
    assert (whole["last-feed-large-display"], whole["last-feed-display"]) == (84 * HOUR, 60 * HOUR)


def test_a_fast_beyond_its_limit_is_told() -> None:
    """The schedule keeps 60 h; one that may last 36 h is told by how much it is passed."""
    found, schedule = scheduled("house_move")
    assert long_fasts(found, schedule) == ()
    strict = replace(found, meals=tuple(replace(one, whole_min=36 * HOUR) for one in found.meals))
    told = long_fasts(strict, schedule)
    assert len(told) == 2
    assert "36 h at most" in told[0].message
    assert told[0].where.startswith("house_move.yaml:")


def test_whoever_lives_with_the_tank_feeds_it_where_no_hours_reach_the_meal() -> None:
    """Weekdays from 18:00 only: neither the morning nor the afternoon of Friday, 12 March, is in anybody's hours."""
    days = {"moving-day": date(2027, 3, 13)}
    found = plan("house_move")
    morning = Mealtime("moving-day", Feeder.ORDINARY, "flat", 10)
    evening = Mealtime("moving-day", Feeder.SMALL, "flat", 10)
    both = [("2027-03-12T07:10:00+00:00", 10), ("2027-03-12T17:30:00+00:00", 10)]
    hours = feeding_hours(found, (morning, evening), days)
    spans = [(iso(one.start, found.zone), one.minutes) for one in hours["ines"]]
    assert (list(hours), spans) == (["ines"], both)
    assert feeding_hours(found, (morning,), {"moving-day": date(2027, 3, 14)}) == {}, (
        "free on Saturday morning"
    )


def test_that_somebody_feeds_beside_the_stated_hours_is_said() -> None:
    assumed = {one.key: one.value for one in project("house_move").assumptions}
    assert "outside the stated hours" in assumed["people.ines.feeding"]
    keys = {one.key for one in project("service_firm_office_tank").assumptions}
    assert not any(key.endswith(".feeding") for key in keys), "there are mornings"
