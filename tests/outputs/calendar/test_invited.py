"""Invitations, read by the rules of RFC 5546 and by two libraries."""

from __future__ import annotations

from dataclasses import replace

import icalendar
import pytest
import vobject

from moveplan.errors import PlanFileError
from moveplan.outputs.calendar.export import CalendarExport, calendar_bytes
from moveplan.outputs.calendar.options import CalendarOptions, check_options
from moveplan.outputs.outlook import Outlook
from tests.outputs.calendar.rules import faults, parsed
from tests.outputs.calendar.scene import DAY, Item, moving, outlook, plan

TOM = CalendarOptions(every_task=False, invite=True).for_person("tom", "ines")
INES = TOM.for_person("ines", "ines")
DRIVE, PACK = "day-drive-1.ics", "session-pack-trays-1.ics"


def addressed(items: tuple[Item, ...] | None = None, name: str = "Tom Reilly") -> Outlook:
    ines, tom = plan().people
    people = (replace(ines, email="ines@example.org"), replace(tom, email="tom+reef@example.net", name=name))
    return outlook(items, people=people)


def made(seen: Outlook, before: CalendarExport | None = None) -> CalendarExport:
    return calendar_bytes(seen, before.data if before else None, TOM)


def test_each_event_is_one_message_from_who_leads_to_the_guest() -> None:
    found = made(addressed())
    assert set(found.invitations) == {DRIVE, "session-mix-water-1.ics", PACK, "session-pack-trays-2.ics"}
    own = {str(one["UID"]) for one in icalendar.Calendar.from_ical(found.data).walk("VEVENT")}
    assert own == {parsed(data).items[0].value("UID") for data in found.invitations.values()}
    for data in found.invitations.values():
        whole = parsed(data)
        assert whole.value("METHOD") == "REQUEST"
        (event,) = whole.items  # a single UID in each: RFC 5546, 3.2.2
        assert event.one("ORGANIZER").value == "mailto:ines@example.org"
        guest = event.one("ATTENDEE")
        assert guest.value == "mailto:tom+reef@example.net"
        assert guest.params["PARTSTAT"] == "NEEDS-ACTION"
        assert guest.params["RSVP"] == "TRUE"
        assert {event.value(name) for name in ("DTSTAMP", "LAST-MODIFIED")} == {event.value("DTSTAMP")}
        # All else that holds of a calendar holds of a message; a snapshot alone has no people.
        assert set(faults(data)) == {"4791 4.1 METHOD", "5546 3.2.1 people"}
        read = vobject.readOne(data.decode())
        assert read.method.value == "REQUEST"
        assert read.vevent.attendee.value == "mailto:tom+reef@example.net"


def test_the_calendar_itself_invites_nobody_and_who_leads_gets_no_message() -> None:
    assert faults(made(addressed()).data) == []
    assert calendar_bytes(addressed(), None, INES).invitations == {}
    assert calendar_bytes(addressed(), None, replace(TOM, invite=False)).invitations == {}
    nobody = replace(TOM, person="bea")
    ines, tom = addressed().project.plan.people
    bea = replace(tom, id="bea", email="")
    assert calendar_bytes(outlook(people=(ines, tom, bea)), None, nobody).invitations == {}


def test_what_moves_keeps_its_name_and_what_is_dropped_is_called_off() -> None:
    before = made(addressed())
    later = [
        one.moved(DAY) if one.task.id == "mix-water" else one for one in moving() if one.task.id != "drive"
    ]
    after = made(addressed(tuple(later)), before)
    was, now = (parsed(one.invitations["session-mix-water-1.ics"]).items[0] for one in (before, after))
    assert was.value("UID") == now.value("UID")
    assert int(now.value("SEQUENCE")) == int(was.value("SEQUENCE")) + 1
    whole = parsed(after.invitations[DRIVE])
    (off,) = whole.items
    assert (whole.value("METHOD"), off.value("STATUS")) == ("CANCEL", "CANCELLED")
    assert off.value("UID") == parsed(before.invitations[DRIVE]).items[0].value("UID")
    assert int(off.value("SEQUENCE")) == 1
    assert off.one("ATTENDEE").value == "mailto:tom+reef@example.net"
    assert off.blocks == []  # no alarm: RFC 5546, 3.2.5
    assert after.invitations[PACK] == before.invitations[PACK]


@pytest.mark.parametrize(
    "name",
    ['Tom "T" Reilly', "Reilly, Tom; of: Ballycove", "Zoë\r\nORGANIZER:mailto:x@example.net", "🐟" * 60],
)
def test_no_name_breaks_a_line_or_becomes_a_property(name: str) -> None:
    for data in made(addressed(name=name)).invitations.values():
        (event,) = parsed(data).items
        assert event.one("ORGANIZER").value == "mailto:ines@example.org"
        assert all(len(line) <= 75 for line in data.split(b"\r\n"))
        (read,) = icalendar.Calendar.from_ical(data).walk("VEVENT")
        assert str(read["ATTENDEE"]) == "mailto:tom+reef@example.net"


def test_without_addresses_or_with_each_task_of_everybody_there_is_nobody_to_invite() -> None:
    with pytest.raises(PlanFileError) as refused:
        check_options(replace(CalendarOptions(), invite=True), outlook().project)
    told = str(refused.value)
    for part in ("--every-task", "the address of whoever leads", "nobody who helps has an address"):
        assert part in told
    check_options(TOM, addressed().project)
