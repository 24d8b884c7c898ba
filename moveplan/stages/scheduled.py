"""Project to schedule: the first of its move days on which everything fits."""

from __future__ import annotations

from dataclasses import replace

from moveplan.errors import Problem, WayOut, one_by_one
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule, Status
from moveplan.scheduling.solve import solve
from moveplan.stages.hung import on_each_day
from moveplan.stages.past_limits import without_limits
from moveplan.stages.reading import Settings
from moveplan.stages.surer import surest

ASKED_S = 0.3
"""Effort of asking whether the limits of the animals are all that makes a plan impossible. Chosen. [s]"""


def schedule(project: Project, settings: Settings) -> tuple[Project, Schedule]:
    """Project to schedule: the first of its move days on which everything fits.

    Returns
    -------
    tuple of (Project, Schedule)
        The project hung on the day that was chosen, and its schedule.
    """
    if project.impossible:
        return project, Schedule.refused(project.impossible)
    tried: list[tuple[Project, Schedule]] = []
    unasked = replace(settings.effort, ways_out=False)
    for hung in on_each_day(project):
        found = solve(hung.scheduling, unasked)
        if found.placements:
            return hung, surest(hung, found, settings)
        tried.append((hung, found))
    loose = _beyond_limits(project, settings)
    if loose is not None:
        return loose
    hung, found = _closest(tried)
    if settings.effort.ways_out:
        found = solve(hung.scheduling, settings.effort)
    first, *others = found.reasons or (None,)
    return hung, replace(found, reasons=(_with_hints(hung, first), *others) if first else ())


def _beyond_limits(project: Project, settings: Settings) -> tuple[Project, Schedule] | None:
    """Schedule what fits into no day but for the limits of the animals, so that it is said whose are passed."""
    loose = without_limits(project)
    if loose is project:
        return None
    few = replace(settings.effort, seconds=min(settings.effort.seconds, ASKED_S), ways_out=False)
    for hung in on_each_day(loose):
        if solve(hung.scheduling, few).placements:
            found = solve(hung.scheduling, settings.effort)
            return hung, surest(hung, found, settings)
    return None


def _with_hints(project: Project, reason: Problem) -> Problem:
    """Say beside the ways out what else would make the day shorter."""
    if not reason.remedy:
        return reason
    hints = tuple(WayOut(hint, tried=False) for hint in project.hints)
    said = "; ".join((reason.remedy, *(f"{hint} (not tried)" for hint in hints)))
    return replace(reason, remedy=said, ways=(*one_by_one(reason), *hints))


def _closest(tried: list[tuple[Project, Schedule]]) -> tuple[Project, Schedule]:
    """Take the last day tried; it is impossible as a whole only if each day is shown to be."""
    project, last = tried[-1]
    if all(found.status is Status.INFEASIBLE for _, found in tried):
        return project, last
    undecided = next(found for _, found in tried if found.status is not Status.INFEASIBLE)
    return project, undecided
