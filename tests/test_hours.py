"""Working hours: expansion against plain enumeration of days, clock changes, absences."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.hours import Absence, HoursRule, days_off, free_time, merged, without
from moveplan.times import Interval, at_local

DUBLIN = ZoneInfo("Europe/Dublin")
EVENINGS = HoursRule("FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR", 18 * 60, 21 * 60 + 30)
WEEKENDS = HoursRule("FREQ=WEEKLY;BYDAY=SA,SU", 9 * 60, 18 * 60)
INTERVALS = st.lists(
    st.builds(lambda start, length: Interval(start, start + length), st.integers(0, 200), st.integers(0, 40)),
    max_size=8,
)


def minutes_of(intervals: tuple[Interval, ...] | list[Interval]) -> set[int]:
    return {minute for piece in intervals for minute in range(piece.start, piece.finish)}


def test_a_week_of_evenings_and_a_weekend() -> None:
    # 2027-03-01 is a Monday.
    found = free_time([EVENINGS, WEEKENDS], [], date(2027, 3, 1), date(2027, 3, 7), DUBLIN)
    assert [piece.minutes for piece in found] == [210] * 5 + [540] * 2
    assert found[0].start == at_local(date(2027, 3, 1), 18 * 60, DUBLIN)


def test_hours_follow_the_clock_over_a_change() -> None:
    found = free_time([WEEKENDS], [], date(2027, 3, 27), date(2027, 3, 28), DUBLIN)
    assert found[1].start - found[0].start == 23 * 60


def test_a_shift_past_midnight_is_one_stretch() -> None:
    found = free_time(
        [HoursRule("FREQ=DAILY", 22 * 60, 26 * 60)], [], date(2027, 3, 1), date(2027, 3, 1), DUBLIN
    )
    assert [piece.minutes for piece in found] == [240]


def test_overlapping_rules_count_once() -> None:
    rules = [HoursRule("FREQ=DAILY", 480, 720), HoursRule("FREQ=DAILY", 600, 900)]
    found = free_time(rules, [], date(2027, 3, 1), date(2027, 3, 1), DUBLIN)
    assert [piece.minutes for piece in found] == [420]


def test_absence_takes_whole_days_out() -> None:
    away = [Absence(date(2027, 3, 2), date(2027, 3, 6))]
    found = free_time([EVENINGS, WEEKENDS], away, date(2027, 3, 1), date(2027, 3, 7), DUBLIN)
    assert [piece.minutes for piece in found] == [210, 540]


def test_absence_cuts_a_shift_that_runs_into_it() -> None:
    away = [Absence(date(2027, 3, 2), date(2027, 3, 2))]
    late = HoursRule("FREQ=DAILY", 22 * 60, 26 * 60)
    found = free_time([late], away, date(2027, 3, 1), date(2027, 3, 2), DUBLIN)
    assert found == (
        Interval(at_local(date(2027, 3, 1), 1320, DUBLIN), at_local(date(2027, 3, 2), 0, DUBLIN)),
    )


def test_absence_that_comes_back() -> None:
    # Every other Tuesday from 2027-01-05, counted from its own first day.
    away = [Absence(date(2027, 1, 5), date(2027, 2, 28), "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU")]
    assert sorted(days_off(away, date(2027, 1, 10), date(2027, 2, 20))) == [
        date(2027, 1, 19),
        date(2027, 2, 2),
        date(2027, 2, 16),
    ]


def test_absence_outside_the_days_asked_for() -> None:
    away = [
        Absence(date(2027, 5, 1), date(2027, 5, 9)),
        Absence(date(2027, 5, 1), date(2027, 5, 9), "FREQ=DAILY"),
    ]
    assert days_off(away, date(2027, 1, 1), date(2027, 1, 31)) == frozenset()


def test_no_rules_no_time() -> None:
    assert free_time([], [], date(2027, 1, 1), date(2027, 12, 31), DUBLIN) == ()


@settings(max_examples=200, deadline=None)
@given(INTERVALS)
def test_merged_keeps_every_minute_once_in_order(pieces: list[Interval]) -> None:
    joined = merged(pieces)
    assert minutes_of(joined) == minutes_of(pieces)
    assert all(one.finish < two.start for one, two in pairwise(joined))


@settings(max_examples=200, deadline=None)
@given(INTERVALS, INTERVALS)
def test_without_takes_out_exactly_the_holes(pieces: list[Interval], holes: list[Interval]) -> None:
    rest = without(pieces, holes)
    assert minutes_of(rest) == minutes_of(pieces) - minutes_of(holes)
    assert all(one.finish < two.start for one, two in pairwise(rest))


@settings(max_examples=60, deadline=None)
@given(st.dates(date(2026, 1, 1), date(2028, 1, 1)), st.integers(0, 30))
def test_weekly_hours_by_enumeration(first: date, length: int) -> None:
    last = first + timedelta(days=length)
    days = [first + timedelta(days=step) for step in range(length + 1)]
    expected = sum(210 if day.weekday() < 5 else 540 for day in days)
    found = free_time([EVENINGS, WEEKENDS], [], first, last, DUBLIN)
    assert sum(piece.minutes for piece in found) == expected


@pytest.mark.parametrize(
    "rule", ["FREQ=MONTHLY;BYDAY=-1FR", "FREQ=MONTHLY;BYMONTHDAY=-1", "FREQ=YEARLY;BYMONTH=3"]
)
def test_rules_of_the_standard_are_understood(rule: str) -> None:
    found = free_time([HoursRule(rule, 0, 60)], [], date(2027, 3, 1), date(2027, 3, 31), DUBLIN)
    assert len(found) == 1
