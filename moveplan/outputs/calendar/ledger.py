"""Carries stamps over from the calendar that is replaced, so that importing again moves instead of doubling.

The calendar that was exported last is the ledger: it holds UID, SEQUENCE, dates and stamps of every event.
What has not changed keeps all stamps; what was moved or cancelled gets a higher SEQUENCE; what is no longer
planned stays as cancelled until a month past its date. RFC 5546, sections 2.1.4 and 2.1.5; RFC 5545, section
3.8.7.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from icalendar import Component

from moveplan.outputs.calendar.previous import Ledger, instant
from moveplan.outputs.calendar.spelling import KEY, STAMPS, Row, told, utc

_TIMES = ("DTSTART", "DTEND", "DUE")
_KEPT_CANCELLED_S = 30 * 86400


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
        What is planned now, without stamps; they are added to these very items. [-]
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
    wanted = {str(item.get("UID")): item for item in current}
    for uid, earlier in ledger.items.items():
        if uid not in wanted and instant(earlier, "DTEND", "DUE") + _KEPT_CANCELLED_S >= now_s:
            wanted[uid] = cancelled(earlier)
    changes = [_stamp(item, ledger.items.get(uid), now_s) for uid, item in wanted.items()]
    times = [instant(item, "LAST-MODIFIED") for item in wanted.values()]
    if ledger.modified is not None:
        times.append(ledger.modified)
    return Update(
        tuple(
            sorted(wanted.values(), key=lambda item: (instant(item, "DTSTART", "DUE"), str(item.get(KEY))))
        ),
        Counts(**{change.value: changes.count(change) for change in _Change}),
        max(times, default=now_s),
    )


def _stamp(item: Component, earlier: Component | None, now_s: int) -> _Change:
    """Add the stamps to an item, and tell what has become of it."""
    if earlier is None:
        _add_stamps(item, 0, now_s, now_s)
        return _Change.NEW
    now, before = told(item), told(earlier)
    sequence, modified = int(earlier.get("SEQUENCE")), instant(earlier, "LAST-MODIFIED")
    change = _change(now, before)
    if change is not _Change.UNCHANGED:
        sequence += _rows(now, (*_TIMES, "STATUS")) != _rows(before, (*_TIMES, "STATUS"))
        # A stamp never stands still over a change, even where a plan's `as-of` does: it breaks ties, RFC 5546, 2.1.5.
        modified = max(now_s, modified + 1)
    _add_stamps(item, sequence, instant(earlier, "CREATED"), modified)
    return change


def _change(now: list[Row], before: list[Row]) -> _Change:
    if now == before:
        return _Change.UNCHANGED
    now_off, was_off = _is_cancelled(now), _is_cancelled(before)
    if now_off != was_off:
        return _Change.CANCELLED if now_off else _Change.NEW
    return _Change.MOVED if _rows(now, _TIMES) != _rows(before, _TIMES) else _Change.CHANGED


def _is_cancelled(rows: list[Row]) -> bool:
    return ("STATUS", b"", "CANCELLED") in rows


def _add_stamps(item: Component, sequence: int, created: int, modified: int) -> None:
    for name in STAMPS:
        item.pop(name)
    item.add("DTSTAMP", utc(modified))
    item.add("SEQUENCE", sequence)
    item.add("CREATED", utc(created))
    item.add("LAST-MODIFIED", utc(modified))


def _rows(rows: list[Row], names: Iterable[str]) -> list[Row]:
    return [row for row in rows if row[0] in names]
