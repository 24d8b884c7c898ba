"""Checks that the air of every container comes from an outlet that is there, for as long as its battery lasts.

It takes who hangs on which outlet as it was given out, and counts for itself.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from moveplan.errors import Fault
from moveplan.practice.comfort.outlets import Aired, aired
from moveplan.practice.comfort.whereabouts import Inside, Standing, inside_of, standings_of
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule
from moveplan.times import MINUTES_A_DAY

USUAL_MIN = 24 * 60
"""What a battery runs where the plan does not say. [min]"""
MAINS = "mains"
WALL_OUTLETS = 4
"""Outlets of a pump on the mains that is ordered; common practice. [-]"""


def air_lasts(project: Project, schedule: Schedule) -> tuple[Fault, ...]:
    """Check outlets and batteries against what hangs on them.

    Parameters
    ----------
    project : Project
        With its ledger.
    schedule : Schedule
        Its schedule; without placements nothing is asked.
    """
    if not schedule.placements or not any(use.vessel.stones for use in project.ledger.containers):
        return ()
    standings = standings_of(project, schedule)
    inside = inside_of(project, schedule, standings)
    return faults_of_air(project, standings, inside, aired(project, standings, inside))


def faults_of_air(
    project: Project, standings: Sequence[Standing], inside: Inside, rows: Iterable[Aired]
) -> tuple[Fault, ...]:
    """Check air stones on their outlets.

    Parameters
    ----------
    project : Project
        Its pumps, and how many more are ordered.
    inside : dict
        When animals are in them.
    rows : iterable of Aired
        Who hangs on which outlet.
    """
    given = tuple(rows)
    return (*_pumps(project, given), *_without_air(project, standings, inside, given))


def _pumps(project: Project, rows: Sequence[Aired]) -> Iterator[Fault]:
    """Count outlets in use at once of each pump, and the minutes of a day against what its batteries hold."""
    lasts = _lasts_min(project)
    uses: dict[str, list[Aired]] = defaultdict(list)
    for row in rows:
        uses[row.gear].append(row)
    for gear, own in uses.items():
        outlets = _outlets(project, gear, wall=own[0].outlet_of == MAINS)
        for row in own:
            at_once = sum(one.since <= row.since < one.until for one in own)
            if at_once > outlets:
                yield Fault("too-many-on-pump", (gear,), (at_once, outlets))
                break
        if own[0].outlet_of == MAINS:
            continue
        for row in own:
            end = row.since + MINUTES_A_DAY  # a battery is charged again a day after it was first used
            used = sum(max(min(one.until, end) - max(one.since, row.since), 0) for one in own)
            most = outlets * lasts.get(gear, USUAL_MIN)
            if row.until - row.since > lasts.get(gear, USUAL_MIN) or used > most:
                yield Fault("battery-empty", (gear,), (max(used, row.until - row.since), most))
                break


def _lasts_min(project: Project) -> dict[str, int]:
    return {item.id: round(60 * item.battery_h) for item in project.plan.gear if item.battery_h}


def _outlets(project: Project, gear: str, *, wall: bool) -> int:
    """Count the outlets of a pump that is there, and of all that are ordered beside it."""
    kind = "mains-air-pump" if wall else "air-pump"
    items = [item for item in project.plan.gear if item.kind == kind]
    ordered = sum(max(needed - there, 0) for name, needed, there in project.gear_needed if name == kind)
    each = max((item.outlets for item in items), default=WALL_OUTLETS if wall else 1)
    return sum(item.count * item.outlets for item in items if item.id == gear) + ordered * each


def _without_air(
    project: Project, standings: Sequence[Standing], inside: Inside, rows: Sequence[Aired]
) -> Iterator[Fault]:
    """Find containers whose stones do not run as long as the safe time takes for granted: one battery, or the stay."""
    battery = min(_lasts_min(project).values(), default=USUAL_MIN)
    for one in standings:
        vessel = one.use.vessel
        begun = [inside[key][0] for name in vessel.livestock if (key := (id(one.use), name)) in inside]
        if not vessel.stones or not begun:
            continue
        promised = vessel.stones * min(one.until - min(begun), battery)
        runs = sum(row.until - row.since for row in rows if row.standing is one)
        if runs < promised:
            yield Fault("too-little-air", (vessel.number,), (runs, promised), (one.use.from_task,))
