"""Carries stamps over from the calendar that is replaced, so that importing again moves instead of doubling.

The calendar that was exported last is the ledger: it holds UID, SEQUENCE, dates and stamps of every event.
What has not changed keeps all stamps; what was moved or cancelled gets a higher SEQUENCE; what is no longer
planned stays as cancelled until a month past its date. RFC 5546, sections 2.1.4 and 2.1.5; RFC 5545, section
3.8.7.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from enum import StrEnum
from typing import NamedTuple
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from moveplan.errors import OutputError
from moveplan.outputs.calendar.lines import Component, Property, UnreadableError, read, text_of
from moveplan.outputs.calendar.write import KEY, stamp

_STAMPS = ("DTSTAMP", "SEQUENCE", "CREATED", "LAST-MODIFIED")
_TIMES = ("DTSTART", "DTEND", "DUE")
_FORMS = {
    "DATE": re.compile("[0-9]{8}"),
    "LOCAL": re.compile("[0-9]{8}T[0-9]{6}"),
    "UTC": re.compile("[0-9]{8}T[0-9]{6}Z"),
}
_KEPT_CANCELLED_S = 30 * 86400
_MOST_CHANGES = 2**31 - 2  # RFC 5545, section 3.3.8: an INTEGER ends at 2**31 - 1


class _Change(StrEnum):
    NEW = "new"
    MOVED = "moved"
    CHANGED = "changed"
    CANCELLED = "cancelled"
    UNCHANGED = "unchanged"


@dataclass(frozen=True, slots=True)
class Counts:
    """What an export changed; together, how many events the calendar holds.

    Parameters
    ----------
    new : int
        Not there before, or cancelled before. [-]
    moved : int
        With another date. [-]
    changed : int
        With other words or another state on the same date. [-]
    cancelled : int
        No longer planned, and told so for the first time. [-]
    unchanged : int
        As before, long cancelled ones included. [-]
    """

    new: int = 0
    moved: int = 0
    changed: int = 0
    cancelled: int = 0
    unchanged: int = 0


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


class Update(NamedTuple):
    """Items with their stamps, and what changed.

    Parameters
    ----------
    items : tuple of Component
        In the order of time. [-]
    counts : Counts
        What changed. [-]
    modified : int
        Newest change, UTC seconds since 1970. [s]
    """

    items: tuple[Component, ...]
    counts: Counts
    modified: int


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
    OutputError
        Where it cannot be read, is not this plan's, or holds something that did not come from here: to build
        upon it would cancel other people's events.
    """
    if previous is None:
        return Ledger()
    try:
        calendar = read(previous)
        _check_owner(calendar, calendar_uid)
        items = [part for part in calendar.parts if part.name != "VTIMEZONE"]
        for item in items:
            _check_item(item, uid_of)
        by_uid = {item.value("UID"): item for item in items}
        if len(by_uid) < len(items):
            msg = "two of its items have the same UID"
            raise UnreadableError(msg)
        return Ledger(by_uid, _second(calendar, "LAST-MODIFIED"))
    except UnreadableError as error:
        msg = f"the earlier calendar cannot be built upon: {error}; move it away, or write to another folder"
        raise OutputError(msg) from error


def updated(
    current: Iterable[Component],
    ledger: Ledger,
    now_s: int,
    cancelled: Callable[[Component], Component],
) -> Update:
    """Give every item its stamps, and cancel what is no longer planned.

    Parameters
    ----------
    current : iterable of Component
        What is planned now, without stamps. [-]
    ledger : Ledger
        What was exported before. [-]
    now_s : int
        The moment of this export, UTC seconds since 1970. [s]
    cancelled : callable
        Turns an earlier item into its cancelled form; what it gives for a cancelled one must be the same
        again. [-]

    Returns
    -------
    Update
        Items with stamps, and what changed. [-]
    """
    wanted = {item.value("UID"): item for item in current}
    for uid, earlier in ledger.items.items():
        if uid not in wanted and _end_s(earlier) + _KEPT_CANCELLED_S >= now_s:
            wanted[uid] = cancelled(earlier)
    changes: list[_Change] = []
    items = []
    for uid, item in wanted.items():
        change, stamped = _stamped(item, ledger.items.get(uid), now_s)
        changes.append(change)
        items.append(stamped)
    times = [_second(item, "LAST-MODIFIED") for item in items]
    if ledger.modified is not None:
        times.append(ledger.modified)
    return Update(
        tuple(sorted(items, key=lambda item: (_second_of(_start(item)), item.value(KEY)))),
        Counts(**{change.value: changes.count(change) for change in _Change}),
        max(times, default=now_s),
    )


