"""Three libraries read the same calendar, and what they read is what was planned.

vobject uses the zones described in the file, icalendar the zone database; recurring-ical-events answers what is
on a given day.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import icalendar
import pytest
import recurring_ical_events
import vobject

from tests.outputs.calendar.life import HOSTILE, LIFE, SCENES, slipped, with_private_zone
from tests.outputs.calendar.scene import DUBLIN, Item, moving

Row = tuple[Any, ...]


def in_utc(moment: Any) -> Any:
    return moment.astimezone(UTC) if isinstance(moment, datetime) else moment


def read_by_vobject(data: bytes) -> list[Row]:
    calendar = vobject.readOne(with_private_zone(data).decode())

    def text(event: Any, name: str) -> str:
        return str(getattr(event, name).value) if hasattr(event, name) else ""

    return sorted(
        (
            text(event, "uid"),
            in_utc(event.dtstart.value),
            in_utc(event.dtend.value),
            text(event, "summary"),
            text(event, "description"),
            text(event, "status"),
            text(event, "sequence"),
            tuple(alarm.trigger.value for alarm in getattr(event, "valarm_list", [])),
        )
        for event in getattr(calendar, "vevent_list", [])
    )


def read_by_icalendar(data: bytes) -> list[Row]:
    calendar: Any = icalendar.Calendar.from_ical(data)
    assert [component.errors for component in calendar.walk() if component.errors] == []
    return sorted(
        (
            str(event["UID"]),
            in_utc(event.start),
            in_utc(event.end),
            str(event["SUMMARY"]),
            str(event.get("DESCRIPTION", "")),
            str(event["STATUS"]),
            str(event["SEQUENCE"]),
            tuple(alarm["TRIGGER"].dt for alarm in event.walk("VALARM")),
        )
        for event in calendar.walk("VEVENT")
    )


# vobject takes a zone for UTC that is at UTC from 2000 to 2020, as far as described: Morocco's, told by its days.
# dateutil reads that one in test_calendar_zones.py.
@pytest.mark.parametrize("name", [name for name in SCENES if name != "irregular zone"])
def test_two_libraries_read_the_same(name: str) -> None:
    data = SCENES[name].data

    assert read_by_vobject(data) == read_by_icalendar(data)


@pytest.mark.parametrize("name", [name for name in SCENES if name != "irregular zone"])
def test_what_recurs_is_read_the_same(name: str) -> None:
    data = SCENES[name].data
    found = recurring_ical_events.of(icalendar.Calendar.from_ical(data)).between(
        date(2026, 1, 1), date(2029, 1, 1)
    )

    read = sorted(
        (str(event["UID"]), in_utc(event["DTSTART"].dt), in_utc(event["DTEND"].dt), str(event["SUMMARY"]))
        for event in found
    )
    assert read == [row[:4] for row in read_by_vobject(data)]


@pytest.mark.parametrize(("name", "rows"), [("first", moving()), ("slipped", slipped())])
def test_what_is_read_is_what_was_planned(name: str, rows: tuple[Item, ...]) -> None:
    read = {(row[1], row[2]) for row in read_by_vobject(LIFE[name].data) if row[5] == "CONFIRMED"}

    for row in rows:
        for stretch in row.stretches:
            start = datetime.fromtimestamp(stretch.start * 60, UTC)
            finish = datetime.fromtimestamp(stretch.finish * 60, UTC)
            if row.task.id == "let-stand":
                days = start.astimezone(DUBLIN).date(), finish.astimezone(DUBLIN).date() + timedelta(days=1)
                assert days in read
            elif row.task.id != "go-or-no-go":
                assert (start, max(finish, start + timedelta(minutes=15))) in read


def test_hostile_names_come_back_as_text_and_nothing_else() -> None:
    data = SCENES["hostile"].data
    rows = read_by_vobject(data)

    assert len(rows) == len(HOSTILE)
    assert data.count(b"\r\nBEGIN:VEVENT\r\n") == len(HOSTILE)
    by_title = {row[3] for row in rows}
    assert {"a,b;c\\d e", "BEGIN:VEVENT", "\\", "\\n", '"quoted"^n', "ATTENDEE:mailto:a@b"} <= by_title
    assert "x END:VEVENT BEGIN:VEVENT UID:1" in by_title
    assert "hostile-12" in by_title  # nothing is left of a title of line ends: the id serves
    assert "é" * 199 + "…" in by_title


@pytest.mark.parametrize(
    ("name", "day", "titles"),
    [
        ("first", date(2027, 3, 12), {"Let stand", "Pack trays (2 of 2)", "Waiting: Soak pads",
                                      "Hold point: Go or no go"}),
        ("first", date(2027, 3, 13), {"Drive", "Settled"}),
        ("slipped", date(2027, 3, 13), {"Let stand"}),
        ("slipped", date(2027, 3, 12), {"Let stand", "Cancelled: Waiting: Soak pads"}),
        ("slipped", date(2027, 3, 16), {"Drive", "Settled"}),
    ],
)  # fmt: skip
def test_what_is_on_a_day(name: str, day: date, titles: set[str]) -> None:
    calendar = icalendar.Calendar.from_ical(LIFE[name].data)

    assert {str(event["SUMMARY"]) for event in recurring_ical_events.of(calendar).at(day)} == titles


def test_links_stand_in_the_predecessor_and_point_at_the_successor() -> None:
    calendar: Any = icalendar.Calendar.from_ical(LIFE["first"].data)
    names = {str(event["UID"]): str(event["X-MOVEPLAN-KEY"]) for event in calendar.walk("VEVENT")}
    found = set()
    for event in calendar.walk("VEVENT"):
        related = event.get("RELATED-TO", [])
        for link in related if isinstance(related, list) else [related]:
            key = names[str(event["UID"])]
            found.add((key, link.params["RELTYPE"], str(link.params.get("GAP", "")), names[str(link)]))

    assert found == {
        ("mix-water/1", "FINISHTOSTART", "", "let-stand/1"),
        ("let-stand/1", "FINISHTOSTART", "-PT2H", "go-or-no-go/1"),
        ("pack-trays/2", "FINISHTOSTART", "PT12H", "drive/1"),
        ("drive/1", "STARTTOSTART", "PT1H", "settled/1"),
        ("drive/1", "FINISHTOFINISH", "", "test-water/3"),
    }


def test_to_dos_are_read_the_same() -> None:
    data = LIFE["under way"].todos or b""
    first = [
        (todo.uid.value, todo.due.value, todo.summary.value, todo.status.value)
        for todo in vobject.readOne(data.decode()).vtodo_list
    ]
    calendar: Any = icalendar.Calendar.from_ical(data)
    second = [
        (str(todo["UID"]), todo["DUE"].dt, str(todo["SUMMARY"]), str(todo["STATUS"]))
        for todo in calendar.walk("VTODO")
    ]

    assert first == second
    assert {row[2:] for row in first} >= {
        ("✓ Mix the new water", "COMPLETED"),
        ("Drive", "IN-PROCESS"),
        ("Cancelled: Pack trays", "CANCELLED"),
        ("Test water (1 of 3)", "NEEDS-ACTION"),
    }
