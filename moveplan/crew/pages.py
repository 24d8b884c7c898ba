"""The page and the calendar of each person, made once from the schedule."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from moveplan.outputs.calendar.by_person import people_of
from moveplan.outputs.calendar.export import calendar_bytes
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.outlook import Outlook


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
