"""Calendars of a firm's people and vehicles can be imported again: what moves is moved, what is off is called off."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import icalendar
import pytest
import vobject

from moveplan.errors import OutputError
from moveplan.firm.file.reader import read_firm
from moveplan.firm.papers.diary import Owner, diary_ics
from moveplan.firm.papers.people import DayRow, Row
from moveplan.firm.values import Firm
from tests.firm.firms import EXAMPLES
from tests.outputs.calendar.rules import faults, faults_between

RUTH = Owner("people", "ruth", "Ruth Ansty")
DAY = 24 * 60
MOVE = int(datetime(2027, 5, 12, 7, tzinfo=UTC).timestamp()) // 60


def firm(later_min: int = 0) -> Firm:
    read = read_firm(EXAMPLES / "firm.yaml")
    return replace(read, now=read.now + later_min)


def stop(key: str, start: int, title: str = "Garden flat", *tasks: str) -> Row:
    return Row(start, start + 90, title, "5 Weir Lane", tasks, key=key, moving=key.endswith("load"))


def sheet(*stops: Row) -> list[DayRow]:
    drive = Row(
        stops[0].start - 30, stops[0].start, "", "Base to 5 Weir Lane", by="Van one", driver="Jun Colley"
    )
    return [DayRow(date(2027, 5, 12), (drive, *stops), drive.start, stops[-1].finish, 0)]


def events(data: bytes) -> dict[str, Any]:
    found = icalendar.Calendar.from_ical(data).walk("VEVENT")
    return {str(one["X-MOVEPLAN-KEY"]): one for one in found}


FIRST = sheet(
    stop("garden:load", MOVE, "Garden flat", "Load; then drive, slowly"), stop("surgery:look", MOVE + 200)
)
LOAD, LOOK = "people:ruth:garden:load:0", "people:ruth:surgery:look:0"


def test_two_libraries_read_each_stop_with_its_way_there() -> None:
    data = diary_ics(firm(), RUTH, FIRST)
    assert faults(data) == []
    found = events(data)
    assert {str(one["SEQUENCE"]) for one in found.values()} == {"0"}
    assert found[LOAD]["DESCRIPTION"] == "Base to 5 Weir Lane, Van one, Jun Colley\nLoad; then drive, slowly"
    assert found[LOAD]["SUMMARY"] == "Moving day: Garden flat"
    other = vobject.readOne(data.decode()).vevent_list
    assert {(one.uid.value, one.dtstart.value.astimezone(UTC)) for one in other} == {
        (str(one["UID"]), one["DTSTART"].dt.astimezone(UTC)) for one in found.values()
    }


def test_built_later_and_unchanged_it_is_the_same_to_the_byte() -> None:
    first = diary_ics(firm(), RUTH, FIRST)
    assert diary_ics(firm(DAY), RUTH, FIRST, first) == first


def test_what_moves_keeps_its_identity_and_what_is_off_is_called_off() -> None:
    first = diary_ics(firm(), RUTH, FIRST)
    second = diary_ics(firm(DAY), RUTH, sheet(stop("garden:load", MOVE + DAY, "Garden flat")), first)
    now = datetime.fromtimestamp(firm(DAY).now * 60, UTC)
    assert faults(second) == []
    assert faults_between(first, second, now) == []
    before, after = events(first), events(second)
    assert after[LOAD]["UID"] == before[LOAD]["UID"]
    assert (int(after[LOAD]["SEQUENCE"]), int(after[LOOK]["SEQUENCE"])) == (1, 1)
    assert (after[LOOK]["STATUS"], after[LOOK]["TRANSP"]) == ("CANCELLED", "TRANSPARENT")
    assert "DESCRIPTION" not in after[LOOK]
    third = diary_ics(firm(2 * DAY), RUTH, FIRST, second)
    assert (events(third)[LOOK]["STATUS"], int(events(third)[LOOK]["SEQUENCE"])) == ("CONFIRMED", 2)


def test_the_calendar_of_somebody_else_is_not_built_upon() -> None:
    other = diary_ics(firm(), Owner("vehicles", "ruth", "Ruth"), FIRST)
    for foreign in (other, b"BEGIN:VCALENDAR\r\n", other.replace(b"Garden", b"G\xff")):
        with pytest.raises(OutputError, match="calendar of Ruth Ansty cannot be built upon"):
            diary_ics(firm(), RUTH, FIRST, foreign)


def test_a_day_on_which_the_same_work_is_begun_twice_has_two_events() -> None:
    twice = sheet(stop("garden:load", MOVE), stop("garden:load", MOVE + 200))
    assert set(events(diary_ics(firm(), RUTH, twice))) == {LOAD, LOAD[:-1] + "1"}
