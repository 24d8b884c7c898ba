from __future__ import annotations

from moveplan.outputs.figures.scale import Scale, around, in_lines, wrapped
from moveplan.times import Interval
from tests.outputs.scene_plan import ZONE, at


def test_a_minute_is_as_long_as_it_says_and_nothing_lies_outside() -> None:
    scale = Scale(Interval(1000, 1100), 1.4, 20.0)
    assert (scale.y(1000), scale.y(1050), scale.y(1100)) == (20.0, 90.0, 160.0)
    assert (scale.y(0), scale.y(5000), scale.bottom) == (20.0, 160.0, 160.0)


def test_full_hours_are_those_of_the_local_clock() -> None:
    scale = Scale(Interval(at("2027-05-22 07:15"), at("2027-05-22 10:00")), 1.0, 0.0)
    hours = scale.hours(ZONE)
    assert [mark.moment for mark in hours] == [at(f"2027-05-22 {hour}:00") for hour in ("08", "09", "10")]
    assert [mark.y for mark in hours] == [45.0, 105.0, 165.0]


def test_weeks_begin_on_local_mondays_across_the_change_to_summer_time() -> None:
    scale = Scale(Interval(at("2027-03-20 12:00"), at("2027-04-06 12:00")), 0.01, 0.0)
    assert [mark.moment for mark in scale.mondays(ZONE)] == [
        at("2027-03-22 00:00"),
        at("2027-03-29 00:00"),
        at("2027-04-05 00:00"),
    ]


def test_one_span_goes_around_several() -> None:
    assert around([Interval(10, 20), Interval(5, 12)], 3) == Interval(2, 23)


def test_a_title_that_does_not_fit_is_cut_with_an_ellipsis() -> None:
    assert in_lines("Carry the empty tank down", 30, 1) == ("Carry the empty tank down",)
    assert in_lines("Carry the empty tank down", 12, 1) == ("Carry the …",)
    assert in_lines("Carry the empty tank down", 12, 0) == ()
    assert in_lines("", 12, 1) == ()


def test_wide_signs_count_as_two_characters_and_none_is_lost() -> None:
    name = "Clown\N{TROPICAL FISH}" * 11
    lines = wrapped(f"2 × {name} +6", 20)
    assert max(len(line) + line.count("\N{TROPICAL FISH}") for line in lines) <= 20
    assert "".join(lines).replace(" ", "") == f"2×{name}+6"
    assert in_lines("\N{TROPICAL FISH}" * 5, 7, 2) == ("\N{TROPICAL FISH}" * 3, "\N{TROPICAL FISH}" * 2)
