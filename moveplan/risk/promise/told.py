"""What people are told of a moving day: starts that half of the runs reach.

Where one task waits for another in every run, it does so at the medians too, because a median keeps the order of what
it is taken of; so times made of medians keep every tie, but for what a duration that is held within its
bounds does, which is pushed on.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from math import ceil, inf

import numpy as np

from moveplan.network.reach import reached
from moveplan.risk.prepared.compile import Prepared
from moveplan.risk.prepared.net import Tie
from moveplan.risk.prepared.stays import stays_of
from moveplan.risk.promise.values import HELD_MIN
from moveplan.risk.runs.draw import Floats
from moveplan.times import MINUTES_A_DAY

_ALMOST = 1e-6
"""Difference below which two moments are the same. [min]"""
LEAST_REACHED = 0.36
"""A start that a smaller share of the runs reaches is told later, on the next moment of the grid: 0.35, and half of
what the few runs of which the middle is taken may err by, so that neither side is missed by all of it. [-]"""
HALF = 0.5
"""What follows the moving days is told no time that fewer runs keep. [-]"""
SOON_MIN = 14 * MINUTES_A_DAY
"""What follows later than that stays as planned: by then the plan was made anew from what has happened. [min]"""
HUNDREDTHS = 100
"""Parts of the runs for which it is kept by when what follows the moving days has begun. Chosen. [-]"""
ROUNDS = 4
"""How often what opens a greatest gap is put later, because medians do not keep greatest gaps. [-]"""

Stand = dict[int, tuple[int, int]]
"""Start and finish of each task by its position, since the start of the plan. [min]"""


def told_times(prepared: Prepared, starts: Floats, finishes: Floats) -> dict[int, tuple[int, int]]:
    """Give start and finish of each task of the moving days, since the start of the plan. [min].

    Parameters
    ----------
    starts, finishes : array
        Row by task of a moving day, in the network's order; column by run. [min]

    Returns
    -------
    dict of int to tuple of (int, int)
        By position: lasting at least its likely and at most its high duration. Beside
        the tasks of the moving days those before them that have to be later for them, such as a last meal. [min]
    """
    rows = [at for at, step in enumerate(prepared.net.steps) if step.tied]
    grid = prepared.project.scheduling.grid_min
    middle = dict(zip(rows, zip(_middle(starts, grid), _middle(finishes, grid), strict=True), strict=True))
    later = dict.fromkeys(rows, 0)
    before = before_the_days(prepared)
    for _ in range(ROUNDS):
        stand = _all_stood(prepared, middle, later)
        over = dict(_too_long(prepared, stand, before))
        if not over:
            break
        later |= {at: later.get(at, 0) + more for at, more in over.items()}
    return {at: stand[at] for at in (*rows, *(at for at in later if at not in middle))}


def before_the_days(prepared: Prepared) -> list[int]:
    """Give the positions of what opens greatest gaps up to a task of a moving day, and is of no moving day.

    What is held to such a task by a greatest gap of its own moves with it.
    """
    tasks, steps = prepared.project.network.tasks, prepared.net.steps
    opened_by: dict[int, list[int]] = {}
    for link in prepared.project.network.links:
        tail = prepared.at[link.before]
        if link.max_gap_min is not None and not steps[tail].tied and not tasks[tail].repeats:
            opened_by.setdefault(prepared.at[link.after], []).append(tail)
    tied = (at for at, step in enumerate(steps) if step.tied)
    return sorted(reached(tied, lambda head: opened_by.get(head, ())))


def after_the_days(prepared: Prepared) -> list[int]:
    """Give the positions of what begins after the first moving day's first task, is of none, and comes once."""
    steps, planned = prepared.net.steps, prepared.net.planned_min
    first, tasks = _first_of_the_days(prepared), prepared.project.network.tasks
    return [
        at
        for at, step in enumerate(steps)
        if first < planned[at] and not step.tied and tasks[at].repeats is None
    ]


def _first_of_the_days(prepared: Prepared) -> float:
    """When the first task of a moving day is planned, since the start of the plan; infinite: there is none. [min]."""
    return min(
        (at for at, step in zip(prepared.net.planned_min, prepared.net.steps, strict=True) if step.tied),
        default=inf,
    )


