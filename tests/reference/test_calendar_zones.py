"""The time zones that the calendar describes, against the IANA time zone database.

dateutil and vobject read the described rules; TZIDs are renamed first, so that neither can look the zone up.
"""

from __future__ import annotations

import io
from datetime import UTC, datetime, timedelta, tzinfo
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
import vobject
from dateutil.tz import tzical

from moveplan.outputs.calendar.event import Event, Timed, Words
from moveplan.outputs.calendar.identity import event_uid
from moveplan.outputs.calendar.spelled import spelled
from moveplan.outputs.calendar.write import Heading, calendar, event_component
from moveplan.outputs.calendar.zones import timezone_component
from tests.outputs.calendar.life import with_private_zone

CHANGING = ("Europe/Dublin", "America/New_York", "Australia/Sydney")
QUARTER = timedelta(minutes=15)

# The days on which clocks change, from the laws (recalled): Directive 2000/84/EC, last Sundays of March and October
# at 01:00 UTC; US Energy Policy Act of 2005, section 110, second Sunday of March and first of November at 02:00;
# New South Wales Standard Time Act 1987 as amended 2007, first Sundays of October and April at 02:00 standard time.
CHANGES = {
    "Europe/Dublin": ("2026-03-29 01:00", "2026-10-25 01:00", "2027-03-28 01:00", "2027-10-31 01:00"),
    "America/New_York": ("2026-03-08 07:00", "2026-11-01 06:00", "2027-03-14 07:00", "2027-11-07 06:00"),
    "Australia/Sydney": ("2026-04-04 16:00", "2026-10-03 16:00", "2027-04-03 16:00", "2027-10-02 16:00"),
}


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def described(name: str, first: int, last: int) -> tzinfo:
    text = timezone_component(ZoneInfo(name), first, last).to_ical().decode()
    stream = f"BEGIN:VCALENDAR\r\n{text}END:VCALENDAR\r\n".replace(f"TZID:{name}", "TZID:described")
    zone = tzical(io.StringIO(stream)).get("described")
    assert zone is not None
    return zone


