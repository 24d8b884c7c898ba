"""From one export to the next: what moves, what is cancelled, what stays, and what is never built upon."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest

from moveplan.errors import OutputError, PlanFileError
from moveplan.network.task import State
from moveplan.outputs.calendar.export import CalendarExport, calendar_bytes
from moveplan.outputs.calendar.identity import calendar_uid
from moveplan.outputs.calendar.ledger import Counts
from moveplan.outputs.calendar.options import CalendarOptions
from tests.outputs.calendar.life import LIFE
from tests.outputs.calendar.rules import Block, parsed
from tests.outputs.calendar.scene import DAY, NOW, at, export, item, moving, outlook, plan

FIRST = export(outlook())


def event(exported: CalendarExport, key: str) -> Block:
    (found,) = [block for block in parsed(exported.data).items if block.value("X-MOVEPLAN-KEY") == key]
    return found


def keys(exported: CalendarExport) -> set[str]:
    return {block.value("X-MOVEPLAN-KEY") for block in parsed(exported.data).items}


def test_counts_over_a_plans_life() -> None:
    assert {name: exported.counts for name, exported in LIFE.items()} == {
        "first": Counts(new=12),
        "unchanged": Counts(unchanged=12),
        # Ten events slip, one is added, one dropped; the latest start stays on its date with a new title.
        "slipped": Counts(new=1, moved=10, changed=1, cancelled=1),
        "brought back": Counts(new=1, unchanged=12),
        # Done, and its latest start falls silent; running looks no different; both parts of a dropped task go.
        "under way": Counts(changed=2, cancelled=2, unchanged=9),
    }


def test_a_moved_event_keeps_its_uid_and_creation() -> None:
    before, after = event(LIFE["first"], "drive/1"), event(LIFE["slipped"], "drive/1")

    assert before.value("UID") == after.value("UID")
    assert (after.value("DTSTART"), after.value("SEQUENCE")) == ("20270316T110000", "1")
    assert (after.value("CREATED"), after.value("DTSTAMP")) == ("20270201T090000Z", "20270203T090000Z")


def test_a_renamed_task_keeps_its_event() -> None:
    before = event(FIRST, "drive/1")
    rows = [
        replace(row, task=replace(row.task, title="Drive home")) if row.task.id == "drive" else row
        for row in moving()
    ]
    renamed = export(outlook(rows, now=NOW + DAY), FIRST)
    after = event(renamed, "drive/1")

    assert (after.value("UID"), after.value("SUMMARY")) == (before.value("UID"), "Drive home")
    assert (after.value("SEQUENCE"), after.value("DTSTAMP")) == ("0", "20270202T090000Z")
    assert renamed.counts == Counts(changed=5, unchanged=7)  # four events say what they come after


def test_a_dropped_task_stays_as_cancelled_until_a_month_past_its_date() -> None:
    rows = [row for row in moving() if row.task.id != "drive"]
    dropped = export(outlook(rows, now=NOW + DAY), FIRST)
    tombstone = event(dropped, "drive/1")

    assert {line.name: line.value for line in tombstone.lines} == {
        "UID": event(FIRST, "drive/1").value("UID"),
        "DTSTART": "20270313T110000",
        "DTEND": "20270313T115000",
        "SUMMARY": "Cancelled: Drive",
        "CATEGORIES": "Moving day",
        "STATUS": "CANCELLED",
        "TRANSP": "TRANSPARENT",
        "X-MOVEPLAN-KEY": "drive/1",
        "DTSTAMP": "20270202T090000Z",
        "SEQUENCE": "1",
        "CREATED": "20270201T090000Z",
        "LAST-MODIFIED": "20270202T090000Z",
    }
    assert tombstone.blocks == []
    assert export(outlook(rows, now=at("2027-04-12 11:50")), dropped).data == dropped.data
    late = export(outlook(rows, now=at("2027-04-12 12:51")), dropped)
    assert "drive/1" not in keys(late)
    assert late.counts == Counts(unchanged=11)


def test_a_task_brought_back_takes_up_its_event_again() -> None:
    rows = [row for row in moving() if row.task.id != "drive"]
    back = export(outlook(now=NOW + 2 * DAY), export(outlook(rows, now=NOW + DAY), FIRST))
    drive = event(back, "drive/1")

    assert (drive.value("STATUS"), drive.value("SUMMARY"), drive.value("SEQUENCE")) == (
        "CONFIRMED",
        "Drive",
        "2",
    )
    assert drive.value("CREATED") == "20270201T090000Z"
    assert back.counts == Counts(new=1, changed=4, unchanged=7)  # four events come after it again


def test_a_part_that_vanishes_is_cancelled_and_the_other_stays() -> None:
    rows = [
        replace(row, stretches=row.stretches[:1]) if row.task.id == "pack-trays" else row for row in moving()
    ]
    shorter = export(outlook(rows), FIRST)

    assert event(shorter, "pack-trays/2").value("STATUS") == "CANCELLED"
    assert event(shorter, "pack-trays/1").value("SEQUENCE") == "0"


def test_a_latest_start_that_was_met_falls_silent_and_is_not_cancelled() -> None:
    begun = export(outlook(states={"mix-water": State.IN_PROCESS}, now=NOW + DAY), FIRST)
    latest = event(begun, "start-by:mix-water")

    assert (latest.value("STATUS"), latest.value("SUMMARY")) == ("CONFIRMED", "Latest start: Mix water")
    assert latest.blocks == []
    again = outlook(states={"mix-water": State.COMPLETED}, now=NOW + 2 * DAY)
    assert event(export(again, begun), "start-by:mix-water") == latest


def test_stamps_rise_with_a_change_even_where_the_clock_stands_still() -> None:
    moved = export(outlook(row.moved(60) for row in moving()), FIRST)
    earlier = export(outlook((row.moved(120) for row in moving()), now=NOW - DAY), moved)

    assert event(moved, "drive/1").value("DTSTAMP") == "20270201T090001Z"
    assert event(earlier, "drive/1").value("DTSTAMP") == "20270201T090002Z"
    assert parsed(earlier.data).value("LAST-MODIFIED") == "20270201T090002Z"


def test_another_zone_changes_the_dates_as_they_are_written() -> None:
    abroad = export(outlook(zone=ZoneInfo("Europe/Lisbon")), FIRST)

    assert event(abroad, "drive/1").value("SEQUENCE") == "1"
    assert abroad.counts.moved == 11


def test_a_tombstone_keeps_its_zone_when_the_plan_moves_to_another() -> None:
    rows = [row for row in moving() if row.task.id != "drive"]
    abroad = export(outlook(rows, zone=ZoneInfo("Europe/Lisbon")), FIRST)

    assert [zone.value("TZID") for zone in parsed(abroad.data).zones] == ["Europe/Dublin", "Europe/Lisbon"]


@pytest.mark.parametrize(
    "option", [{"private": True}, {"addresses": False}, {"alarms": False}, {"links": True}]
)
def test_another_way_of_telling_moves_nothing(option: dict[str, bool]) -> None:
    rows = [row for row in moving() if row.task.id != "soak-pads"]
    dropped = export(outlook(rows), FIRST)
    told = export(outlook(rows), dropped, **option)

    assert told.counts.changed > 0
    assert told.counts.moved == told.counts.new == told.counts.cancelled == 0
    assert export(outlook(rows), told, **option).data == told.data


def test_private_hides_cancelled_events_too() -> None:
    rows = [row for row in moving() if row.task.id != "drive"]
    private = export(outlook(rows), export(outlook(rows), FIRST), private=True)

    assert event(private, "drive/1").value("CLASS") == "PRIVATE"


def test_without_addresses_none_is_left_anywhere() -> None:
    rows = [row for row in moving() if row.task.id != "drive"]
    quiet = export(outlook(rows), export(outlook(rows), FIRST), addresses=False)

    assert b"Mill" not in quiet.data
    assert b"Ballycove" not in quiet.data


def test_without_a_name() -> None:
    nameless = export(outlook(), name=False)

    assert parsed(nameless.data).all("NAME") == parsed(nameless.data).all("X-WR-CALNAME") == []


@pytest.mark.parametrize(
    ("options", "name"),
    [
        ({}, "Reef to Harbour Lane"),
        ({"person": "ines"}, "Reef to Harbour Lane: Ines Farrow"),
        ({"phase": "Eve", "moving_day": True}, "Reef to Harbour Lane: Eve: moving day"),
    ],
)
def test_names(options: dict[str, Any], name: str) -> None:
    assert parsed(export(outlook(), **options).data).value("NAME") == name


def test_to_dos_have_a_calendar_and_a_ledger_of_their_own() -> None:
    first = export(outlook(), todos=True)
    done = export(
        outlook(states={"mix-water": State.COMPLETED}, now=at("2027-03-07 09:00")), first, todos=True
    )
    (to_do,) = [
        item for item in parsed(done.todos or b"").items if item.value("X-MOVEPLAN-KEY") == "mix-water"
    ]

    assert parsed(first.todos or b"").value("NAME") == "Reef to Harbour Lane: to do"
    assert (to_do.value("STATUS"), to_do.value("PERCENT-COMPLETE"), to_do.value("SEQUENCE")) == (
        "COMPLETED",
        "100",
        "1",
    )
    assert to_do.value("COMPLETED") == "20270306T120000Z"
    assert FIRST.todos is None
    assert FIRST.split == {}


def test_one_file_an_event() -> None:
    split = export(outlook(), split=True).split
    drive = event(FIRST, "drive/1")

    assert len(split) == 12
    assert parsed(split[f"{drive.value('UID')}.ics"]).items == [drive]


def test_a_selection_is_a_calendar_of_its_own_with_the_same_events() -> None:
    toms = export(outlook(), person="tom")

    assert parsed(toms.data).value("UID") == calendar_uid(plan().id, "person=tom")
    assert event(toms, "drive/1") == event(FIRST, "drive/1")
    reassigned = [replace(row, people=("ines",)) if row.task.id == "drive" else row for row in moving()]
    assert event(export(outlook(reassigned), toms, person="tom"), "drive/1").value("STATUS") == "CANCELLED"


def spoiled(old: bytes, new: bytes) -> Callable[[], bytes]:
    def make() -> bytes:
        assert old in FIRST.data
        return FIRST.data.replace(old, new, 1)

    return make


UID = b"UID:0af314f7-9c51-57f0-a597-0a683088daa2"
LATEST = b"DTSTART;TZID=Europe/Dublin:20270221T090000"
KEY = b"X-MOVEPLAN-KEY;VALUE=TEXT:drive/"
NOT_A_TIME = 'DTSTART of "Latest start: Mix water" in it is no date, and no time of a known zone'
NOT_A_COUNT = 'SEQUENCE of "Latest start: Mix water" in it is not a count'
DAMAGED = "it is no calendar, or a damaged one"
REFUSED: list[tuple[Callable[[], bytes], str]] = [
    (lambda: b"", DAMAGED),
    (lambda: b"\x89PNG\r\n\x1a\n", "it is not UTF-8 text (octet 0)"),
    (spoiled("°".encode(), b"\xb0"), f"it is not UTF-8 text (octet {FIRST.data.index(chr(176).encode())})"),
    (spoiled(b"SUMMARY:Drive", b"SUMMARY:Dri\x07ve"), "it holds control characters"),
    (spoiled(b"SUMMARY:Drive", b"SUMMARY:Dri\rve"), "it holds control characters"),
    (lambda: FIRST.data[: FIRST.data.rindex(b"END:VALARM")], DAMAGED),
    (lambda: FIRST.data.replace(b"END:VALARM\r\n", b"", 1), DAMAGED),
    (lambda: FIRST.data + FIRST.data, DAMAGED),
    (lambda: FIRST.data + b"SUMMARY:Dentist\r\n", DAMAGED),
    (spoiled(b"LAST-MODIFIED:20270201T090000Z\r\nUID", b"LAST-MODIFIED:yesterday\r\nUID"), DAMAGED),
    (spoiled(b"LAST-MODIFIED:20270201T090000Z\r\nUID", b"UID"), "LAST-MODIFIED of a VCALENDAR in it is missing"),
    (lambda: b"BEGIN:VEVENT\r\nEND:VEVENT\r\n", "it holds a VEVENT, not a calendar"),
    (lambda: export(outlook(id="other")).data,
     "it is another plan's, or another selection's (its UID is a214a602-6359-5a0d-9d02-58e922cc79f9, this one's is "
     "0af314f7-9c51-57f0-a597-0a683088daa2)"),
    (spoiled(UID + b"\r\n", b""),
     "it is another plan's, or another selection's (its UID is missing, this one's is "
     "0af314f7-9c51-57f0-a597-0a683088daa2)"),
    (spoiled(b"BEGIN:VEVENT", b"BEGIN:VEVENT\r\nUID:dentist\r\nSUMMARY:Dentist\\, 9 h\r\nEND:VEVENT\r\nBEGIN:VEVENT"),
     '"Dentist, 9 h" in it does not come from this plan'),
    (spoiled(b"BEGIN:VEVENT", b"BEGIN:VTODO\r\nEND:VTODO\r\nBEGIN:VEVENT"),
     "a VTODO in it does not come from this plan"),
    (lambda: FIRST.data.replace(b"VEVENT", b"VJOURNAL"),
     '"Latest start: Mix water" in it does not come from this plan'),
    (spoiled(KEY + b"1", KEY + b"2"), '"Drive" in it does not come from this plan'),
    (spoiled(KEY + b"1", KEY + b"1\r\n" + KEY + b"1"), '"Drive" in it does not come from this plan'),
    (spoiled(b"SEQUENCE:0", b"SEQUENCE:-1"), NOT_A_COUNT),
    (spoiled(b"SEQUENCE:0", b"SEQUENCE:2147483647"), NOT_A_COUNT),
    (spoiled(b"SEQUENCE:0", b"SEQUENCE;VALUE=TEXT:0"), NOT_A_COUNT),
    (spoiled(b"SEQUENCE:0\r\n", b""), NOT_A_COUNT),
    (spoiled(b"SEQUENCE:0", b"SEQUENCE:three"), 'SEQUENCE of "Latest start: Mix water" in it cannot be read'),
    (spoiled(b"CREATED:20270201T090000Z", b"CREATED:yesterday"),
     'CREATED of "Latest start: Mix water" in it cannot be read'),
    (spoiled(b"SEQUENCE:0", b"SEQUENCE:0\r\n=;:"), 'a line of "Latest start: Mix water" in it cannot be read'),
    (spoiled(b"CREATED:20270201T090000Z\r\n", b""), 'CREATED of "Latest start: Mix water" in it is missing'),
    (spoiled(LATEST, b"DTSTART;TZID=Mars/Base:20270221T090000"), NOT_A_TIME),
    (spoiled(LATEST, b"DTSTART;TZID=../../etc/passwd:20270221T090000"), NOT_A_TIME),
    (spoiled(LATEST, b"DTSTART;TZID=GMT Standard Time:20270221T090000"), NOT_A_TIME),
    (spoiled(LATEST, b"DTSTART;TZID=/somebody/Europe/Dublin:20270221T090000"), NOT_A_TIME),
    (spoiled(LATEST, b"DTSTART:20270221T090000"), NOT_A_TIME),
    (spoiled(LATEST, b"DTSTART:PT5M"), NOT_A_TIME),
    (spoiled(LATEST, LATEST + b"\r\n" + LATEST), NOT_A_TIME),
    (lambda: FIRST.data.replace(b"Europe/Dublin", b"Mars/Station"), NOT_A_TIME),  # described in the file itself
    (spoiled(b"DTEND;VALUE=DATE:20270313", b"DTEND;VALUE=DATE:20270230"),
     'DTEND of "Let stand" in it cannot be read'),
    (lambda: FIRST.data.replace(b"END:VCALENDAR", FIRST.data[FIRST.data.rindex(b"BEGIN:VEVENT"):]),
     "two of its items have the same UID"),
]  # fmt: skip


@pytest.mark.parametrize(("make", "message"), REFUSED)
def test_what_is_never_built_upon(make: Callable[[], bytes], message: str) -> None:
    with pytest.raises(OutputError) as caught:
        calendar_bytes(outlook(), make(), CalendarOptions())

    assert str(caught.value) == (
        f"the earlier calendar.ics cannot be built upon: {message}; move it away, or write to another folder"
    )
    assert caught.value.exit_status == 3


def test_a_selection_does_not_replace_the_whole() -> None:
    with pytest.raises(
        OutputError, match=r"the earlier calendar-tom\.ics .* another plan's, or another selection's"
    ):
        export(outlook(), FIRST, person="tom")


def test_events_and_to_dos_are_not_mixed_up() -> None:
    both = export(outlook(), todos=True)

    with pytest.raises(
        OutputError, match=r"the earlier calendar\.ics cannot be built upon: it is another plan's"
    ):
        calendar_bytes(outlook(), both.todos, CalendarOptions())
    with pytest.raises(
        OutputError, match=r"the earlier todos\.ics cannot be built upon: it is another plan's"
    ):
        calendar_bytes(outlook(), both.data, CalendarOptions(todos=True), both.data)


def test_a_file_with_the_line_ends_and_the_mark_of_an_editor_is_still_ours() -> None:
    edited = b"\xef\xbb\xbf" + FIRST.data.replace(b"\r\n", b"\n")
    again = calendar_bytes(outlook(), edited, CalendarOptions())

    assert again.data == FIRST.data
    assert again.counts == Counts(unchanged=12)


def test_titles_with_signs_of_the_spelling_stay_as_they_are() -> None:
    title = "C:\\New\\, \\n; \\\\N"
    rows = [
        replace(row, task=replace(row.task, title=title, phase=title)) if row.task.id == "drive" else row
        for row in moving()
    ]
    first = export(outlook(rows))
    again = export(outlook(rows, now=NOW + DAY), first)
    dropped = export(outlook(row for row in rows if row.task.id != "drive"), again)

    assert (again.data, again.counts) == (first.data, Counts(unchanged=12))
    read = icalendar.Calendar.from_ical(dropped.data)
    (drive,) = [item for item in read.walk("VEVENT") if item["X-MOVEPLAN-KEY"] == "drive/1"]
    assert str(drive["SUMMARY"]) == f"Cancelled: {title}"
    assert list(map(str, drive.get("CATEGORIES"))) == [title]
    assert export(outlook(row for row in rows if row.task.id != "drive"), dropped).data == dropped.data


def test_without_a_schedule_nothing_is_cancelled() -> None:
    seen = outlook()
    object.__setattr__(seen.schedule, "placements", ())

    with pytest.raises(OutputError) as caught:
        export(seen, FIRST)

    assert str(caught.value) == (
        "there is no schedule to make a calendar from; an earlier calendar is out of date"
    )


def test_options_are_checked_first() -> None:
    with pytest.raises(PlanFileError, match='nobody called "x"'):
        export(outlook(), person="x")


def test_the_order_of_tasks_in_the_plan_changes_nothing() -> None:
    assert export(outlook(reversed(moving()))).data == FIRST.data


def test_the_seed_of_hashes_changes_nothing() -> None:
    program = (
        "import hashlib; from tests.outputs.calendar.life import LIFE; "
        "print(hashlib.sha256(b''.join(one.data + (one.todos or b'') for one in LIFE.values())).hexdigest())"
    )

    def digest(seed: str) -> str:
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)}
        run = subprocess.run(
            [sys.executable, "-c", program],
            env=environment,
            capture_output=True,
            text=True,
            check=True,
            timeout=60,
        )
        return run.stdout

    assert len(digest("1")) == 65
    assert digest("1") == digest("2")


def test_a_task_called_like_a_latest_start_is_told_apart() -> None:
    rows = [item("start-by", "2027-03-06 09:00", 60), item("1", "2027-03-06 09:00", 60), *moving()]

    assert {"start-by/1", "1/1"} <= keys(export(outlook(rows)))
