"""A project hung on each day of its window, and what speaks against every one of them."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.errors import Problem
from moveplan.practice.compose import on_day
from moveplan.practice.project import Project
from moveplan.scheduling.impossible.capacity import check_capacity
from moveplan.scheduling.impossible.checks import check_all, check_names
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.state.model import model_of


def on_each_day(project: Project) -> Iterator[Project]:
    """Hang a project on one of its move days after the other; as it is where it has none."""
    days = project.plan.dates.move_days if project.plan.dates else ()
    if not days:
        yield project
    for day in days:
        yield on_day(project, day)


def contradicted(project: Project) -> tuple[Problem, ...]:
    """Say what speaks against the last day of a window, where something is seen to speak against each; else nothing."""
    found: tuple[Problem, ...] = ()
    for hung in on_each_day(project):
        found = contradictions(hung.scheduling)
        if not found:
            break
    return found


def contradictions(problem: SchedulingProblem) -> tuple[Problem, ...]:
    """Ask the cheap questions that a search begins with.

    Returns
    -------
    tuple of Problem
        The reasons that `solve` gives, without ways out, which take a search; none where a search has to tell.
    """
    return check_names(problem) or check_all(problem) or tuple(check_capacity(model_of(problem)))
