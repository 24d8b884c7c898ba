"""Reads the calendar that is replaced, and refuses any that did not come from here.

The library mends what it can and says nothing: octets that are no UTF-8, a value that is no value, a zone that
nobody knows, an END of another name. To build upon such a file would cancel or garble somebody's events, so
each of these is looked for here.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from typing import Any

from icalendar import Calendar, Component, Event, Todo

from moveplan.outputs.calendar.spelling import KEY

_CONTROLS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]|\r(?!\n)")
_MOST_CHANGES = 2**31 - 2  # RFC 5545, section 3.3.8: an INTEGER ends at 2**31 - 1


class UnreadableError(ValueError):
    """The file cannot be built upon; the message says why."""


@dataclass(frozen=True, slots=True)
class Ledger:
    """What was exported before.

    Parameters
    ----------
    items : Mapping of str to Component
        Events or to-dos by UID. [-]
    modified : int or None
        LAST-MODIFIED of the calendar, UTC seconds since 1970; None: nothing was exported before. [s]
    """

    items: Mapping[str, Component] = field(default_factory=dict)
    modified: int | None = None


def read_ledger(previous: bytes | None, calendar_uid: str, uid_of: Callable[[str], str]) -> Ledger:
    """Read the calendar that will be replaced.

    Parameters
    ----------
    previous : bytes or None
        Its content; None where there is none. [-]
    calendar_uid : str
        UID that it must have. [-]
    uid_of : callable
        Gives the UID that belongs to an item's key. [-]

    Returns
    -------
    Ledger
        What was exported before. [-]

    Raises
    ------
    UnreadableError
        Where it cannot be read, is not this plan's, or holds something that did not come from here: to build
        upon it would cancel other people's events.
    """
    if previous is None:
        return Ledger()
    calendar = _calendar(previous)
    _check_owner(calendar, calendar_uid)
    items = [part for part in calendar.subcomponents if part.name != "VTIMEZONE"]
    for item in items:
        _check_item(item, uid_of)
    by_uid = {str(item.get("UID")): item for item in items}
    if len(by_uid) < len(items):
        msg = "two of its items have the same UID"
        raise UnreadableError(msg)
    return Ledger(by_uid, _second(calendar, "LAST-MODIFIED"))


def instant(item: Component, *names: str) -> int:
    """Give the instant of the first property that is there; a date counts from midnight UTC.

    Parameters
    ----------
    item : Component
        An item with sound times. [-]
    names : str
        Properties to look for, in order. [-]

    Returns
    -------
    int
        UTC seconds since 1970. [s]
    """
    moment: date = next(item.get(name) for name in names if name in item).dt
    if not isinstance(moment, datetime):
        moment = datetime.combine(moment, time(), UTC)
    return int(moment.timestamp())


def _calendar(stream: bytes) -> Component:
    try:
        text = stream.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        msg = f"it is not UTF-8 text (octet {error.start})"
        raise UnreadableError(msg) from error
    if _CONTROLS.search(text):
        msg = "it holds control characters"
        raise UnreadableError(msg)
    calendar = _parsed(text)
    if calendar.name != "VCALENDAR":
        msg = f"it holds a {calendar.name}, not a calendar"
        raise UnreadableError(msg)
    return calendar


def _parsed(text: str) -> Component:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # about guesses at zones: those are refused below
            return Calendar.from_ical(text)
    except Exception as error:  # the library raises whatever a damaged part happens to raise
        msg = "it is no calendar, or a damaged one"
        raise UnreadableError(msg) from error


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
    if not isinstance(sequence, int) or not 0 <= sequence <= _MOST_CHANGES:
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
