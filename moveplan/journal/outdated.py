"""Signatures for a moving day that has moved since: they were given for another day, and count no more."""

from __future__ import annotations

from collections.abc import Sequence

from moveplan.journal.file.coding import LineError, minute_of
from moveplan.journal.records import Accepted, Entry, Met, MovedDates, MovedDay
from moveplan.network.task import Kind

EVE_MIN = 1440
"""Hold points planned so long before the first task of the day, or later, are signed for that day; chosen. [min]"""


def outdated(entries: Sequence[Entry]) -> frozenset[int]:
    """Give the lines of signatures after which the moving day moved to another; there and back again is none.

    Parameters
    ----------
    entries : sequence of Entry
        Those that count, in the order of the file.
    """
    days, elsewhere = 0, False
    found = set[int]()
    for at, entry in reversed(list(enumerate(entries))):
        record = entry.record
        if isinstance(record, MovedDates):
            days += record.days
        elif isinstance(record, MovedDay):
            elsewhere = elsewhere or record.what == "move-day"
        elif isinstance(record, Met) and (days or elsewhere) and record.task in _of_the_day(entries[:at]):
            found.add(entry.line)
    return frozenset(found)


def _of_the_day(before: Sequence[Entry]) -> frozenset[str]:
    """Name the hold points of the moving day and of the evening before it, in the schedule that was in force."""
    accepted = next((one.record for one in reversed(before) if isinstance(one.record, Accepted)), None)
    rows = accepted.schedule.get("tasks", ()) if accepted is not None else ()
    try:
        starts = {row["id"]: minute_of(row["segments"][0][0]) for row in rows}
        first = min((starts[row["id"]] for row in rows if row.get("day")), default=None)
        points = [row["id"] for row in rows if row["kind"] == Kind.HOLD_POINT.value]
    except (LineError, LookupError, TypeError, ValueError, AttributeError):
        return frozenset()  # a schedule that cannot be read is told where it is read
    return frozenset(name for name in points if first is not None and starts[name] >= first - EVE_MIN)
