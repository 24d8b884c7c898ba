"""The calendar against RFC 5545, 5546, 7986, 9074 and 9253, over the exports of one plan's life.

The rules stand in ``tests/outputs/calendar/rules.py`` with their sections and are first shown to find faults.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from itertools import pairwise

import pytest

from tests.outputs.calendar.life import LIFE, SCENES
from tests.outputs.calendar.rules import faults, faults_between, instant, parsed
from tests.outputs.calendar.scene import DAY, NOW, export, outlook


@pytest.mark.parametrize("name", SCENES)
def test_every_calendar_keeps_every_rule(name: str) -> None:
    exported = SCENES[name]
    assert exported.todos is not None

    assert faults(exported.data) == []
    assert faults(exported.todos) == []
    uids = frozenset(item.value("UID") for item in parsed(exported.data).items)
    assert [fault for data in exported.split.values() for fault in faults(data, uids)] == []
    assert exported.split.keys() == {f"{uid}.ics" for uid in uids}


# --- the rules find faults ----------------------------------------------------------------------------------

GOOD = LIFE["first"].data
GOOD_TODOS = LIFE["under way"].todos or b""

BREAKS: list[tuple[bytes, bytes, str]] = [
    (b"\r\n", b"\n", "3.1 the last line does not end with CRLF"),
    (b"VERSION:2.0\r\n", b"VERSION:2.0\n", "3.1 a bare CR or LF"),
    (b"SUMMARY:Drive", b"SUMMARY:Drive" + b"x" * 70, "3.1 a line over 75 octets"),
    ("°".encode(), b"\xc2\r\n \xb0", "3.1 a fold inside a character"),
    (b"BEGIN:VCALENDAR", b"\xef\xbb\xbfBEGIN:VCALENDAR", "3.1.4 a byte order mark"),
    (b"SUMMARY:Drive", b"SUMMARY:\x07Drive", "3.1 a control character"),
    (b"VERSION:2.0\r\n", b"", "3.6 VERSION must stand once"),
    (b"VERSION:2.0", b"VERSION:1.0", "3.7.4 VERSION is not 2.0"),
    (b"\r\nNAME:Reef", b"\r\nNAME:x\r\nNAME:Reef", "7986 5 NAME more than once"),
    (b"LAST-MODIFIED:20270201T090000Z\r\nUID", b"LAST-MODIFIED:20270201T090000\r\nUID",
     "7986 5.4 LAST-MODIFIED is not UTC"),
    (b"CALSCALE", b"METHOD:PUBLISH\r\nCALSCALE", "4791 4.1 METHOD"),
    (b"TRANSP:OPAQUE", b"TRANSP:OPAQUE\r\nATTENDEE:mailto:x@example.org", "5546 3.2.1 people"),
    (b"SUMMARY:Drive", b"SUMMARY:Drive, on", "3.3.11 SUMMARY is not escaped"),
    (b"SUMMARY:Drive", b"SUMMARY:Drive \\x", "3.3.11 SUMMARY is not escaped"),
    (b"NAME:Reef", b"NAME:Reef;", "3.3.11 NAME is not escaped"),
    (b"SEQUENCE:0\r\n", b"", "3.6.1 SEQUENCE must stand once"),
    (b"SUMMARY:Drive", b"DURATION:PT1H\r\nSUMMARY:Drive", "3.6.1 two ways to say when"),
    (b"TRANSP:OPAQUE", b"TRANSP:OPAQUE\r\nCLASS:PUBLIC\r\nCLASS:PUBLIC", "3.6.1 something more than once"),
    (b"UID:6d6c27cf-3e2f-5d31-94e0-5cc7387c54a9", b"UID:drive@example.org",
     "7986 5.3 'drive@example.org' is no opaque UID"),
    (b"UID:6d6c27cf-3e2f-5d31-94e0-5cc7387c54a9", b"UID:ae378ce5-7f09-5eb2-84b0-d59491a3764c",
     "3.8.4.7 ae378ce5-7f09-5eb2-84b0-d59491a3764c names two things"),
    (b"DTEND;TZID=Europe/Dublin:20270313T115000", b"DTEND:20270313T115000Z",
     "3.8.2.2 DTEND of another type than DTSTART"),
    (b"DTEND;TZID=Europe/Dublin:20270313T115000", b"DTEND;TZID=Europe/Dublin:20270313T110000",
     "3.8.2.2 DTEND is not later than DTSTART"),
    (b"DTSTART;VALUE=DATE:20270306", b"DTSTART;VALUE=DATE:20270313", "3.8.2.2 DTEND is not later than DTSTART"),
    (b"DTSTART;TZID=Europe/Dublin:20270313T110000", b"DTSTART:20270313T110000", "3.3.5 DTSTART has no good form"),
    (b"DTSTAMP:20270201T090000Z", b"DTSTAMP:20270201T090000", "3.8.7 a stamp is not UTC"),
    (b"DTSTAMP:20270201T090000Z", b"DTSTAMP:20270201T090001Z", "3.8.7.2 DTSTAMP is not LAST-MODIFIED"),
    (b"CREATED:20270201T090000Z", b"CREATED:20270201T090001Z", "3.8.7 stamps out of order"),
    (b"SEQUENCE:0", b"SEQUENCE:-1", "3.8.7.4 SEQUENCE is no count"),
    (b"STATUS:CONFIRMED", b"STATUS:DONE", "3.8.1.11 STATUS"),
    (b"TRANSP:OPAQUE", b"TRANSP:BUSY", "3.8.2.7 TRANSP"),
    (b"TRANSP:OPAQUE", b"TRANSP:OPAQUE\r\nCLASS:SECRET", "3.8.1.3 CLASS"),
    (b"TRANSP:TRANSPARENT", b"TRANSP:OPAQUE", "3.8.2.7 blocks time"),
    (b"STATUS:CONFIRMED", b"STATUS:CANCELLED", "5546 3.2.5 a cancelled event rings or is linked"),
    (b"END:VALARM", b"END:VALARM\r\nBEGIN:VALARM\r\nEND:VALARM", "3.6.6 more than one alarm"),
    (b"ACTION:DISPLAY", b"ACTION:EMAIL", "3.6.6 not a plain DISPLAY alarm"),
    (b"TRIGGER:-PT30M", b"TRIGGER:PT30M", "3.8.6.3 TRIGGER is not a time before the start"),
    (b"TRIGGER:-PT30M", b"TRIGGER;RELATED=END:-PT30M", "3.8.6.3 TRIGGER is not a time before the start"),
    (b"TZID:Europe/Dublin", b"TZID:Europe/London", "3.2.19 the zones defined are not those used"),
    (b"TZID:Europe/Dublin", b"TZID:Europe/Dublin\r\nCOMMENT:x", "3.6.5 a property that VTIMEZONE does not have"),
    (b"STANDARD", b"DAYLIGHT", "3.6.5 no STANDARD"),
    (b"DTSTART:19960331T010000", b"DTSTART:19960331T010000Z", "3.6.5 DTSTART is not local"),
    (b"TZOFFSETTO:+0100\r\n", b"", "3.6.5 no offsets"),
    (b"TZNAME:IST", b"RDATE:20270328T010000", "3.6.5 both a rule and dates"),
    (b"TZNAME:IST", b"SUMMARY:IST", "3.6.5 a property that does not belong there"),
    (b"RELTYPE=STARTTOSTART", b"RELTYPE=PARENT", "9253 4 RELTYPE"),
    (b"GAP=PT1H", b"GAP=1H", "9253 6.2 GAP"),
    (b"STARTTOSTART:ae378ce5", b"STARTTOSTART:ae378ce6", "9253 4 a relation to nothing"),
    (b"X-MOVEPLAN-KEY;VALUE=TEXT:settled/1", b"RELATED-TO;RELTYPE=FINISHTOSTART:6d6c27cf-3e2f-5d31-94e0-5cc7387c54a9",
     "9253 4 both directions"),
]  # fmt: skip

TODO_BREAKS = [
    (b"DUE;VALUE=DATE", b"DTSTART;VALUE=DATE:20270301\r\nDUE;VALUE=DATE", "3.6.1 two ways to say when"),
    (b"PERCENT-COMPLETE:100", b"PERCENT-COMPLETE:140", "3.8.1.8 PERCENT-COMPLETE"),
    (b"COMPLETED:2", b"X-COMPLETED:2", "3.8.2.1 COMPLETED"),
]


@pytest.mark.parametrize(("good", "bad", "fault"), BREAKS)
def test_the_rules_find_faults_in_events(good: bytes, bad: bytes, fault: str) -> None:
    assert good in GOOD

    assert fault in faults(GOOD.replace(good, bad))


@pytest.mark.parametrize(("good", "bad", "fault"), TODO_BREAKS)
def test_the_rules_find_faults_in_to_dos(good: bytes, bad: bytes, fault: str) -> None:
    assert good in GOOD_TODOS

    assert fault in faults(GOOD_TODOS.replace(good, bad))


# --- from one export to the next, RFC 5546, 2.1.4, 2.1.5 ------------------------------------------------------


@pytest.mark.parametrize("kind", ["data", "todos"])
def test_every_update_keeps_the_rules_of_sequence_and_stamps(kind: str) -> None:
    steps = list(LIFE.values())
    for n, (old, new) in enumerate(pairwise(steps), start=1):
        now = datetime.fromtimestamp((NOW + n * DAY) * 60, UTC)

        assert faults_between(getattr(old, kind), getattr(new, kind), now) == []


UPDATE_BREAKS: list[tuple[Callable[[bytes], bytes], str]] = [
    (lambda data: data.replace(b"SEQUENCE:0", b"SEQUENCE:1", 1), "5546 2.1.4 SEQUENCE rises by 1"),
    (lambda data: data.replace(b"T115000\r\n", b"T115500\r\n"), "5546 2.1.4 SEQUENCE rises by 0"),
    (lambda data: data.replace(b"CREATED:2027", b"CREATED:2026", 1), "3.8.7.1 CREATED changes"),
    (lambda data: data.replace(b"DTSTAMP:20270201T09", b"DTSTAMP:20270201T10", 1),
     "3.8.7.3 stamps of an unchanged event change"),
    (lambda data: data.replace(b"SUMMARY:Drive", b"SUMMARY:Fly"), "5546 2.1.5 DTSTAMP does not rise with a change"),
    (lambda data: data.replace(b"UID:6d6c27cf", b"UID:6d6c27ce"),
     "5546 3.2.5 an event vanished without being cancelled"),
]  # fmt: skip


@pytest.mark.parametrize(("spoil", "fault"), UPDATE_BREAKS)
def test_the_rules_find_faults_in_an_update(spoil: Callable[[bytes], bytes], fault: str) -> None:
    now = datetime.fromtimestamp(NOW * 60, UTC)

    assert fault in faults_between(GOOD, spoil(GOOD), now)


def test_3_8_7_2_an_unchanged_plan_gives_the_same_bytes_whatever_the_clock() -> None:
    first, second = LIFE["first"], LIFE["unchanged"]

    assert (second.data, second.todos, second.split) == (first.data, first.todos, first.split)


def test_7986_5_3_uids_say_nothing_and_last() -> None:
    uids = {block.value("UID") for block in parsed(GOOD).items}
    other = {block.value("UID") for block in parsed(export(outlook(id="another")).data).items}

    assert len(uids) == 12
    assert not uids & other
    assert uids == {block.value("UID") for block in parsed(export(outlook(title="Renamed")).data).items}


def test_3_8_7_2_dtstamp_of_a_first_export_is_the_moment_of_the_plan() -> None:
    assert {block.value("DTSTAMP") for block in parsed(GOOD).items} == {"20270201T090000Z"}


def test_3_8_2_2_the_end_of_whole_days_is_the_day_after() -> None:
    wait = next(block for block in parsed(GOOD).items if block.value("X-MOVEPLAN-KEY") == "let-stand/1")

    assert [(line.params, line.value) for line in (wait.one("DTSTART"), wait.one("DTEND"))] == [
        ({"VALUE": "DATE"}, "20270306"),
        ({"VALUE": "DATE"}, "20270313"),
    ]
    assert instant(wait.one("DTEND")).isoformat() == "2027-03-13T00:00:00+00:00"
