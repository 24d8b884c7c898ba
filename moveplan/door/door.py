"""The one door through which every finished schedule passes before anything is made of it.

A checker takes a project and its schedule and gives the promises that are broken. All of them are asked; one fault ends
the run, and nothing is written. To add one, write a function of that shape in the package that knows the promise, put
it into ``CHECKERS``, and give its codes their words in ``templates/terminal/faults.toml``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from moveplan.door.accounts import accounts_close
from moveplan.door.ages import water_fresh
from moveplan.door.air import air_lasts
from moveplan.door.hands import people_kept
from moveplan.door.notes import people_told
from moveplan.errors import Fault, FaultError
from moveplan.network.task import State
from moveplan.practice.project import Project
from moveplan.practice.under_way.renew import Renewed
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.scheduling.verify import verify

Checker = Callable[[Project, Schedule], tuple[Fault, ...]]


def limits_kept(project: Project, schedule: Schedule) -> tuple[Fault, ...]:
    """Check hours, links, places, crews, gear and days."""
    return verify(project.scheduling, schedule)


CHECKERS: tuple[Checker, ...] = (limits_kept, accounts_close, water_fresh, air_lasts, people_kept)
"""Asked in this order, each of the whole schedule."""
BEHIND: tuple[Checker, ...] = (water_fresh,)
"""Those whose promises what has happened may have broken: water that was mixed for an earlier day grows old."""
GIVE_WAY: tuple[Checker, ...] = (accounts_close, water_fresh, air_lasts, people_kept)
"""Those whose promises give way, and are told, once the point of no return is passed: a list has to be there."""


def check(project: Project, schedule: Schedule, gives_way: tuple[Checker, ...] = ()) -> None:
    """Let a finished schedule pass, or end the run.

    Parameters
    ----------
    gives_way : tuple of callable
        Who is not asked, because what they find is told.

    Raises
    ------
    FaultError
        Where a promise is broken.
    """
    _pass(faults_of(project, schedule, tuple(one for one in CHECKERS if one not in gives_way)))


def faults_of(
    project: Project, schedule: Schedule, checkers: tuple[Checker, ...] | None = None
) -> tuple[Fault, ...]:
    """Give every promise that a finished schedule breaks.

    Parameters
    ----------
    checkers : tuple of callable or None
        Who is asked; None: all.
    """
    asked = CHECKERS if checkers is None else checkers
    return tuple(fault for checker in asked for fault in checker(project, schedule))


def check_told(project: Project, schedule: Schedule) -> None:
    """Let a schedule with its notes pass, or end the run: long days, missing seats, and animals left alone are said.

    Parameters
    ----------
    project : Project
        With its notes.
    schedule : Schedule
        Its schedule, as people are told it.

    Raises
    ------
    FaultError
        Where something of it is not said.
    """
    _pass(people_told(project, schedule))


def check_reached(project: Project, schedule: Schedule, model: Mapping[str, Any]) -> None:
    """Let the times that people are told pass, or end the run: none lies before every run of the simulation.

    Parameters
    ----------
    project : Project
        As told.
    schedule : Schedule
        Its schedule, as people are told it.
    model : Mapping of str to object
        What was simulated.

    Raises
    ------
    FaultError
        Where something is told to begin sooner than it can.
    """
    floors = {row["id"]: project.scheduling.start + row.get("earliest", 0) for row in model["tasks"]}
    _pass(
        Fault("told-too-soon", values=(one.start, floors[one.task]), tasks=(one.task,))
        for one in schedule.placements
        if one.start < floors[one.task]
    )


def check_shown(again: Renewed) -> None:
    """Let what a project under way shows pass, or end the run: what is ahead stands where it was found.

    Parameters
    ----------
    again : Renewed
        The schedule that was found, and the same for people.

    Raises
    ------
    FaultError
        Where a task that has not begun stands elsewhere.
    """
    over = again.behind | {task for task, state in again.states.items() if state is State.CANCELLED}
    pairs = zip(again.found.placements, again.shown.placements, strict=True)
    _pass(
        Fault("shown-elsewhere", values=(shown.start, found.start), tasks=(found.task,))
        for found, shown in pairs
        if found.task not in over and not _ends_alike(found, shown)
    )


def _ends_alike(found: Placement, shown: Placement) -> bool:
    """Whether the same people do the same; times of recurring care that are over may stand before."""
    alike = (found.task, found.finish, found.people, found.vehicles)
    return (
        alike == (shown.task, shown.finish, shown.people, shown.vehicles)
        and shown.segments[-len(found.segments) :] == found.segments
    )


def _pass(faults: Iterable[Fault]) -> None:
    broken = tuple(faults)
    if broken:
        raise FaultError(broken)
