"""What people are told of a moving day: starts that half of the runs reach.

Where one task waits for another in every run, it does so at the medians too, because a median keeps the order of what
it is taken of; so times made of medians keep every tie, but for what rounding does, which is pushed on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil

import numpy as np

from moveplan.risk.compile import Prepared
from moveplan.risk.draw import Floats
from moveplan.risk.net import Tie
from moveplan.risk.stays import stays_of

_ALMOST = 1e-6
ROUNDS = 4
"""How often what opens a greatest gap is put later, because medians do not keep greatest gaps. [-]"""

Stand = dict[int, tuple[int, int]]
"""Start and finish of each task by its position, since the start of the plan. [min]"""


def told_times(prepared: Prepared, starts: Floats, finishes: Floats) -> dict[int, tuple[int, int]]:
    """Give start and finish of each task of the moving days, since the start of the plan. [min].

    Parameters
    ----------
    prepared : Prepared
        The project. [-]
    starts, finishes : array
        Row by task of a moving day, in the network's order; column by run. [min]

    Returns
    -------
    dict of int to tuple of (int, int)
        By position: never before the plan has it, lasting at least its likely and at most its high duration. [min]
    """
    rows = [at for at, step in enumerate(prepared.net.steps) if step.tied]
    middle = dict(
        zip(rows, zip(np.median(starts, axis=1), np.median(finishes, axis=1), strict=True), strict=True)
    )
    later = dict.fromkeys(rows, 0)
    for _ in range(ROUNDS):
        stand = _all_stood(prepared, middle, later)
        over = dict(_too_long(prepared, stand))
        if not over:
            break
        later |= {at: later[at] + more for at, more in over.items()}
    return {at: stand[at] for at in rows}


def _all_stood(
    prepared: Prepared, middle: Mapping[int, tuple[float, float]], later: Mapping[int, int]
) -> Stand:
    begin = prepared.project.scheduling.start
    stand = {
        at: (one.start - begin, one.finish - begin) for at, one in enumerate(prepared.schedule.placements)
    }
    for at in prepared.net.order:
        if at in middle:
            start, finish = middle[at]
            stand[at] = _stood(prepared, at, (start + later[at], finish + later[at]), stand)
    return stand


def _too_long(prepared: Prepared, stand: Stand) -> Iterator[tuple[int, int]]:
    """Give what opens a greatest gap, and by how much later it has to be; stays of animals have room of their own."""
    stays = {(stay.since.task, stay.until.task) for stay in stays_of(prepared.project)}
    grid = prepared.project.scheduling.grid_min
    for link in prepared.project.network.links:
        ends = prepared.at[link.before], prepared.at[link.after]
        if link.max_gap_min is None or (link.before, link.after) in stays:
            continue
        if not all(prepared.net.steps[at].tied for at in ends):
            continue
        (begin, finish), (start, end) = stand[ends[0]], stand[ends[1]]
        gap = (end if link.relation.to_finish else start) - (finish if link.relation.from_finish else begin)
        if gap > link.max_gap_min:
            yield ends[0], ceil((gap - link.max_gap_min) / grid) * grid


def _stood(prepared: Prepared, at: int, middle: tuple[float, float], stand: Stand) -> tuple[int, int]:
    """Round the medians of a task, and push it behind what it waits for."""
    grid, (start, finish) = prepared.project.scheduling.grid_min, stand[at]
    usual = finish - start
    bounds = [
        _bound(tie, stand, usual, grid) for tie in prepared.net.into[at] if prepared.net.steps[tie.tail].tied
    ]
    start = max(start, round(middle[0] / grid) * grid, *bounds)
    lasts = round(middle[1] / grid) * grid - start
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
