"""Spells events, to-dos and whole calendars in iCalendar.

A calendar has no METHOD, ORGANIZER or ATTENDEE: it is a snapshot that invites nobody (``invited.py`` does). Stamps
(SEQUENCE and the like) are added by ``ledger.py``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import icalendar
from icalendar import Component, Parameters, vDuration

import moveplan
from moveplan.network.task import State
from moveplan.outputs.calendar.event import Alarm, Daily, Days, Event, Successor, Timed, ToDo
from moveplan.outputs.calendar.spelled import Spelled
from moveplan.outputs.calendar.spelling import KEY, text, utc
from moveplan.outputs.calendar.zones import timezone_component
from moveplan.times import to_local

# Without the patch level: a release that changes nothing here must not change the file.
_PRODUCT = f"-//moveplan//moveplan {'.'.join(moveplan.__version__.split('.')[:2])}//EN"
REFRESH = b"REFRESH-INTERVAL;VALUE=DURATION:PT6H\r\n"
"""Four times a day is enough for evenings and early enough for a change of the same day; assumed."""
_END = b"END:VCALENDAR\r\n"


@dataclass(frozen=True, slots=True)
class Heading:
    """What is said of a calendar as a whole.

    Parameters
    ----------
    uid : str
        UID of the calendar.
    name : str
        What to call it; empty: no name, so that it can be read into an existing one.
    modified : int
        Newest change of its items, UTC seconds since 1970. [s]
    """

    uid: str
    name: str
    modified: int


def calendar(heading: Heading, items: Sequence[Spelled], zone: ZoneInfo) -> bytes:
    """Write a whole calendar.

    Parameters
    ----------
    heading : Heading
        What is said of it as a whole.
    items : sequence of Spelled
        Its events or to-dos.
    zone : ZoneInfo
        The plan's zone, described where there is no item, since a calendar may not be empty.

    References
    ----------
    RFC 5545, sections 3.4 and 3.6; RFC 7986, sections 5.1, 5.3 and 5.4.
    """
    year = utc(heading.modified).year
    zones = _zones(items) if items else [timezone_component(zone, year, year)]
    whole = _calendar(zones)
    whole.add("UID", heading.uid)
    whole.add("LAST-MODIFIED", utc(heading.modified))
    for name in ("NAME", "X-WR-CALNAME") if heading.name else ():
        whole.add(name, text(heading.name))
    return _written(whole, items)


def published(data: bytes) -> bytes:
    """Say in a calendar how often to look for a newer one, for who subscribes to it.

    Parameters
    ----------
    data : bytes
        A calendar as it is written to the folder.

    References
    ----------
    RFC 7986, section 5.7.
    """
    before, mark, after = data.partition(b"CALSCALE:GREGORIAN\r\n")
    return before + mark + REFRESH + after


def single(item: Spelled, method: str = "") -> bytes:
    """Write one item as a resource of a calendar server, which names the calendar itself, or as a message.

    Parameters
    ----------
    item : Spelled
        An event or a to-do.
    method : str
        What the message asks for; empty: it is none.

    References
    ----------
    RFC 4791, section 4.1: one UID a resource, and no METHOD.
    """
    return _written(_calendar(_zones([item]), method), [item])


def event_component(event: Event) -> Component:
    """Spell an event, without its stamps.

    References
    ----------
    RFC 5545, section 3.6.1.
    """
    item = icalendar.Event()
    start, end = _ends(event.when)
    item.add("DTSTART", start)
    item.add("DTEND", end)
    if event.daily is not None and isinstance(event.when, Timed):
        _come_back(item, event.when, event.daily)
    _name(item, event)
    item.add("STATUS", event.status.value)
    item.add("TRANSP", "OPAQUE" if event.busy else "TRANSPARENT")
    for successor in event.successors:
        _relate(item, successor)
    if event.alarm:
        item.add_component(_alarm(event.alarm, event.words.title))
    return item


def to_do_component(to_do: ToDo) -> Component:
    """Spell a to-do, without its stamps.

    References
    ----------
    RFC 5545, section 3.6.2. DUE must be later than DTSTART (3.8.2.3), so a day's to-do has DUE only.
    """
    item = icalendar.Todo()
    item.add("DUE", to_do.due)
    _name(item, to_do)
    item.add("STATUS", to_do.state.value)
    if to_do.completed is not None:
        item.add("COMPLETED", utc(to_do.completed * 60))
        item.add("PERCENT-COMPLETE", 100)
    elif to_do.state is State.NEEDS_ACTION:
        item.add("PERCENT-COMPLETE", 0)
    return item


def _calendar(parts: Iterable[Component], method: str = "") -> icalendar.Calendar:
    whole = icalendar.Calendar()
    whole.add("VERSION", "2.0")
    whole.add("PRODID", _PRODUCT)
    whole.add("CALSCALE", "GREGORIAN")
    if method:
        whole.add("METHOD", method)
    for part in parts:
        whole.add_component(part)
    return whole


def _written(whole: icalendar.Calendar, items: Iterable[Spelled]) -> bytes:
    """Write a calendar, and into its end its items, which are written already."""
    return b"".join((whole.to_ical().removesuffix(_END), *(item.octets for item in items), _END))


def _name(item: Component, named: Event | ToDo) -> None:
    item.add("UID", named.uid)
    # Without a type the library reads an X- property as it stands in the file, escapes and all.
    item.add(KEY, text(named.key), parameters={"VALUE": "TEXT"})
    words = named.words
    # A category is added as one text: given as a list, it would be spelled by the library's own TEXT.
    for name, said in (
        ("SUMMARY", words.title),
        ("DESCRIPTION", words.notes),
        ("LOCATION", words.location),
        ("CATEGORIES", words.category),
    ):
        if said:
            item.add(name, text(said))
    if named.private:
        item.add("CLASS", "PRIVATE")


def _ends(when: Timed | Days) -> tuple[date, date]:
    """Give both ends, in UTC where a wall-clock time comes twice: readers differ on which one is meant."""
    if isinstance(when, Days):
        return when.first, when.after
    start, end = to_local(when.start, when.zone), to_local(when.end, when.zone)
    if _comes_twice(start) or _comes_twice(end):
        return start.astimezone(UTC), end.astimezone(UTC)
    return start, end


def _come_back(item: Component, when: Timed, daily: Daily) -> None:
    """Let an event come back day by day at the same wall-clock time (RFC 5545, sections 3.8.5.1 and 3.8.5.3)."""
    item.add("RRULE", {"FREQ": "DAILY", "COUNT": daily.count})
    wall = to_local(when.start, when.zone).timetz()
    if daily.without:
        item.add("EXDATE", [datetime.combine(day, wall) for day in daily.without])


def _comes_twice(wall: datetime) -> bool:
    return wall.replace(fold=0).utcoffset() != wall.replace(fold=1).utcoffset()


def _relate(item: Component, successor: Successor) -> None:
    parameters = Parameters(RELTYPE=successor.relation.value)
    if successor.gap_min:
        parameters["GAP"] = vDuration(timedelta(minutes=successor.gap_min))
    item.add("RELATED-TO", successor.uid, parameters=parameters)


def _alarm(alarm: Alarm, title: str) -> icalendar.Alarm:
    rings = icalendar.Alarm()
    rings.add("UID", alarm.uid)
    rings.add("ACTION", "DISPLAY")
    rings.add("DESCRIPTION", text(title))
    rings.add("TRIGGER", timedelta(minutes=-alarm.before_min))
    return rings


def _zones(items: Iterable[Spelled]) -> list[Component]:
    """Describe each zone that a time refers to, in the order of their names."""
    years: dict[str, list[int]] = {}
    for item in items:
        for name in ("DTSTART", "DTEND", "DUE"):
            moment = item.component.get(name)
            if moment is not None and (zone := moment.params.get("TZID", "UTC")) != "UTC":
                years.setdefault(zone, []).append(moment.dt.year)
    return [
        timezone_component(ZoneInfo(zone), min(found), max(found)) for zone, found in sorted(years.items())
    ]
