"""Other ways of moving for a plan that cannot be done in its own: each is tried before it is offered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from moveplan.errors import PlanFileError
from moveplan.practice.project import Project
from moveplan.practice.ways import HOLD_OVER, NEW_TANK_AHEAD, SAME_DAY, SAME_SPOT, ways_of
from moveplan.reading import Settings, composed
from moveplan.scheduling.clock import by
from moveplan.scheduling.schedule import Schedule

QUICK_S = 0.3
"""Effort for one way, by the quick engine; a way that takes more is not offered. [s]"""
_MEANS = {
    SAME_DAY: "everything in one day",
    HOLD_OVER: "the animals wait in a holding tank between two days",
    NEW_TANK_AHEAD: "the new tank ripens before they move",
    SAME_SPOT: "the old tank gives way to the new one in a day",
}
"""Ways that are offered. To give all animals away is a way, but none out of a full day. [-]"""
Scheduled = Callable[[Project, Settings], tuple[Project, Schedule]]


def other_ways(project: Project, settings: Settings, schedule: Scheduled) -> tuple[str, ...]:
    """Try every other way of moving that the facts of a plan allow, and say those that can be done.

    Parameters
    ----------
    project : Project
        What cannot be done as it is. [-]
    settings : Settings
        Seed, and who may interrupt. [-]
    schedule : callable
        Finds the schedule of a project. [-]

    Returns
    -------
    tuple of str
        One way out each, those with the fewest dangers first. [-]
    """
    effort = replace(settings.effort, seconds=QUICK_S, engine="serial", progress=None)
    quick = replace(settings, effort=effort)
    found: list[tuple[int, str]] = []
    for fit in ways_of(project.plan) if project.way else ():
        interrupted = effort.interrupted is not None and effort.interrupted()
        if fit.fits and fit.way != project.way and fit.way in _MEANS and not interrupted:
            found += _tried(project, fit.way, quick, schedule)
    return tuple(text for _, text in sorted(found, key=lambda row: row[0]))


def _tried(project: Project, way: str, settings: Settings, schedule: Scheduled) -> list[tuple[int, str]]:
    """Say a way with the number of its dangers, where it can be done."""
    try:
        other = composed(replace(project.plan, way=way), steps=False)
    except PlanFileError:
        return []
    hung, found = schedule(other, settings)
    if not found.placements:
        return []
    settled = dict(hung.network.milestones)["settled"]
    done = f"tried: settled {by(hung.scheduling, found.of(settled).finish)}"
    number = len(hung.unsafe)
    if number:
        done += f", with {number} danger{'s' if number > 1 else ''} to animals"
    return [(number, f'write "way: {way}" ({_MEANS[way]}; {done})')]
