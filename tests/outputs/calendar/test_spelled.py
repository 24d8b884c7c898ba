"""What need not be read again, and what must be."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.outputs.calendar.events import events
from moveplan.outputs.calendar.identity import calendar_uid, event_uid
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.calendar.previous import Ledger, read_ledger
from moveplan.outputs.calendar.source import Source
from moveplan.outputs.calendar.spelled import Spelled, Stamps, dates, skeleton, spelled, stamped, stamps_of
from moveplan.outputs.calendar.words import Wording
from moveplan.outputs.calendar.write import event_component
from moveplan.outputs.outlook import Outlook
from tests.outputs.calendar.scene import export, moving, outlook, plan

FIRST = export(outlook()).data
DRIVE = next(block for block in FIRST.split(b"BEGIN:VEVENT")[1:] if b"KEY;VALUE=TEXT:drive/1" in block)


def made(seen: Outlook) -> list[Spelled]:
    return [spelled(event_component(event)) for event in events(Source(seen, CalendarOptions(), Wording()))]


def ledger(seen: Outlook, earlier: bytes = FIRST) -> Ledger:
    return read_ledger(
        earlier, calendar_uid(plan().id, ""), lambda key: event_uid(plan().id, key), made(seen)
    )


def test_what_stands_there_as_planned_is_not_read() -> None:
    found = ledger(outlook())

    assert (len(found.known), len(found.items)) == (12, 0)
    assert not any(known.moved for known in found.known.values())


def test_what_only_moved_or_got_other_words_is_not_read_either() -> None:
    rows = [row.moved(60) for row in moving()]
    rows[0] = replace(rows[0], task=replace(rows[0].task, title="Mix the new water, 60 l"))
    found = ledger(outlook(rows))

    assert (len(found.known), len(found.items)) == (12, 0)
    assert (
        sum(known.moved for known in found.known.values()) == 10
    )  # the latest start and a wait of whole days stay
    assert any(known.reworded for known in found.known.values())


def test_lines_that_were_folded_elsewhere_have_the_same_words() -> None:
    found = ledger(outlook(), FIRST.replace(b"SUMMARY:Drive", b"SUMMARY:Dr\r\n\tive"))

    assert not any(known.reworded for known in found.known.values())


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"\r\n", b"\n"),
        (b"STATUS:CONFIRMED", b"STATUS:confirmed"),
        (b"DTSTART;TZID=Europe/Dublin:", b"DTSTART;TZID=Europe/London:"),
        (b"DTSTART;TZID=Europe/Dublin:", b"DTSTART:"),
        (b"SEQUENCE:0", b"SEQUENCE:2147483647"),
        (b"SEQUENCE:0", b"SEQUENCE:-1"),
        (b"CREATED:20270201T", b"CREATED:20270231T"),
        (b"DTEND;TZID=Europe/Dublin:20270313T1150", b"DTEND;TZID=Europe/Dublin:20270313T1160"),
        (b"DTSTAMP:20270201T090000Z", b"DTSTAMP:1"),
        (b"END:VEVENT", b"COMMENT:mine\r\nEND:VEVENT"),
    ],
)
def test_what_is_not_spelled_as_ours_is_read_by_the_library(old: bytes, new: bytes) -> None:
    assert old in DRIVE
    planned = {skeleton(item.octets) for item in made(outlook())}
    block = b"BEGIN:VEVENT" + DRIVE[: DRIVE.index(b"END:VEVENT") + len(b"END:VEVENT\r\n")]
    assert skeleton(block) in planned
    assert stamps_of(block) is not None

    spoiled = block.replace(old, new)

    assert skeleton(spoiled) not in planned or stamps_of(spoiled) is None


def test_stamps_go_into_their_places_only() -> None:
    item = Spelled(
        made(outlook())[0].component,
        b"BEGIN:VEVENT\r\nDESCRIPTION:SEQUENCE:0\r\n SEQUENCE:0\r\nDTSTAMP:19700101T000000Z\r\n"
        b"SEQUENCE:0\r\nCREATED:19700101T000000Z\r\nLAST-MODIFIED:19700101T000000Z\r\nEND:VEVENT\r\n",
    )

    assert stamped(item, Stamps(7, 86400, 2 * 86400)).octets == (
        b"BEGIN:VEVENT\r\nDESCRIPTION:SEQUENCE:0\r\n SEQUENCE:0\r\nDTSTAMP:19700103T000000Z\r\n"
        b"SEQUENCE:7\r\nCREATED:19700102T000000Z\r\nLAST-MODIFIED:19700103T000000Z\r\nEND:VEVENT\r\n"
    )


@pytest.mark.parametrize(
    ("line", "of_the_skeleton"),
    [
        (b"DTSTART;VALUE=DATE:20270301", b"DTSTART;VALUE=DATE:"),
        (b"DTSTART:20270301T090000Z", b"DTSTART:TZ"),
        (b"DTSTART:20270301T090000", b"DTSTART:T"),
        (b"DTEND;TZID=Etc/GMT+5:20270301T090000", b"DTEND;TZID=Etc/GMT+5:T"),
    ],
)
def test_a_skeleton_keeps_the_kind_of_a_date(line: bytes, of_the_skeleton: bytes) -> None:
    assert skeleton(line + b"\r\n") == of_the_skeleton + b"\r\n"
    assert dates(line + b"\r\n") == [line + b"\r\n"]


def test_the_same_item_twice_is_seen_although_it_is_not_read() -> None:
    block = b"BEGIN:VEVENT" + DRIVE[: DRIVE.index(b"END:VEVENT") + len(b"END:VEVENT\r\n")]
    twice = FIRST.replace(b"END:VCALENDAR", block + b"END:VCALENDAR")

    with pytest.raises(ValueError, match="two of its items have the same UID"):
        ledger(outlook(), twice)