def exported(starts: list[datetime], zone: ZoneInfo) -> bytes:
    """A calendar with an event of a quarter of an hour at each instant."""
    events = []
    for n, start in enumerate(starts):
        begin = int(start.timestamp() // 60)
        when = Timed(begin, begin + 15, zone)
        events.append(
            Event(key=str(n), uid=event_uid("zones", str(n)), when=when, words=Words(start.isoformat()))
        )
    return calendar(Heading("zones", "", 0), [spelled(event_component(event)) for event in events], zone)


def around_changes(name: str) -> list[datetime]:
    """Every quarter of an hour from four hours before to four hours after each change."""
    return [utc(change) + n * QUARTER for change in CHANGES[name] for n in range(-16, 17)]


@pytest.mark.parametrize("name", CHANGING)
def test_the_changes_of_the_laws_are_those_of_the_database(name: str) -> None:
    zone = ZoneInfo(name)
    for change in map(utc, CHANGES[name]):
        before = (change - timedelta(seconds=1)).astimezone(zone).utcoffset()

        assert before != change.astimezone(zone).utcoffset()


@pytest.mark.parametrize("name", CHANGING)
def test_every_wall_time_near_a_change_is_read_as_the_same_instant(name: str) -> None:
    starts = around_changes(name)
    data = exported(starts, ZoneInfo(name))

    for event in vobject.readOne(with_private_zone(data).decode()).vevent_list:
        start = datetime.fromisoformat(event.summary.value)
        assert event.dtstart.value.astimezone(UTC) == start
        assert event.dtend.value.astimezone(UTC) == start + QUARTER
    read: Any = icalendar.Calendar.from_ical(data)
    for component in read.walk("VEVENT"):
        start = datetime.fromisoformat(str(component["SUMMARY"]))
        assert component.start.astimezone(UTC) == start
        assert component.end.astimezone(UTC) == start + QUARTER
    assert len(starts) == data.count(b"BEGIN:VEVENT") == 4 * 33


@pytest.mark.parametrize("name", CHANGING)
def test_no_wall_time_is_written_that_comes_twice_or_never(name: str) -> None:
    zone = ZoneInfo(name)
    lines = exported(around_changes(name), zone).decode().split("\r\n")
    local = [
        line.partition(":")[2] for line in lines if line.startswith((f"DTSTART;TZID={name}", "DTEND;TZID"))
    ]
    in_utc = [line for line in lines if line.startswith("DTSTART:") and line.endswith("Z")]

    for wall in (datetime.strptime(text, "%Y%m%dT%H%M%S").replace(tzinfo=zone) for text in local):
        assert wall.replace(fold=0).utcoffset() == wall.replace(fold=1).utcoffset()
    # Two autumns: eight quarters inside the repeated hours, and the one before that ends as they begin.
    assert len(in_utc) == 2 * 9


REGULAR = (
    *CHANGING, "Europe/London", "Europe/Helsinki", "America/Denver", "America/Havana", "Australia/Lord_Howe",
    "Pacific/Auckland", "Pacific/Chatham", "Asia/Beirut", "Atlantic/Azores",
)  # fmt: skip
FIXED = ("Asia/Kathmandu", "Asia/Tokyo", "America/Phoenix", "Etc/GMT+5", "Africa/Lagos")
IRREGULAR = (
    "Africa/Casablanca",
    "America/Nuuk",
    "Asia/Jerusalem",
    "Africa/Cairo",
    "America/Santiago",
    "Asia/Gaza",
)


@pytest.mark.parametrize("name", [*REGULAR, *FIXED, *IRREGULAR])
def test_described_offsets_are_those_of_the_database(name: str) -> None:
    zone, told = ZoneInfo(name), described(name, 2026, 2027)
    wall = datetime(2026, 1, 1, 0, 30)  # noqa: DTZ001 - a wall-clock time of the zone
    while wall.year < 2028:
        true = wall.replace(tzinfo=zone)
        if true.replace(fold=1).utcoffset() == true.utcoffset():
            assert wall.replace(tzinfo=told).utcoffset() == true.utcoffset(), wall
        wall += timedelta(hours=5)


@pytest.mark.parametrize("name", CHANGING)
def test_a_rule_holds_in_every_year_from_its_start_on(name: str) -> None:
    zone, told = ZoneInfo(name), described(name, 2026, 2026)
    for year in range(2009, 2037):
        for month in range(1, 13):
            wall = datetime(year, month, 15, 12)  # noqa: DTZ001 - a wall-clock time of the zone
            assert wall.replace(tzinfo=told).utcoffset() == wall.replace(tzinfo=zone).utcoffset()


@pytest.mark.parametrize("name", REGULAR)
def test_3_6_5_a_regular_zone_has_two_rules_and_no_dates(name: str) -> None:
    zone = timezone_component(ZoneInfo(name), 2026, 2027)

    assert sorted(str(part.name) for part in zone.subcomponents) == ["DAYLIGHT", "STANDARD"]
    for part in zone.subcomponents:
        assert part.get("RRULE").keys() == {"FREQ", "BYMONTH", "BYDAY"}
        assert part.get("RRULE")["FREQ"] == ["YEARLY"]
        assert "RDATE" not in part


@pytest.mark.parametrize("name", FIXED)
def test_3_6_5_a_fixed_zone_has_one_standard_time_without_a_rule(name: str) -> None:
    (standard,) = timezone_component(ZoneInfo(name), 2026, 2027).subcomponents

    assert standard.name == "STANDARD"
    assert list(standard) == ["DTSTART", "TZOFFSETFROM", "TZOFFSETTO", "TZNAME"]


@pytest.mark.parametrize("name", IRREGULAR)
def test_3_6_5_an_irregular_zone_lists_its_days(name: str) -> None:
    zone = timezone_component(ZoneInfo(name), 2026, 2027)

    assert not any("RRULE" in part for part in zone.subcomponents)
    assert any("RDATE" in part for part in zone.subcomponents)


def test_a_zone_that_changes_but_once_begins_with_the_offset_before() -> None:
    # Pyongyang went from +08:30 to +09:00 on 4 May 2018 at 23:30 (tz database, NEWS for 2018e).
    name, zone = "Asia/Pyongyang", ZoneInfo("Asia/Pyongyang")
    told = described(name, 2018, 2018)
    parts = timezone_component(zone, 2018, 2018).subcomponents

    assert [f"{part.get('DTSTART').dt:%Y%m%dT%H%M%S}" for part in parts] == [
        "19700101T000000",
        "20180504T233000",
    ]
    for wall in (datetime(2018, 2, 1, 12), datetime(2018, 8, 1, 12)):  # noqa: DTZ001 - wall-clock times
        assert wall.replace(tzinfo=told).utcoffset() == wall.replace(tzinfo=zone).utcoffset()
