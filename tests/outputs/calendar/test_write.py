from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo, available_timezones

import pytest

from moveplan.outputs.calendar.event import Alarm, Event, Timed, Words
from moveplan.outputs.calendar.spelled import spelled
from moveplan.outputs.calendar.write import Heading, calendar, event_component, single
from tests.outputs.calendar.rules import parsed
from tests.outputs.calendar.scene import DUBLIN, at


def times(start: int, minutes: int, zone: ZoneInfo) -> list[str]:
    event = Event(key="k", uid="u", when=Timed(start, start + minutes, zone), words=Words("a"))
    lines = event_component(event).content_lines()
    return [str(line) for line in lines if line.startswith(("DTSTART", "DTEND"))]


def test_local_times_name_their_zone() -> None:
    assert times(at("2027-03-06 09:00"), 60, DUBLIN) == [
        "DTSTART;TZID=Europe/Dublin:20270306T090000",
        "DTEND;TZID=Europe/Dublin:20270306T100000",
    ]


@pytest.mark.parametrize("name", ["UTC", "Etc/UTC"])
def test_utc_needs_no_zone(name: str) -> None:
    assert times(0, 60, ZoneInfo(name)) == ["DTSTART:19700101T000000Z", "DTEND:19700101T010000Z"]


def test_both_ends_go_out_in_utc_where_one_of_them_comes_twice() -> None:
    # Clocks go back on 31 October 2027 at 02:00 Irish summer time.
    assert times(at("2027-10-31 00:30"), 60, DUBLIN) == ["DTSTART:20271030T233000Z", "DTEND:20271031T003000Z"]
    assert times(at("2027-10-31 02:30"), 60, DUBLIN)[0] == "DTSTART;TZID=Europe/Dublin:20271031T023000"


def test_a_whole_event() -> None:
    when = Timed(at("2027-03-06 09:00"), at("2027-03-06 12:00"), DUBLIN)
    words = Words("Mix 400 l; heat, check", "1. Fill\n2. Salt", "Mill Terrace", "Water")
    event = Event(
        key="mix/1", uid="u-1", when=when, words=words, busy=True, private=True, alarm=Alarm("a-1", 90)
    )

    assert event_component(event).to_ical().decode().split("\r\n") == [
        "BEGIN:VEVENT",
        r"SUMMARY:Mix 400 l\; heat\, check",
        "DTSTART;TZID=Europe/Dublin:20270306T090000",
        "DTEND;TZID=Europe/Dublin:20270306T120000",
        "UID:u-1",
        "CATEGORIES:Water",
        "CLASS:PRIVATE",
        r"DESCRIPTION:1. Fill\n2. Salt",
        "LOCATION:Mill Terrace",
        "STATUS:CONFIRMED",
        "TRANSP:OPAQUE",
        "X-MOVEPLAN-KEY;VALUE=TEXT:mix/1",
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        r"DESCRIPTION:Mix 400 l\; heat\, check",
        "TRIGGER:-PT1H30M",
        "UID:a-1",
        "END:VALARM",
        "END:VEVENT",
        "",
    ]


def test_zones_stand_in_the_order_of_their_names() -> None:
    events = [
        spelled(
            event_component(Event(key=name, uid=str(n), when=Timed(0, 5, ZoneInfo(name)), words=Words("a")))
        )
        for n, name in enumerate(("Europe/Rome", "America/Lima", "Asia/Tokyo"))
    ]

    found = parsed(calendar(Heading("c", "Name, with; signs", 0), events, DUBLIN))

    assert [zone.value("TZID") for zone in found.zones] == ["America/Lima", "Asia/Tokyo", "Europe/Rome"]
    assert found.value("NAME") == found.value("X-WR-CALNAME") == r"Name\, with\; signs"


def test_an_empty_calendar_describes_the_zone_of_the_plan() -> None:
    found = parsed(calendar(Heading("c", "", 0), [], DUBLIN))

    assert [zone.value("TZID") for zone in found.zones] == ["Europe/Dublin"]
    assert found.all("NAME") == []


def test_a_file_of_its_own_leaves_the_calendar_to_the_server() -> None:
    event = event_component(Event(key="k", uid="u", when=Timed(0, 5, DUBLIN), words=Words("a")))
    found = parsed(single(spelled(event)))

    assert [line.name for line in found.lines] == ["VERSION", "PRODID", "CALSCALE"]
    assert [block.name for block in found.blocks] == ["VTIMEZONE", "VEVENT"]


def test_the_product_is_named_without_its_patch_level() -> None:
    assert (
        parsed(calendar(Heading("c", "", 0), [], DUBLIN)).value("PRODID") == "-//moveplan//moveplan 0.1//EN"
    )


def test_a_name_with_line_breaks_opens_no_line() -> None:
    found = parsed(calendar(Heading("c", "a\nMETHOD:PUBLISH, b", 0), [], DUBLIN))

    assert found.value("NAME") == found.value("X-WR-CALNAME") == r"a\nMETHOD:PUBLISH\, b"
    assert found.all("METHOD") == []


def test_text_that_no_calendar_can_hold_is_not_written() -> None:
    with pytest.raises(ValueError, match=r"'a\\rb' holds a character that a calendar cannot"):
        calendar(Heading("c", "a\rb", 0), [], DUBLIN)


@pytest.mark.parametrize("month", [1, 7])
def test_no_zone_is_taken_for_another(month: int) -> None:
    start = int(datetime(2027, month, 1, 12, tzinfo=UTC).timestamp() // 60)
    for name in sorted(available_timezones()):
        line = times(start, 60, ZoneInfo(name))[0]
        wall = datetime.fromtimestamp(start * 60, ZoneInfo(name))

        in_utc = line.endswith("Z") and not wall.utcoffset()
        assert in_utc or line.startswith(f"DTSTART;TZID={name}:")
        assert line.rstrip("Z").endswith(f":{wall:%Y%m%dT%H%M%S}")
