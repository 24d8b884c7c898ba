"""What the keeper may choose about the calendar."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from moveplan.errors import PlanFileError, Problem
from moveplan.network.task import Task
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement

_NOT_IN_NAMES = re.compile(r"[^\w.-]+")


@dataclass(frozen=True, slots=True)
class CalendarOptions:
    """Which part of the plan goes into the calendar, and how it is told.

    A selection (person, phase, moving day) is a calendar of its own, with its own UID: it never replaces the
    whole one, whose other events it would cancel. Events have the same UID in both.

    Parameters
    ----------
    person : str
        Id of the only person whose work is wanted; empty: everybody's.
    phase : str
        Name of the only phase; empty: all.
    moving_day : bool
        Only what is tied to a moving day.
    alarms : bool
        Whether work, hold points and start-by dates ring.
    private : bool
        Whether others who see the calendar are kept from it.
    addresses : bool
        Whether places are named.
    links : bool
        Whether events point at those that wait for them (RFC 9253).
    todos : bool
        Whether to-dos are wanted as a second calendar.
    split : bool
        Whether each event is wanted as a file of its own too.
    name : bool
        Whether the calendar carries a name; without one it can be read into an existing calendar.
    every_task : bool
        Whether each task is an event of its own; otherwise the calendar is that of one person, told evening by
        evening (``by_person``).
    keeper : str
        Id of the one who leads, whose calendar for people stands in the place of the whole one.
    invite : bool
        Whether invitations are wanted for those whose addresses the plan has.
    """

    person: str = ""
    phase: str = ""
    moving_day: bool = False
    alarms: bool = True
    private: bool = False
    addresses: bool = True
    links: bool = False
    todos: bool = False
    split: bool = False
    name: bool = True
    every_task: bool = True
    keeper: str = ""
    invite: bool = False

    def for_person(self, person: str, keeper: str) -> CalendarOptions:
        """Ask for the calendar of one person instead, told evening by evening."""
        return replace(self, person=person, keeper=keeper, every_task=False)

    @property
    def _whose(self) -> str:
        """The person by whom files and UID are told apart; the keeper's calendar is the one of the plan."""
        return "" if not self.every_task and self.person == self.keeper else self.person

    @property
    def selection(self) -> str:
        """What is selected, for the calendar's UID; empty: everything.

        >>> CalendarOptions(person="ines", moving_day=True).selection
        'person=ines;moving-day'
        """
        parts = (
            f"person={self._whose}" if self._whose else "",
            f"phase={self.phase}" if self.phase else "",
            "moving-day" if self.moving_day else "",
        )
        return ";".join(filter(None, parts))

    @property
    def suffix(self) -> str:
        """What tells the files of the selection from those of the whole; empty: everything.

        >>> CalendarOptions(person="ines", phase="Moving day").suffix
        '-ines-phase-moving-day'
        """
        parts = (
            self._whose,
            f"phase-{self.phase.lower()}" if self.phase else "",
            "moving-day" if self.moving_day else "",
        )
        return "".join("-" + _NOT_IN_NAMES.sub("-", part).strip("-") for part in parts if part)

    @property
    def whole(self) -> CalendarOptions:
        """The same, told in the same way, without a selection."""
        return replace(self, person="", phase="", moving_day=False)

    def takes(self, task: Task, placement: Placement) -> bool:
        """Tell whether a task is in the selection.

        Parameters
        ----------
        placement : Placement
            Where it stands.
        """
        return not self.every_task or (
            (not self.person or self.person in placement.people)
            and (not self.phase or self.phase == task.phase)
            and (not self.moving_day or bool(task.day))
        )


def check_options(options: CalendarOptions, project: Project) -> None:
    """Refuse a selection that names nobody or nothing of the plan.

    Parameters
    ----------
    project : Project
        What it is to be selected from.

    Raises
    ------
    PlanFileError
        With what the plan has instead.
    """
    people = [person.id for person in project.plan.people]
    phases = list(dict.fromkeys(task.phase for task in project.network.tasks if task.phase))
    problems = []
    if options.person and options.person not in people:
        problems.append(_unknown("nobody", options.person, people))
    if options.phase and options.phase not in phases:
        problems.append(_unknown("no phase", options.phase, [f'"{phase}"' for phase in phases]))
    if options.invite:
        problems += _uninvitable(options, project)
    if problems:
        raise PlanFileError(tuple(problems), project.plan.file_name)


def _uninvitable(options: CalendarOptions, project: Project) -> Iterator[Problem]:
    if options.every_task:
        yield Problem(
            "--invite invites people to their own events", remedy="leave --every-task and --only-... out"
        )
    leads = project.plan.leads
    if leads is None or not leads.email:
        who = leads.id if leads else "ID"
        yield Problem(
            "an invitation needs the address of whoever leads the move",
            f"people.{who}",
            f'write "email: {who}@example.net"',
        )
    if not any(one.email for one in project.plan.people if one is not leads):
        yield Problem(
            "nobody who helps has an address to invite", "people", 'write "email: ..." for each of them'
        )


def _unknown(what: str, name: str, known: list[str]) -> Problem:
    there = f"the plan has {', '.join(known)}" if known else "the plan names none"
    return Problem(f'there is {what} called "{name}" to make a calendar for', remedy=there)
