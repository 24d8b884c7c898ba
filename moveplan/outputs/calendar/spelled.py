"""Items as the octets that go into the file, so that one which has not changed need not be read again.

An item is spelled once, with stamps that say nothing; the right ones are put in their place. What stands in the
calendar that is replaced is compared octet by octet, stamps and dates aside: where it is the same there is nothing
for the library to read. Only values spelled exactly as we spell them are taken that way.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import NamedTuple

from icalendar import Component

from moveplan.outputs.calendar.spelling import STAMPS, utc

_STAMP = re.compile(rb"^(DTSTAMP|SEQUENCE|CREATED|LAST-MODIFIED):(\d{1,10}|\d{8}T\d{6}Z)\r\n", re.MULTILINE)
_DATE = re.compile(
    rb"^((?:DTSTART|DTEND|DUE)(?:;TZID=[\w/+-]+|;VALUE=DATE)?:)(\d{8}(?:(T)\d{6})?)(Z?)\r\n", re.MULTILINE
)
_TEXT = re.compile(rb"^(SUMMARY|DESCRIPTION|LOCATION|CATEGORIES):((?:[^\r\n]|\r\n[ \t])*)\r\n", re.MULTILINE)
_FOLD = re.compile(rb"\r\n[ \t]")
MOST_CHANGES = 2**31 - 2
"""Greatest number of changes of an event: RFC 5545, section 3.3.8, ends an INTEGER at 2**31 - 1. [-]"""


@dataclass(frozen=True, slots=True)
class Stamps:
    """What says when an item was made and changed, and how often.

    Parameters
    ----------
    sequence : int
        How often its dates or its state changed.
    created, modified : int
        UTC seconds since 1970. [s]
    """

    sequence: int
    created: int
    modified: int


class Spelled(NamedTuple):
    """An event or a to-do as it is written.

    Parameters
    ----------
    component : Component
        Without stamps.
    octets : bytes
        With stamps; those of :func:`spelled` say nothing.
    """

    component: Component
    octets: bytes


def spelled(component: Component) -> Spelled:
    """Write an item, with stamps that say nothing yet.

    Parameters
    ----------
    component : Component
        An event or a to-do; stamps that it has are taken off.
    """
    for name in STAMPS:
        component.pop(name)
        component.add(name, 0 if name == "SEQUENCE" else utc(0))
    octets = bytes(component.to_ical())
    for name in STAMPS:
        component.pop(name)
    return Spelled(component, octets)


def stamped(item: Spelled, stamps: Stamps) -> Spelled:
    """Put the right stamps in the place of those that say nothing.

    Parameters
    ----------
    stamps : Stamps
        The right ones. DTSTAMP is that of the last change where there is no METHOD (RFC 5545, 3.8.7.2).
    """
    modified = _written(stamps.modified)
    values = {
        b"DTSTAMP": modified,
        b"SEQUENCE": b"%d" % stamps.sequence,
        b"CREATED": _written(stamps.created),
        b"LAST-MODIFIED": modified,
    }
    return item._replace(
        octets=_STAMP.sub(lambda found: b"%s:%s\r\n" % (found[1], values[found[1]]), item.octets)
    )


def skeleton(octets: bytes) -> bytes:
    """Take stamps, dates and texts out of an item: two items with the same one differ in nothing else.

    Parameters
    ----------
    octets : bytes
        An item as it was written.
    """
    return _DATE.sub(rb"\1\3\4\r\n", _STAMP.sub(rb"\1:\r\n", _TEXT.sub(rb"\1:\r\n", octets)))


def dates(octets: bytes) -> list[bytes]:
    """Give the lines with the dates of an item.

    Parameters
    ----------
    octets : bytes
        An item as it was written.
    """
    return [found[0] for found in _DATE.finditer(octets)]


def texts(octets: bytes) -> list[bytes]:
    """Give the texts of an item, however their lines are folded.

    Parameters
    ----------
    octets : bytes
        An item as it was written.
    """
    return [_FOLD.sub(b"", found[0]) for found in _TEXT.finditer(octets)]


def stamps_of(octets: bytes) -> Stamps | None:
    """Read the stamps of an item with the skeleton of one of ours.

    Parameters
    ----------
    octets : bytes
        An item as it was written.

    Returns
    -------
    Stamps or None
        None where one of its stamps or dates is none that we would write: then the library has to say what it is.
    """
    values = {found[1]: found[2] for found in _STAMP.finditer(octets)}
    try:
        for found in _DATE.finditer(octets):
            datetime.fromisoformat(found[2].decode())
        stamps = Stamps(int(values[b"SEQUENCE"]), _read(values[b"CREATED"]), _read(values[b"LAST-MODIFIED"]))
        _read(values[b"DTSTAMP"])
    except ValueError:
        return None
    return stamps if stamps.sequence <= MOST_CHANGES else None


def _written(second: int) -> bytes:
    return f"{utc(second):%Y%m%dT%H%M%SZ}".encode("ascii")


def _read(value: bytes) -> int:
    return int(datetime.fromisoformat(value.decode()).replace(tzinfo=UTC).timestamp())
