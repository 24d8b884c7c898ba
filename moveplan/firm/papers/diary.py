"""One calendar a person and a vehicle: an event a stop, with ids that stay the same from build to build (RFC 5545)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import UTC
from itertools import pairwise
from uuid import NAMESPACE_URL, uuid5

from icalendar import Calendar, Event

from moveplan import __version__
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.people import DayRow, Row
from moveplan.times import to_local


def diary_ics(outlook: FirmOutlook, who: str, name: str, days: Iterable[DayRow]) -> bytes:
    """Write the calendar of one person, or of one vehicle.

    Parameters
    ----------
    who, name : str
        Id, and what to print.
    days : iterable of DayRow
        What is on their sheet.
    """
    firm = outlook.firm
    calendar = Calendar()
    calendar.add("prodid", f"-//moveplan//firm {__version__}//EN")
    calendar.add("version", "2.0")
    calendar.add("uid", str(uuid5(NAMESPACE_URL, f"moveplan:{firm.id}:{who}")))
    calendar.add("name", f"{firm.title}, {name}")
    seen: Counter[str] = Counter()
    for day in days:
        for before, row in pairwise((None, *day.rows)):
            if row is None or not row.job:
                continue
            key = f"moveplan:{firm.id}:{who}:{row.key}:{seen[row.key]}"
            seen[row.key] += 1
            calendar.add_component(_event(outlook, row, before, key))
    return bytes(calendar.to_ical())


def _event(outlook: FirmOutlook, row: Row, before: Row | None, key: str) -> Event:
    event = Event()
    event.add("uid", str(uuid5(NAMESPACE_URL, key)))
    event.add("dtstamp", to_local(outlook.firm.now, outlook.firm.zone).astimezone(UTC))
    event.add("dtstart", to_local(row.start, outlook.firm.zone).astimezone(UTC))
    event.add("dtend", to_local(row.finish, outlook.firm.zone).astimezone(UTC))
    event.add("summary", f"Moving day: {row.job}" if row.moving else row.job)
    event.add("location", row.where)
    event.add("description", "\n".join((*_way(before), *row.tasks)))
    return event


def _way(drive: Row | None) -> tuple[str, ...]:
    """Say how one gets there: from where to where, in what, who drives first."""
    if drive is None or drive.job:
        return ()
    return (", ".join(filter(None, (drive.where, drive.by, drive.driver, *drive.along))),)
