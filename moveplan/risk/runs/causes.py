"""What a moving day is missed for: the task that lost the time, or the hold point that said no."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from moveplan.risk.prepared.net import Net
from moveplan.risk.runs.draw import Floats
from moveplan.risk.runs.simulate import EPSILON, Chunk, Positions

_PART = 0.5
"""A task that began later than this part of what the day lacks had lost the time before it began. [-]"""


def lost_by(net: Net, chunk: Chunk) -> Positions:
    """Count in how many runs each task is what the first missed day is missed for.

    From the preparation that is last, the way goes back along what each task waited for, to the task that began in
    time, or nearly so, and ended too late. A hold point that said no to the day is a cause itself.

    Returns
    -------
    array
        Runs by task; the sum is the number of runs in which a day is missed.
    """
    counts = np.zeros(len(net.steps), dtype=np.int64)
    told = np.zeros(chunk.runs, dtype=bool)
    for causes, lacking in zip(chunk.causes, chunk.lacking_min, strict=True):
        rows = np.flatnonzero((causes >= 0) & ~told)
        told[rows] = True
        found = _first(net, chunk, rows, causes[rows], lacking[rows])
        counts += np.bincount(found, minlength=len(net.steps))
    return counts


def _first(net: Net, chunk: Chunk, rows: Positions, last: Positions, lacking: Floats) -> Positions:
    """Go back from the last preparation of each run, a step of all runs at a time."""
    found = last.copy()
    going = np.arange(len(rows))
    for _ in net.steps:
        going = going[_began_late(net, chunk, rows[going], found[going], lacking[going])]
        before = _waited_for(net, chunk, rows[going], found[going])
        known = before >= 0
        going = going[known]
        if not going.size:
            break
        found[going] = before[known]
    return found


def _began_late(
    net: Net, chunk: Chunk, rows: Positions, tasks: Positions, lacking: Floats
) -> NDArray[np.bool_]:
    planned = np.asarray(net.planned_min)[tasks]
    return np.asarray(chunk.starts[tasks, rows] - planned > np.maximum(_PART * lacking, EPSILON))


def _waited_for(net: Net, chunk: Chunk, rows: Positions, tasks: Positions) -> Positions:
    """Give the task that the start of each waited for; -1: none, it stood at its own date."""
    before = np.full(len(rows), -1, dtype=np.int64)
    for task in np.unique(tasks):
        some = np.flatnonzero(tasks == task)
        for tie in net.into[task]:
            binding = chunk.reach(tie, rows[some]) >= chunk.ready[task, rows[some]] - EPSILON
            before[some[binding]] = tie.tail
    return before
