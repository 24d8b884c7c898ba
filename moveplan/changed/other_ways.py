"""Other ways of moving for a plan that cannot be done in its own, or not safely: each is tried before it is offered."""

from __future__ import annotations

from dataclasses import replace

from moveplan.changed.trials import COMPOSED_S, WEIGHED_S, Foreseen, settled_by
from moveplan.errors import MoveplanError, WayOut
from moveplan.practice.project import Project
from moveplan.practice.ways.fitting import HOLD_OVER, NEW_TANK_AHEAD, SAME_DAY, SAME_SPOT, ways_of
from moveplan.stages.reading import Settings, composed

QUICK_S = 0.3
"""Effort for one way, by the quick engine; a way that takes more is not offered. [s]"""
_MEANS = {
    SAME_DAY: "everything in one day",
    HOLD_OVER: "the animals wait in a holding tank between two days",
    NEW_TANK_AHEAD: "the new tank ripens before they move",
    SAME_SPOT: "the old tank gives way to the new one in a day",
}
"""Ways that are offered. To give all animals away is a way, but none out of a full day. [-]"""


def other_ways(
    project: Project, settings: Settings, foresee: Foreseen, *, safe_only: bool
) -> tuple[WayOut, ...]:
    """Try every other way of moving that the facts of a plan allow, and say those that can be done.

    Parameters
    ----------
    project : Project
        What cannot be done as it is, or not safely.
    safe_only : bool
        Whether ways that endanger animals are not offered.

    Returns
    -------
    tuple of WayOut
        One way out each, those with the fewest dangers first.
    """
    effort = replace(settings.effort, seconds=QUICK_S, engine="serial", progress=None)
    quick = replace(settings, effort=effort)
    found: list[tuple[int, WayOut]] = []
    for fit in ways_of(project.plan) if project.way else ():
        interrupted = effort.interrupted is not None and effort.interrupted()
        if not fit.fits or fit.way == project.way or fit.way not in _MEANS or interrupted:
            continue
        if effort.allowance is None or effort.allowance.allows():
            found += _tried(project, fit.way, quick, foresee)
    return tuple(text for number, text in sorted(found, key=lambda row: row[0]) if not (safe_only and number))


def _tried(project: Project, way: str, settings: Settings, foresee: Foreseen) -> list[tuple[int, WayOut]]:
    """Say a way with the number of its dangers, where it can be done."""
    if settings.effort.allowance is not None:
        settings.effort.allowance.pay((COMPOSED_S + WEIGHED_S) * len(project.network.tasks))
    try:
        seen = foresee(composed(replace(project.plan, way=way), steps=False), settings)
    except MoveplanError:  # the way has limits that the plan is beyond, or its schedule did not pass the door
        return []
    if not seen.schedule.placements:
        return []
    done = settled_by(seen)
    number = len(seen.problems)
    if number:
        done += f", with {number} danger{'s' if number > 1 else ''} to animals"
    return [(number, WayOut(_MEANS[way], done, writes=(("way", way),)))]
