"""Run sheets: the moving day of one person, line by line, the same tasks as in the list."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from moveplan.network.task import Kind
from moveplan.outputs.agenda import Agenda, Line
from moveplan.outputs.figures.day import moving_days
from moveplan.outputs.outlook import Outlook
from moveplan.practice.attendance.rides import Ride, rides_of
from moveplan.practice.project import Caution
from moveplan.risk.promise.values import DayEnd
from moveplan.scheduling.problem import Person

_NUMBERS = re.compile(r"\b([A-Z])(\d+)(?:–\1(\d+))?\b")
"""A container, or a run of them, as the steps name it."""


@dataclass(frozen=True, slots=True)
class RunSheet:
    """One person on one moving day.

    Parameters
    ----------
    number : int
        From 1, over all people and days.
    person : Person
        Whose it is.
    day : date
        The local day.
    lines : tuple of Line
        What they take part in, in order of start.
    cautions : tuple of Caution
        Care that these call for, once each.
    places : tuple of str
        Ids of the places they come to, in order.
    rides : dict of int to Ride
        Before which line they ride to another place, by its number.
    numbers : dict of int to tuple of str
        Containers that the steps of a line name, by its number.
    end : DayEnd or None
        By when they are free; None where that was not simulated.
    """

    number: int
    person: Person
    day: date
    lines: tuple[Line, ...]
    cautions: tuple[Caution, ...]
    places: tuple[str, ...]
    rides: dict[int, Ride]
    numbers: dict[int, tuple[str, ...]]
    end: DayEnd | None

    @property
    def start(self) -> int:
        """When the first line begins, UTC. [min]."""
        return self.lines[0].placement.start

    @property
    def finish(self) -> int:
        """When the last piece of work on that day ends, UTC. [min]."""
        return max(line.placement.segments[0].finish for line in self.lines)


def run_sheets_of(outlook: Outlook, agenda: Agenda) -> tuple[RunSheet, ...]:
    """Write each person's moving days, person by person."""
    rides = rides_of(outlook.project, outlook.schedule)
    labelled = {use.vessel.number for use in outlook.project.ledger.containers}
    return tuple(
        RunSheet(
            number,
            person,
            day,
            lines,
            _care(outlook, lines),
            _places(lines),
            _before(lines, (ride for ride in rides if ride.person == person.id)),
            {line.number: told for line in lines if (told := _numbers(line.task.steps, labelled))},
            outlook.end(day, person.id),
        )
        for number, (person, day, lines) in enumerate(_sheets(outlook, agenda), start=1)
    )


def _sheets(outlook: Outlook, agenda: Agenda) -> Iterator[tuple[Person, date, tuple[Line, ...]]]:
    days = moving_days(agenda)
    for person in outlook.project.scheduling.people:
        own = [line for line in agenda.work_of(person.id) if not line.task.repeats]
        for day in days:
            lines = tuple(line for line in own if line.day == day)
            if lines:
                yield person, day, lines


def _before(lines: tuple[Line, ...], rides: Iterable[Ride]) -> dict[int, Ride]:
    """Say before which line somebody rides: the first that begins when the ride is over."""
    found = {}
    for ride in rides:
        after = next((one.number for one in lines if one.placement.start >= ride.until), None)
        if after is not None and lines[0].placement.start <= ride.since:
            found[after] = ride
    return found


def _numbers(steps: Iterable[str], labelled: Collection[str]) -> tuple[str, ...]:
    """Find the containers that some steps name."""
    found = (
        f"{letter}{number}"
        for step in steps
        for letter, first, last in _NUMBERS.findall(step)
        for number in range(int(first), int(last or first) + 1)
    )
    return tuple(dict.fromkeys(one for one in found if one in labelled))


def _care(outlook: Outlook, lines: Iterable[Line]) -> tuple[Caution, ...]:
    named = {caution for line in lines for caution in line.task.cautions}
    return tuple(caution for caution in outlook.project.cautions if caution.id in named)


def _places(lines: Iterable[Line]) -> tuple[str, ...]:
    """List the places; where a drive ends is one of them, the vehicle is none."""
    found = (
        place
        for line in lines
        for place in (line.task.place, line.task.place_after if line.task.kind is Kind.TRAVEL else "")
    )
    return tuple(dict.fromkeys(filter(None, found)))
