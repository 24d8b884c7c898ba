"""Sees that no water is poured past its shelf life: purified, mixed, or old; what is filled in first is taken first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from moveplan.door.accounts import OVER, dated
from moveplan.errors import Fault
from moveplan.practice.ledger.entries import DRAIN, PURIFIED
from moveplan.practice.project import Project
from moveplan.quantities.containers.vessels import Use
from moveplan.quantities.policy import Policy
from moveplan.scheduling.schedule import Schedule
from moveplan.times import MINUTES_A_DAY

OLD_KEEPS_D = 2.0
"""How long water out of a tank stands in a closed tub before it goes into one; common practice, no source. [day]"""
SLIPS_D = 3.0
"""How long mixed water has warmed before salt goes in, and a weekly change may slip; assumed. [day]"""
REST_L = 0.5
"""What so little of is old has no weight. [l]"""


def water_fresh(project: Project, schedule: Schedule) -> tuple[Fault, ...]:
    """Check how old water is when it is poured; when it was made before the schedule begins, nobody asks.

    Parameters
    ----------
    project : Project
        With its ledger.
    schedule : Schedule
        Its schedule; without placements nothing is asked.
    """
    if not schedule.placements or not project.ledger.pours:
        return ()
    keeps = _keeps_min(project)
    inside: dict[str, list[tuple[int, float]]] = defaultdict(list)
    faults = []
    placed = {one.task: one for one in schedule.placements}
    for at, _, pour in sorted(dated(project, placed), key=lambda row: row[:2]):
        taken = list(_first_in(inside[pour.source], pour.litres)) if pour.source in keeps else []
        since = min((since for since, litres in taken if litres > REST_L), default=at)
        if pour.target != DRAIN and OVER < since < at - keeps.get(pour.source, 0.0):
            days = ((at - since) / MINUTES_A_DAY, keeps[pour.source] / MINUTES_A_DAY)
            faults.append(Fault("water-stale", (pour.source, pour.target), days, (pour.task,)))
        if pour.target in keeps:
            inside[pour.target] += (pour.source != PURIFIED and taken) or [(at, pour.litres)]
    return tuple(faults)


def _keeps_min(project: Project) -> dict[str, float]:
    """How long the water in each account keeps that stores any. [min]."""
    policy = Policy(project.plan.policy)
    mixed = (policy["mixed_water_keeps"] + SLIPS_D) * MINUTES_A_DAY
    days = dict.fromkeys((Use.MIXED, Use.NEW_WATER, Use.SPARE_WATER), mixed) | {
        Use.OLD_WATER: OLD_KEEPS_D * MINUTES_A_DAY
    }
    stored = {
        use.vessel.account: days[use.vessel.use]
        for use in project.ledger.containers
        if use.vessel.use in days
    }
    return stored | {PURIFIED: policy["purified_water_keeps"] * MINUTES_A_DAY}


def _first_in(inside: list[tuple[int, float]], litres: float) -> Iterator[tuple[int, float]]:
    """Take so much out, what has been in for longest first."""
    while inside and litres > 0:
        since, there = inside.pop(0)
        part = min(there, litres)
        litres -= part
        if there > part:
            inside.insert(0, (since, there - part))
        yield since, part
