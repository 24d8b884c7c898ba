"""One calendar a person: an event a stop, with ids that stay the same from build to build (RFC 5545)."""

from __future__ import annotations

from datetime import UTC
from uuid import NAMESPACE_URL, uuid5

from icalendar import Calendar, Event

from moveplan import __version__
from moveplan.firm.dispatch import FirmOutlook
from moveplan.firm.papers.people import StopRow, person_days
from moveplan.times import to_local


def person_ics(outlook: FirmOutlook, person: str) -> bytes:
    """Write the calendar of one person.

    Parameters
    ----------
    outlook : FirmOutlook
        What was found.
    person : str
        Id.
    """
    firm = outlook.firm
    calendar = Calendar()
    calendar.add("prodid", f"-//moveplan//firm {__version__}//EN")
    calendar.add("version", "2.0")
    calendar.add("uid", str(uuid5(NAMESPACE_URL, f"moveplan:{firm.id}:{person}")))
    calendar.add("name", f"{firm.title}, {firm.worker(person).name}")
    for row in person_days(outlook, person):
        for position, stop in enumerate(row.stops):
            key = f"moveplan:{firm.id}:{person}:{stop.job}:{row.day}:{position}"
            calendar.add_component(_event(outlook, stop, key))
    return bytes(calendar.to_ical())


def _event(outlook: FirmOutlook, stop: StopRow, key: str) -> Event:
    event = Event()
    event.add("uid", str(uuid5(NAMESPACE_URL, key)))
    event.add("dtstamp", to_local(outlook.firm.now, outlook.firm.zone).astimezone(UTC))
    event.add("dtstart", to_local(stop.start, outlook.firm.zone).astimezone(UTC))
    event.add("dtend", to_local(stop.finish, outlook.firm.zone).astimezone(UTC))
    event.add("summary", f"Moving day: {stop.job}" if stop.moving else stop.job)
    event.add("location", stop.where)
    event.add("description", "\n".join(stop.tasks))
    return event
