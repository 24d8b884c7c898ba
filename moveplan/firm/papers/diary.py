"""One calendar a person and a vehicle: an event a stop, built upon the calendar that it replaces (RFC 5545, 5546)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from moveplan.errors import OutputError
from moveplan.firm.papers.people import DayRow, Row
from moveplan.firm.values import Firm
from moveplan.outputs.calendar.event import Event, Timed, Words
from moveplan.outputs.calendar.identity import calendar_uid, event_uid
from moveplan.outputs.calendar.ledger import updated
from moveplan.outputs.calendar.previous import UnreadableError, read_ledger
from moveplan.outputs.calendar.retired import cancelled
from moveplan.outputs.calendar.spelled import spelled
from moveplan.outputs.calendar.words import Wording
from moveplan.outputs.calendar.write import Heading, calendar, event_component
from moveplan.outputs.wording.escape import one_line


@dataclass(frozen=True, slots=True)
class Owner:
    """Whose calendar it is.

    Parameters
    ----------
    kind : str
        ``people`` or ``vehicles``, as their folders are called.
    id, name : str
        Id, and what to print.
    """

    kind: str
    id: str
    name: str


def diary_ics(firm: Firm, owner: Owner, days: Iterable[DayRow], previous: bytes | None = None) -> bytes:
    """Write the calendar of one person, or of one vehicle.

    Parameters
    ----------
    days : iterable of DayRow
        What is on their sheet.
    previous : bytes or None
        The calendar that it replaces; None: this is the first.

    Raises
    ------
    OutputError
        Where that one cannot be read, or is somebody else's.
    """
    wording = Wording()
    made = [spelled(event_component(event)) for event in _events(firm, owner, days)]
    uid = calendar_uid(firm.id, f"{owner.kind}={owner.id}")
    try:
        ledger = read_ledger(previous, uid, lambda key: event_uid(firm.id, key), made)
    except UnreadableError as error:
        msg = (
            f"the earlier calendar of {owner.name} cannot be built upon: {error}; "
            "move it away, or write to another folder"
        )
        raise OutputError(msg) from error
    update = updated(made, ledger, firm.now * 60, lambda item: cancelled(item, wording))
    name = one_line(f"{firm.title}, {owner.name}")
    return calendar(Heading(uid, name, update.modified), update.items, firm.zone)


def _events(firm: Firm, owner: Owner, days: Iterable[DayRow]) -> Iterator[Event]:
    """Make an event of each stop, told by its job and its first task, and which time that is."""
    seen: Counter[str] = Counter()
    for day in days:
        for before, row in pairwise((None, *day.rows)):
            if row is not None and row.job:
                yield _event(firm, row, before, f"{owner.kind}:{owner.id}:{row.key}:{seen[row.key]}")
                seen[row.key] += 1


def _event(firm: Firm, row: Row, before: Row | None, key: str) -> Event:
    title = f"Moving day: {row.job}" if row.moving else row.job
    return Event(
        key=key,
        uid=event_uid(firm.id, key),
        when=Timed(row.start, row.finish, firm.zone),
        words=Words(one_line(title), "\n".join((*_way(before), *row.tasks)), one_line(row.where)),
        busy=True,
    )


def _way(drive: Row | None) -> tuple[str, ...]:
    """Say how one gets there: from where to where, in what, who drives first."""
    if drive is None or drive.job:
        return ()
    return (", ".join(filter(None, (drive.where, drive.by, drive.driver, *drive.along))),)
