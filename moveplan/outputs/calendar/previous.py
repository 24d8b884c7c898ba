"""Reads the calendar that is replaced, and refuses any that did not come from here.

The library mends what it can and says nothing: octets that are no UTF-8, a value that is no value, a zone that
nobody knows, an END of another name. To build upon such a file would cancel or garble somebody's events, so
each of these is looked for here.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from typing import Any, NamedTuple

from icalendar import Calendar, Component, Event, Todo

from moveplan.outputs.calendar.spelled import MOST_CHANGES, Spelled, Stamps, dates, skeleton, stamps_of, texts
from moveplan.outputs.calendar.spelling import KEY

_CONTROLS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]|\r(?!\n)")
_ITEM = re.compile(rb"^BEGIN:(VEVENT|VTODO)\r\n.*?^END:\1\r\n", re.MULTILINE | re.DOTALL)
_BYTE_ORDER_MARK = b"\xef\xbb\xbf"


class UnreadableError(ValueError):
    """The file cannot be built upon; the message says why."""


class Known(NamedTuple):
    """An item that stands in the file as it is planned now, its dates and words aside.

    Parameters
    ----------
    stamps : Stamps
        Those in the file.
    moved, reworded : bool
        Whether its dates or its words differ.
    """

    stamps: Stamps
    moved: bool
    reworded: bool


@dataclass(frozen=True, slots=True)
class Ledger:
    """What was exported before.

    Parameters
    ----------
    items : Mapping of str to Component
        Events or to-dos by UID: those that the library had to read.
    known : Mapping of str to Known
        The others by UID.
    modified : int or None
        LAST-MODIFIED of the calendar, UTC seconds since 1970; None: nothing was exported before. [s]
    """

    items: Mapping[str, Component] = field(default_factory=dict)
    known: Mapping[str, Known] = field(default_factory=dict)
    modified: int | None = None


def read_ledger(
    previous: bytes | None, calendar_uid: str, uid_of: Callable[[str], str], planned: Iterable[Spelled] = ()
) -> Ledger:
    """Read the calendar that will be replaced.

    Parameters
    ----------
    previous : bytes or None
        Its content; None where there is none.
    calendar_uid : str
        UID that it must have.
    uid_of : callable
        Gives the UID that belongs to an item's key.
    planned : iterable of Spelled
        What will stand in the new one: what the file says in the same octets is not read by the library.

    Raises
    ------
    UnreadableError
        Where it cannot be read, is not this plan's, or holds something that did not come from here: to build
        upon it would cancel other people's events.
    """
    if previous is None:
        return Ledger()
    _check_text(previous)
    rest, known = _recognised(previous.removeprefix(_BYTE_ORDER_MARK), planned)
    calendar = _parsed(rest.decode("utf-8"))
    _check_owner(calendar, calendar_uid)
    items = [part for part in calendar.subcomponents if part.name != "VTIMEZONE"]
    for item in items:
        _check_item(item, uid_of)
    by_uid = {str(item.get("UID")): item for item in items}
    of_known = dict(known)
    if len(by_uid) + len(of_known) < len(items) + len(known) or by_uid.keys() & of_known.keys():
        msg = "two of its items have the same UID"
        raise UnreadableError(msg)
    return Ledger(by_uid, of_known, _second(calendar, "LAST-MODIFIED"))


def _recognised(stream: bytes, planned: Iterable[Spelled]) -> tuple[bytes, list[tuple[str, Known]]]:
    """Take out of a file what stands in it as it is planned now; give the rest for the library to read."""
    known: list[tuple[str, Known]] = []
    by_skeleton = {skeleton(item.octets): item for item in planned}

    def left(found: re.Match[bytes]) -> bytes:
        item = by_skeleton.get(skeleton(found[0]))
        stamps = stamps_of(found[0]) if item else None
        if item is None or stamps is None:
            return found[0]
        known.append((str(item.component.get("UID")), _compared(item.octets, found[0], stamps)))
        return b""

    return _ITEM.sub(left, stream), known


def _compared(now: bytes, before: bytes, stamps: Stamps) -> Known:
    return Known(stamps, moved=dates(now) != dates(before), reworded=texts(now) != texts(before))


def instant(item: Component, *names: str) -> int:
    """Give the instant of the first property that is there; a date counts from midnight UTC.

    Parameters
    ----------
    item : Component
        An item with sound times.
    names : str
        Properties to look for, in order.

    Returns
    -------
    int
        UTC seconds since 1970. [s]
    """
    moment: date = next(item.get(name) for name in names if name in item).dt
    if not isinstance(moment, datetime):
        moment = datetime.combine(moment, time(), UTC)
    return int(moment.timestamp())


def _check_text(stream: bytes) -> None:
    try:
        text = stream.decode("utf-8")
    except UnicodeDecodeError as error:
        msg = f"it is not UTF-8 text (octet {error.start})"
        raise UnreadableError(msg) from error
    if _CONTROLS.search(text):
        msg = "it holds control characters"
        raise UnreadableError(msg)


def _parsed(text: str) -> Component:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # about guesses at zones: those are refused below
            calendar = Calendar.from_ical(text)
    except Exception as error:  # the library raises whatever a damaged part happens to raise
        msg = "it is no calendar, or a damaged one"
        raise UnreadableError(msg) from error
    if calendar.name != "VCALENDAR":
        msg = f"it holds a {calendar.name}, not a calendar"
        raise UnreadableError(msg)
    return calendar


def _check_owner(calendar: Component, calendar_uid: str) -> None:
    if calendar.get("UID") != calendar_uid:
        msg = (
            "it is another plan's, or another selection's (its UID is "
            f"{calendar.get('UID', 'missing')}, this one's is {calendar_uid})"
        )
        raise UnreadableError(msg)
    _second(calendar, "LAST-MODIFIED")


def _check_item(item: Component, uid_of: Callable[[str], str]) -> None:
    key = item.get(KEY)
    ours = isinstance(item, Event | Todo) and isinstance(key, str) and uid_of(key) == item.get("UID")
    if not ours:
        msg = f"{_title(item)} in it does not come from this plan"
        raise UnreadableError(msg)
    for part in item.walk():
        for name, _ in part.errors:
            msg = f"{name or 'a line'} of {_title(item)} in it cannot be read"
            raise UnreadableError(msg)
    sequence = item.get("SEQUENCE")
    if not isinstance(sequence, int) or not 0 <= sequence <= MOST_CHANGES:
        msg = f"SEQUENCE of {_title(item)} in it is not a count"
        raise UnreadableError(msg)
    start, end = ("DTSTART", "DTEND") if isinstance(item, Event) else ("DUE", "DUE")
    for name in (start, end, "CREATED", "LAST-MODIFIED"):
        _second(item, name)


def _title(item: Component) -> str:
    summary = item.get("SUMMARY")
    return f'"{summary}"' if isinstance(summary, str) else f"a {item.name}"


def _second(item: Component, name: str) -> int:
    value = item.get(name)
    if not _is_sound(value):
        what = "missing" if value is None else "no date, and no time of a known zone"
        msg = f"{name} of {_title(item)} in it is {what}"
        raise UnreadableError(msg)
    return instant(item, name)


def _is_sound(value: Any) -> bool:
    """Tell whether a value is a date or a time in the zone that it names, as we write them."""
    moment = getattr(value, "dt", None)
    if not isinstance(moment, datetime):
        return isinstance(moment, date)
    return moment.tzinfo is not None and str(moment.tzinfo) == value.params.get("TZID", "UTC")
