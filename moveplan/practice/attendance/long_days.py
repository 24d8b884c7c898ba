"""Whose moving day is longer than the plan allows, breaks included, and who still drives after it."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.practice.attendance.whereabouts import days_of
from moveplan.practice.project import Project
from moveplan.quantities.policy import Policy
from moveplan.scheduling.schedule import Schedule


@dataclass(frozen=True, slots=True)
class LongDay:
    """A day that is longer than it should be.

    Parameters
    ----------
    since, until : int
        First and last minute, UTC. [min]
    drives : bool
        Whether they still drive when it is over.
    """

    person: str
    since: int
    until: int
    drives: bool


def long_days(project: Project, schedule: Schedule) -> tuple[LongDay, ...]:
    """Find the days that are longer than ``longest_day``.

    Parameters
    ----------
    project : Project
        With its policy.
    """
    most_min = 60 * Policy(project.plan.policy)["longest_day"]
    found: list[LongDay] = []
    for (person, _), pieces in sorted(days_of(project, schedule, whole=True).items()):
        since, until = pieces[0].since, max(piece.until for piece in pieces)
        if until - since > most_min:
            late = any(piece.task.driven and piece.until - since > most_min for piece in pieces)
            found.append(LongDay(person, since, until, late))
    return tuple(found)
