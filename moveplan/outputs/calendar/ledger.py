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

from moveplan.outputs.calendar.previous import Known, Ledger, instant
from moveplan.outputs.calendar.spelled import Spelled, Stamps, spelled, stamped
from moveplan.outputs.calendar.spelling import KEY, Row, told

_TIMES = ("DTSTART", "DTEND", "DUE", "RRULE", "EXDATE")
_KEPT_CANCELLED_S = 30 * 86400
"""How long a cancelled event is sent on after its end: 30 days, in which every reader has looked once. Assumed.
[s]"""


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
        Not there before, or cancelled before.
    moved : int
        With another date.
    changed : int
        With other words or another state on the same date.
    cancelled : int
        No longer planned, and told so for the first time.
    unchanged : int
        As before, long cancelled ones included.
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
    items : tuple of Spelled
        In the order of time.
    counts : Counts
        What changed.
    modified : int
        Newest change, UTC seconds since 1970. [s]
    """

    items: tuple[Spelled, ...]
    counts: Counts
    modified: int


def updated(
    current: Iterable[Spelled],
    ledger: Ledger,
    now_s: int,
    cancelled: Callable[[Component], Component],
) -> Update:
    """Give every item its stamps, and cancel what is no longer planned.

    Parameters
    ----------
    current : iterable of Spelled
        What is planned now, with stamps that say nothing.
    ledger : Ledger
        What was exported before.
    now_s : int
        The moment of this export, UTC seconds since 1970. [s]
    cancelled : callable
        Turns an earlier item into its cancelled form; what it gives for a cancelled one must be the same
        again.

    Returns
    -------
    Update
        Items with stamps, and what changed.
    """
    wanted = {str(item.component.get("UID")): item for item in current}
    for uid, earlier in ledger.items.items():
        if uid not in wanted and instant(earlier, "DTEND", "DUE") + _KEPT_CANCELLED_S >= now_s:
            wanted[uid] = spelled(cancelled(earlier))
    changes: list[_Change] = []
    times = [] if ledger.modified is None else [ledger.modified]
    items = []
    for uid, item in wanted.items():
        change, stamps = _fate(item.component, uid, ledger, now_s)
        changes.append(change)
        times.append(stamps.modified)
        items.append(stamped(item, stamps))
    return Update(
        tuple(sorted(items, key=_in_time)),
        Counts(**{change.value: changes.count(change) for change in _Change}),
        max(times, default=now_s),
    )


def _in_time(item: Spelled) -> tuple[int, str]:
    return instant(item.component, "DTSTART", "DUE"), str(item.component.get(KEY))


def _fate(item: Component, uid: str, ledger: Ledger, now_s: int) -> tuple[_Change, Stamps]:
    """Tell what has become of an item, and which stamps it gets."""
    if uid in ledger.known:
        return _known_fate(ledger.known[uid], now_s)
    earlier = ledger.items.get(uid)
    if earlier is None:
        return _Change.NEW, Stamps(0, now_s, now_s)
    now, before = told(item), told(earlier)
    stamps = Stamps(
        int(earlier.get("SEQUENCE")), instant(earlier, "CREATED"), instant(earlier, "LAST-MODIFIED")
    )
    raised = _rows(now, (*_TIMES, "STATUS")) != _rows(before, (*_TIMES, "STATUS"))
    return _change(now, before), _renewed(stamps, now_s, changed=now != before, raised=raised)


def _known_fate(known: Known, now_s: int) -> tuple[_Change, Stamps]:
    other = _Change.CHANGED if known.reworded else _Change.UNCHANGED
    change = _Change.MOVED if known.moved else other
    changed = known.moved or known.reworded
    return change, _renewed(known.stamps, now_s, changed=changed, raised=known.moved)


def _renewed(stamps: Stamps, now_s: int, *, changed: bool, raised: bool) -> Stamps:
    if not changed:
        return stamps
    # A stamp never stands still over a change, even where a plan's `as-of` does: it breaks ties, RFC 5546, 2.1.5.
    return Stamps(stamps.sequence + raised, stamps.created, max(now_s, stamps.modified + 1))


def _change(now: list[Row], before: list[Row]) -> _Change:
    if now == before:
        return _Change.UNCHANGED
    now_off, was_off = _is_cancelled(now), _is_cancelled(before)
    if now_off != was_off:
        return _Change.CANCELLED if now_off else _Change.NEW
    return _Change.MOVED if _rows(now, _TIMES) != _rows(before, _TIMES) else _Change.CHANGED


def _is_cancelled(rows: list[Row]) -> bool:
    return ("STATUS", b"", "CANCELLED") in rows


def _rows(rows: list[Row], names: Iterable[str]) -> list[Row]:
    return [row for row in rows if row[0] in names]
