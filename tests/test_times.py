"""Instants, local days and wall-clock times, against the standard library and known clock changes."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.times import MINUTES_A_DAY, Interval, at_local, iso, local_day, to_local, to_minutes

DUBLIN, CHICAGO, KOLKATA = ZoneInfo("Europe/Dublin"), ZoneInfo("America/Chicago"), ZoneInfo("Asia/Kolkata")
ZONES = [DUBLIN, CHICAGO, KOLKATA, ZoneInfo("Australia/Lord_Howe"), ZoneInfo("Pacific/Apia")]


def test_epoch() -> None:
    assert to_minutes(datetime(1970, 1, 1, tzinfo=UTC)) == 0
    assert to_minutes(datetime(1969, 12, 31, 23, 59, 30, tzinfo=UTC)) == -1


def test_seconds_are_dropped() -> None:
    assert to_minutes(datetime(1970, 1, 1, 0, 1, 59, tzinfo=UTC)) == 1


def test_a_moment_needs_a_zone() -> None:
    with pytest.raises(ValueError, match="2027-03-13 08:00:00 has no time zone"):
        to_minutes(datetime(2027, 3, 13, 8))  # noqa: DTZ001


# European Union: last Sundays of March and October, Directive 2000/84/EC; United States: second Sunday of
# March and first of November, Energy Policy Act of 2005; Lord Howe Island shifts by half an hour.
@pytest.mark.parametrize(
    ("zone", "day", "minutes"),
    [
        (DUBLIN, date(2027, 3, 28), 23 * 60),
        (DUBLIN, date(2027, 10, 31), 25 * 60),
        (DUBLIN, date(2027, 6, 1), 24 * 60),
        (CHICAGO, date(2027, 3, 14), 23 * 60),
        (CHICAGO, date(2027, 11, 7), 25 * 60),
        (ZoneInfo("Australia/Lord_Howe"), date(2027, 4, 4), 24 * 60 + 30),
        (KOLKATA, date(2027, 3, 28), 24 * 60),
    ],
)
def test_length_of_a_local_day(zone: ZoneInfo, day: date, minutes: int) -> None:
    assert local_day(day, zone).minutes == minutes


def test_a_skipped_time_moves_on_by_the_gap() -> None:
    # 01:30 on 28 March 2027 does not exist in Dublin: clocks go from 01:00 to 02:00.
    assert iso(at_local(date(2027, 3, 28), 90, DUBLIN), DUBLIN) == "2027-03-28T02:30:00+01:00"


def test_a_time_that_comes_twice_is_the_first() -> None:
    assert iso(at_local(date(2027, 10, 31), 90, DUBLIN), DUBLIN) == "2027-10-31T01:30:00+01:00"


def test_minutes_past_midnight_belong_to_the_next_day() -> None:
    assert at_local(date(2027, 3, 27), MINUTES_A_DAY + 180, DUBLIN) == at_local(
        date(2027, 3, 28), 180, DUBLIN
    )
    assert iso(at_local(date(2027, 3, 27), MINUTES_A_DAY, DUBLIN), DUBLIN) == "2027-03-28T00:00:00+00:00"


def test_iso_has_the_offset() -> None:
    assert iso(to_minutes(datetime(2027, 6, 1, 12, tzinfo=UTC)), KOLKATA) == "2027-06-01T17:30:00+05:30"


def test_intervals_are_half_open() -> None:
    assert Interval(0, 10).overlaps(Interval(9, 12))
    assert not Interval(0, 10).overlaps(Interval(10, 12))
    assert not Interval(10, 12).overlaps(Interval(0, 10))
    assert Interval(3, 10).minutes == 7
    assert min(Interval(5, 6), Interval(0, 9), Interval(0, 2)) == Interval(0, 2)


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 120_000_000), st.sampled_from(ZONES))
def test_there_and_back(minutes: int, zone: ZoneInfo) -> None:
    assert to_minutes(to_local(minutes, zone)) == minutes
    assert datetime.fromisoformat(iso(minutes, zone)) == datetime(1970, 1, 1, tzinfo=UTC) + timedelta(
        minutes=minutes
    )


@settings(max_examples=200, deadline=None)
@given(st.dates(date(2000, 1, 1), date(2100, 1, 1)), st.sampled_from(ZONES))
def test_days_follow_each_other_without_a_hole(day: date, zone: ZoneInfo) -> None:
    assert local_day(day, zone).finish == local_day(day + timedelta(days=1), zone).start
