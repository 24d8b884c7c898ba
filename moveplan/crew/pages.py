"""The page and the calendar of each person, made once from each schedule in force."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from functools import cache

from moveplan.crew.room import Room
from moveplan.journal.taking.slip import index_of
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.calendar.by_person import people_of
from moveplan.outputs.calendar.export import calendar_bytes
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.outlook import Outlook


@dataclass(frozen=True, slots=True)
class Made:
    """What people are given of one schedule.

    Parameters
    ----------
    key : str
        What the texts of these pages name; empty: there is no schedule.
    page : callable
        The page of a person, by id.
    calendars : callable
        The calendar of each person.
    """

    key: str
    page: Callable[[str], str]
    calendars: Callable[[], Mapping[str, bytes]]


class Pages:
    """Pages and calendars of the schedule in force; those of the one before hold until the new ones are made.

    Parameters
    ----------
    room : Room
        What the crew shares now.
    make : callable
        Builds what a page shows, in a thread beside.
    """

    def __init__(self, room: Room, make: Callable[[Room], Outlook]) -> None:
        self.make, self.line = make, room.line
        self.beside = ThreadPoolExecutor(1)
        self.given = self.coming = self._made(room)

    def key(self, room: Room) -> str:
        """Name what the pages given out now show; has new ones made where another schedule is in force."""
        if room.line != self.line:
            self.line, self.coming = room.line, self._made(room)
        if self.coming.done() and not self.coming.exception():
            self.given = self.coming
        return self.given.result().key if self.given.done() and not self.given.exception() else ""

    def page(self, person: str) -> str:
        """Give the page of a person."""
        return self.given.result().page(person)

    def calendar(self, person: str) -> bytes | None:
        """Give the calendar of a person; None: there is nothing for them to do."""
        return self.given.result().calendars().get(person)

    def _made(self, room: Room) -> Future[Made]:
        def made() -> Made:
            outlook = self.make(room)
            shown = snapshot_of_outlook(outlook) if outlook.schedule.placements else None
            key = index_of(shown, room.plan_id).key if shown else ""
            return Made(key, page_of(outlook), cache(lambda: calendars_of(outlook)))

        return self.beside.submit(made)


def page_of(outlook: Outlook) -> Callable[[str], str]:
    """Give the page of each person: the same report, which talks to where it came from.

    Parameters
    ----------
    outlook : Outlook
        With a schedule.
    """

    @cache
    def of(person: str) -> str:
        return page_html(outlook, person)

    return of


def calendars_of(outlook: Outlook) -> dict[str, bytes]:
    """Make the calendar of each person who has something to do, told evening by evening.

    Parameters
    ----------
    outlook : Outlook
        With a schedule.
    """
    people = people_of(outlook)
    options = CalendarOptions()
    return {
        person: calendar_bytes(outlook, None, options.for_person(person, people[0])).data for person in people
    }
