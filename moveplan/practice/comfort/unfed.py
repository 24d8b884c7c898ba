"""Fasts that last too long in a finished schedule, from the last meal before a move to the first one after it."""

from __future__ import annotations

from moveplan.errors import Problem
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule

HOUR = 60
"""Minutes of an hour. [min]"""


def long_fasts(project: Project, schedule: Schedule) -> tuple[Problem, ...]:
    """Name the animals that go without food for longer than they bear.

    Parameters
    ----------
    project : Project
        Its meals.
    schedule : Schedule
        When they are given.
    """
    stands = {one.task: one for one in schedule.placements}
    names = {one.id: one.name for one in project.plan.livestock}
    problems = []
    for meals in project.meals:
        if meals.last not in stands or meals.first not in stands:
            continue
        fast = stands[meals.first].start - stands[meals.last].finish
        if fast > meals.whole_min:
            who = ", ".join(names[one] for one in meals.livestock)
            problems.append(
                Problem(
                    f"{who}: {fast / HOUR:.0f} h from the last meal before the move to the first one after it; "
                    f"{meals.whole_min / HOUR:.0f} h at most",
                    project.plan.where(f"livestock.{meals.livestock[0]}"),
                    "give somebody who cares for animals hours on the day after the move",
                )
            )
    return tuple(problems)