def _stamped(item: Component, earlier: Component | None, now_s: int) -> tuple[_Change, Component]:
    if earlier is None:
        return _Change.NEW, _with_stamps(item, 0, now_s, now_s)
    change = _change(item, earlier)
    sequence = int(earlier.value("SEQUENCE"))
    created, modified = _second(earlier, "CREATED"), _second(earlier, "LAST-MODIFIED")
    if change is _Change.UNCHANGED:
        return change, _with_stamps(item, sequence, created, modified)
    rescheduled = _lines(item, (*_TIMES, "STATUS")) != _lines(earlier, (*_TIMES, "STATUS"))
    # A stamp never stands still over a change, even where a plan's `as-of` does: it breaks ties, RFC 5546, 2.1.5.
    return change, _with_stamps(item, sequence + rescheduled, created, max(now_s, modified + 1))


def _change(item: Component, earlier: Component) -> _Change:
    if _fingerprint(item) == _fingerprint(earlier):
        return _Change.UNCHANGED
    now_off, was_off = item.value("STATUS") == "CANCELLED", earlier.value("STATUS") == "CANCELLED"
    if now_off != was_off:
        return _Change.CANCELLED if now_off else _Change.NEW
    return _Change.MOVED if _lines(item, _TIMES) != _lines(earlier, _TIMES) else _Change.CHANGED


def _with_stamps(item: Component, sequence: int, created: int, modified: int) -> Component:
    stamps = (
        Property("DTSTAMP", stamp(modified)),
        Property("SEQUENCE", str(sequence)),
        Property("CREATED", stamp(created)),
        Property("LAST-MODIFIED", stamp(modified)),
    )
    rest = (prop for prop in item.properties if prop.name not in _STAMPS)
    return Component(item.name, (*rest, *stamps), item.parts)


def _lines(item: Component, names: Iterable[str]) -> list[str]:
    return sorted(str(prop) for prop in item.properties if prop.name in names)


def _fingerprint(item: Component) -> tuple[object, ...]:
    """All that a reader could notice, stamps aside."""
    lines = sorted(str(prop) for prop in item.properties if prop.name not in _STAMPS)
    return (item.name, lines, *map(_fingerprint, item.parts))


def _check_owner(calendar: Component, calendar_uid: str) -> None:
    if calendar.name != "VCALENDAR":
        msg = f"it holds a {calendar.name}, not a calendar"
        raise UnreadableError(msg)
    if calendar.value("UID") != calendar_uid:
        msg = (
            "it is another plan's, or another selection's (its UID is "
            f"{calendar.value('UID') or 'missing'}, this one's is {calendar_uid})"
        )
        raise UnreadableError(msg)
    _second(calendar, "LAST-MODIFIED")


def _check_item(item: Component, uid_of: Callable[[str], str]) -> None:
    key, summary = item.first(KEY), item.first("SUMMARY")
    name = text_of(summary) if summary else item.name
    if key is None or uid_of(text_of(key)) != item.value("UID"):
        msg = f'"{name}" in it does not come from this plan'
        raise UnreadableError(msg)
    sequence = item.value("SEQUENCE")
    if not (sequence.isascii() and sequence.isdecimal() and int(sequence[:11]) <= _MOST_CHANGES):
        msg = f'SEQUENCE of "{name}" is "{sequence}", which is not a count'
        raise UnreadableError(msg)
    _second(item, "CREATED")
    _second(item, "LAST-MODIFIED")
    _second_of(_start(item))
    _end_s(item)


def _start(item: Component) -> Property | None:
    return item.first("DTSTART") or item.first("DUE")


def _end_s(item: Component) -> int:
    return _second_of(item.first("DTEND") or item.first("DUE"))


def _second(item: Component, name: str) -> int:
    return _second_of(item.first(name))


def _second_of(prop: Property | None) -> int:
    """Give the instant of a date or a time, UTC seconds since 1970; a date counts from midnight UTC."""
    if prop is None:
        msg = "one of its dates is missing"
        raise UnreadableError(msg)
    params = dict(prop.params)
    kind = "DATE" if params.get("VALUE") == "DATE" else "LOCAL" if "TZID" in params else "UTC"
    try:
        if not _FORMS[kind].fullmatch(prop.value):
            raise ValueError
        zone = ZoneInfo(params["TZID"]) if kind == "LOCAL" else UTC
        return int(datetime.fromisoformat(prop.value.rstrip("Z")).replace(tzinfo=zone).timestamp())
    except (ValueError, OverflowError, OSError, ZoneInfoNotFoundError) as error:
        msg = f'"{prop}" in it is not a time'
        raise UnreadableError(msg) from error