def begun_by(starts: Floats) -> list[list[int]]:
    """Give by when each hundredth of the runs has begun a task, row by row, the first to the last. [min].

    Parameters
    ----------
    starts : array
        Row by task; column by run. [min]
    """
    if not len(starts):
        return []
    levels = np.arange(1, HUNDREDTHS + 1) / HUNDREDTHS
    moments = np.quantile(starts, levels, axis=1, method="inverted_cdf").T
    found: list[list[int]] = np.ceil(moments - _ALMOST).astype(int).tolist()
    return found


def soonest(prepared: Prepared, rows: list[int], starts: Floats) -> Iterator[tuple[int, int]]:
    """Give when half of the runs begin what fewer begin as planned and is due soon, since the start. [min].

    Parameters
    ----------
    rows : list of int
        Positions of tasks.
    starts : array
        Row by those tasks; column by run. [min]

    Yields
    ------
    tuple of (int, int)
        Position, and moment.
    """
    planned = np.array([prepared.net.planned_min[at] for at in rows])
    reached = np.mean(starts <= planned[:, None] + HELD_MIN + _ALMOST, axis=1)
    middle = _middle(starts, prepared.project.scheduling.grid_min) if rows else []
    last = _first_of_the_days(prepared) + SOON_MIN
    return (
        (at, late)
        for at, late, share in zip(rows, middle, reached, strict=True)
        if share < HALF and prepared.net.planned_min[at] < last
    )


def _middle(moments: Floats, grid: int) -> list[int]:
    """Give the moment on the grid that the share of runs nearest to a half reaches, row by row. [min].

    It is not one that too few reach. Of two tasks that one follows the other in every run it never puts the second
    first.
    """
    below = np.floor(np.median(moments, axis=1) / grid) * grid
    above = below + grid
    reached = [np.mean(moments <= by[:, None] + _ALMOST, axis=1) for by in (below, above)]
    soon = (reached[0] >= LEAST_REACHED) & (reached[0] + reached[1] >= 1)
    found: list[int] = np.where(soon, below, above).astype(int).tolist()
    return found


def _all_stood(prepared: Prepared, middle: Mapping[int, tuple[int, int]], later: Mapping[int, int]) -> Stand:
    begin = prepared.project.scheduling.start
    stand = {
        at: (one.start - begin, one.finish - begin) for at, one in enumerate(prepared.schedule.placements)
    }
    for at in prepared.net.order:
        if at in middle:
            start, finish = middle[at]
            stand[at] = _stood(prepared, at, (start + later[at], finish + later[at]), stand)
        elif at in later:
            start, finish = stand[at]
            stand[at] = (start + later[at], finish + later[at])
    return stand


def _too_long(prepared: Prepared, stand: Stand, before: Collection[int]) -> Iterator[tuple[int, int]]:
    """Give what opens a greatest gap, and by how much later it has to be; stays of animals have room of their own."""
    stays = {(stay.since.task, stay.until.task) for stay in stays_of(prepared.project)}
    grid = prepared.project.scheduling.grid_min
    for link in prepared.project.network.links:
        ends = prepared.at[link.before], prepared.at[link.after]
        if link.max_gap_min is None or (link.before, link.after) in stays:
            continue
        if any(not prepared.net.steps[at].tied and at not in before for at in ends):
            continue
        (begin, finish), (start, end) = stand[ends[0]], stand[ends[1]]
        gap = (end if link.relation.to_finish else start) - (finish if link.relation.from_finish else begin)
        if gap > link.max_gap_min:
            yield ends[0], ceil((gap - link.max_gap_min) / grid) * grid


def _stood(prepared: Prepared, at: int, middle: tuple[int, int], stand: Stand) -> tuple[int, int]:
    """Put a task to its middle, behind what it waits for."""
    grid, (start, finish) = prepared.project.scheduling.grid_min, stand[at]
    usual = finish - start
    bounds = [_bound(tie, stand, usual, grid) for tie in prepared.net.into[at]]
    start = max((middle[0], *bounds))
    lasts = middle[1] - start
    return start, start + min(max(lasts, usual), max(_longest(prepared, at, usual), usual))


def _bound(tie: Tie, stand: Stand, usual: int, grid: int) -> int:
    """Earliest start that one tie allows, on the grid."""
    begin, end = stand[tie.tail]
    moment = (end if tie.from_finish else begin) + tie.gap_min - (usual if tie.to_finish else 0)
    return ceil((moment - _ALMOST) / grid) * grid


def _longest(prepared: Prepared, at: int, usual: int) -> int:
    """High duration of a task with the crew of the schedule; what has no length is given none. [min]."""
    task = prepared.project.network.tasks[at]
    return round(task.estimate.high * usual / task.minutes) if task.minutes else 0
