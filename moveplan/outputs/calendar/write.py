"""Spells events, to-dos and whole calendars in iCalendar.

No METHOD, ORGANIZER or ATTENDEE, ever: the file is a snapshot that invites nobody. Stamps (SEQUENCE and the
like) are added by ``ledger.py``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import moveplan
from moveplan.network.task import State
from moveplan.outputs.calendar.event import Days, Event, Successor, Timed, ToDo, Words
from moveplan.outputs.calendar.lines import Component, Property, text_property, written
from moveplan.outputs.calendar.zones import timezone_component
from moveplan.times import to_local

# Without the patch level: a release that changes nothing here must not change the file.
_PRODUCT = f"-//moveplan//moveplan {'.'.join(moveplan.__version__.split('.')[:2])}//EN"
_UTC_ZONES = ("UTC", "Etc/UTC")
_LOCAL = "%Y%m%dT%H%M%S"

#: Which event of the plan it is; by it our own events are told from a neighbour's.
KEY = "X-MOVEPLAN-KEY"


@dataclass(frozen=True, slots=True)
class Heading:
    """What is said of a calendar as a whole.

    Parameters
    ----------
    uid : str
        UID of the calendar. [-]
    name : str
        What to call it; empty: no name, so that it can be read into an existing one. [-]
    modified : int
        Newest change of its items, UTC seconds since 1970. [s]
    """

    uid: str
    name: str
    modified: int


def calendar(heading: Heading, items: Sequence[Component], zone: ZoneInfo) -> bytes:
    """Write a whole calendar.

    Parameters
    ----------
    heading : Heading
        What is said of it as a whole. [-]
    items : sequence of Component
        Its events or to-dos. [-]
    zone : ZoneInfo
        The plan's zone, described where there is no item, since a calendar may not be empty. [-]

    Returns
    -------
    bytes
        The file. [-]

    References
    ----------
    RFC 5545, sections 3.4 and 3.6; RFC 7986, sections 5.1, 5.3 and 5.4.
    """
    names = [text_property(name, heading.name) for name in ("NAME", "X-WR-CALNAME") if heading.name]
    properties = (
        *_preamble(),
        Property("UID", heading.uid),
        Property("LAST-MODIFIED", stamp(heading.modified)),
        *names,
    )
    zones = _zones(items) if items else (timezone_component(zone, *_only_year(heading.modified)),)
    return written(Component("VCALENDAR", properties, (*zones, *items)))


def single(item: Component) -> bytes:
    """Write one item as a resource of a calendar server, which names the calendar itself.

    Parameters
    ----------
    item : Component
        An event or a to-do. [-]

    Returns
    -------
    bytes
        The file. [-]

    References
    ----------
    RFC 4791, section 4.1: one UID a resource, and no METHOD.
    """
    return written(Component("VCALENDAR", _preamble(), (*_zones([item]), item)))


def event_component(event: Event) -> Component:
    """Spell an event, without its stamps.

    Parameters
    ----------
    event : Event
        What to spell. [-]

    Returns
    -------
    Component
        A VEVENT. [-]

    References
    ----------
    RFC 5545, section 3.6.1.
    """
    return Component(
        "VEVENT",
        (
            Property("UID", event.uid),
            *_when(event.when),
            *_words(event.words),
            Property("STATUS", event.status),
            Property("TRANSP", "OPAQUE" if event.busy else "TRANSPARENT"),
            *_privacy(event.private),
            *map(_related, event.successors),
            text_property(KEY, event.key),
        ),
        _alarms(event),
    )


def to_do_component(to_do: ToDo) -> Component:
    """Spell a to-do, without its stamps.

    Parameters
    ----------
    to_do : ToDo
        What to spell. [-]

    Returns
    -------
    Component
        A VTODO. [-]

    References
    ----------
    RFC 5545, section 3.6.2. DUE must be later than DTSTART (3.8.2.3), so a day's to-do has DUE only.
    """
    return Component(
        "VTODO",
        (
            Property("UID", to_do.uid),
            _day("DUE", to_do.due),
            *_words(to_do.words),
            Property("STATUS", to_do.state),
            *_progress(to_do),
            *_privacy(to_do.private),
            text_property(KEY, to_do.key),
        ),
    )


def stamp(second: int) -> str:
    """Spell an instant in UTC.

    Parameters
    ----------
    second : int
        UTC seconds since 1970. [s]

    Returns
    -------
    str
        Form 2 of RFC 5545, section 3.3.5. [-]

    Examples
    --------
    >>> stamp(0)
    '19700101T000000Z'
    """
    return f"{datetime.fromtimestamp(second, UTC):{_LOCAL}}Z"


def duration(minutes: int) -> str:
    """Spell a duration.

    Parameters
    ----------
    minutes : int
        May be negative. [min]

    Returns
    -------
    str
        As in RFC 5545, section 3.3.6. [-]

    Examples
    --------
    >>> duration(3030), duration(-30), duration(1440), duration(0)
    ('P2DT2H30M', '-PT30M', 'P1D', 'PT0M')
    """
    days, rest = divmod(abs(minutes), 1440)
    hours, rest = divmod(rest, 60)
    clock = (f"{hours}H" if hours else "") + (f"{rest}M" if rest else "")
    if not days and not clock:
        clock = "0M"
    return f"{'-' if minutes < 0 else ''}P{f'{days}D' if days else ''}{f'T{clock}' if clock else ''}"


def _preamble() -> tuple[Property, ...]:
    return Property("VERSION", "2.0"), Property("PRODID", _PRODUCT), Property("CALSCALE", "GREGORIAN")


def _words(words: Words) -> list[Property]:
    named = (
        ("SUMMARY", words.title),
        ("DESCRIPTION", words.notes),
        ("LOCATION", words.location),
        ("CATEGORIES", words.category),
    )
    return [text_property(name, text) for name, text in named if text]


def _privacy(private: bool) -> tuple[Property, ...]:
    return (Property("CLASS", "PRIVATE"),) if private else ()


def _when(when: Timed | Days) -> tuple[Property, Property]:
    if isinstance(when, Days):
        return _day("DTSTART", when.first), _day("DTEND", when.after)
    utc = when.zone.key in _UTC_ZONES or any(_comes_twice(end, when.zone) for end in (when.start, when.end))
    return _instant("DTSTART", when.start, when.zone, utc), _instant("DTEND", when.end, when.zone, utc)


def _day(name: str, day: date) -> Property:
    return Property(name, f"{day:%Y%m%d}", (("VALUE", "DATE"),))


def _instant(name: str, minutes: int, zone: ZoneInfo, utc: bool) -> Property:
    if utc:
        return Property(name, stamp(minutes * 60))
    return Property(name, f"{to_local(minutes, zone):{_LOCAL}}", (("TZID", zone.key),))


def _comes_twice(minutes: int, zone: ZoneInfo) -> bool:
    """Tell whether the wall-clock time comes twice that day: readers differ on which one is meant."""
    wall = to_local(minutes, zone)
    return wall.replace(fold=0).utcoffset() != wall.replace(fold=1).utcoffset()


def _related(successor: Successor) -> Property:
    gap = (("GAP", duration(successor.gap_min)),) if successor.gap_min else ()
    return Property("RELATED-TO", successor.uid, (("RELTYPE", successor.relation), *gap))


def _alarms(event: Event) -> tuple[Component, ...]:
    if event.alarm is None:
        return ()
    properties = (
        Property("UID", event.alarm.uid),
        Property("ACTION", "DISPLAY"),
        text_property("DESCRIPTION", event.words.title),
        Property("TRIGGER", duration(-event.alarm.before_min)),
    )
    return (Component("VALARM", properties),)


def _progress(to_do: ToDo) -> tuple[Property, ...]:
    if to_do.completed is not None:
        return Property("PERCENT-COMPLETE", "100"), Property("COMPLETED", stamp(to_do.completed * 60))
    return (Property("PERCENT-COMPLETE", "0"),) if to_do.state is State.NEEDS_ACTION else ()


def _zones(items: Iterable[Component]) -> tuple[Component, ...]:
    """Describe each zone that a time refers to, in the order of their names."""
    years: dict[str, list[int]] = {}
    for item in items:
        for prop in item.properties:
            for key, zone in prop.params:
                if key == "TZID":
                    years.setdefault(zone, []).append(int(prop.value[:4]))
    return tuple(
        timezone_component(ZoneInfo(zone), min(found), max(found)) for zone, found in sorted(years.items())
    )


def _only_year(second: int) -> tuple[int, int]:
    year = datetime.fromtimestamp(second, UTC).year
    return year, year
