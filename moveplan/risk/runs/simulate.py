"""Many runs of a network at once: each task is worked through for a few thousand runs by a handful of array steps.

The plan's policy is simulated, not an ideal one: the order on people and vehicles is that of the schedule, tasks
that want to be late do not begin before their planned start, everything else begins when it can. Greatest gaps
are not forced; how often they break is what a keeper needs to know. Who waits for keys, or until a test can be done
again, does other work meanwhile; on the moving day everybody waits.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from moveplan.risk.prepared.net import Net, Step, Tie
from moveplan.risk.prepared.windows import Flags, past_hours, place, place_pausing
from moveplan.risk.runs.draw import PAIRS, Bins, Drawer, Floats, Loading

Positions = NDArray[np.int64]
Rows = slice | Positions

EPSILON = 1e-6
"""Difference below which two moments are the same. [min]"""
EVERY = slice(None)
ATTEMPTS = 4
"""A hold point that has said no three times is met the fourth time. [-]"""


@dataclass(slots=True)
class Chunk:
    """Some runs; the second half of all arrays mirrors the first. The next chunk overwrites it.

    Parameters
    ----------
    durations, starts, finishes : array
        Row by task, column by run. [min]
    ready : array
        Earliest start that ties and floors allow, before hours. [min]
    happened : array
        Row by mishap.
    slips : array
        Row by moving day: whether it has slipped.
    overtime : dict of int to array
        Whether somebody worked past the stated hours, by the position of the task; absent: never.
    spare : array
        Bins of further draws, one row each.
    causes : array
        Row by moving day: position of the task that the day is missed for, -1 where it is not missed.
    lacking_min : array
        Row by moving day: by how much the preparation is late; 0 where a hold point said no. [min]
    longer : dict of int to array
        By how much a no of a hold point, or a mishap, makes a task later, by its position. [min]
    """

    durations: Floats
    starts: Floats
    finishes: Floats
    ready: Floats
    happened: Flags
    slips: Flags
    spare: Bins
    causes: Positions
    lacking_min: Floats
    longer: dict[int, Floats] = field(default_factory=dict)
    overtime: dict[int, Flags] = field(default_factory=dict)

    @property
    def runs(self) -> int:
        """How many runs."""
        return int(self.starts.shape[1])

    def reach(self, tie: Tie, rows: Rows = EVERY, out: Floats | None = None) -> Floats:
        """Earliest start of the head that a tie allows.

        Parameters
        ----------
        tie : Tie
            What waits for what.
        rows : slice or array
            Runs that are asked for.
        out : array, optional
            Where the result may be kept; without gap it is the end itself and must not be written to. [min]
        """
        source: Floats = (self.finishes if tie.from_finish else self.starts)[tie.tail][rows]
        if tie.freed and tie.tail in self.longer:
            source = np.subtract(source, self.longer[tie.tail][rows], out=out)
        if tie.gap_min:
            source = np.add(source, tie.gap_min, out=out)
        if tie.to_finish:
            source = np.subtract(source, self.durations[tie.head][rows], out=out)
        if tie.begun_by_min is not None:
            source = np.where(self.starts[tie.tail][rows] <= tie.begun_by_min, source, -np.inf)
        return source

    @property
    def any_overtime(self) -> Flags:
        """Whether anybody worked past the stated hours, one a run."""
        found = np.zeros(self.runs, dtype=bool)
        for flags in self.overtime.values():
            found |= flags
        return found

    @property
    def slipped(self) -> Flags:
        """Whether any moving day has slipped, one a run."""
        return np.asarray(self.slips.any(axis=0), dtype=bool)


class Simulation:
    """Runs a network.

    Parameters
    ----------
    tables : array
        Quantiles of each duration, row by task. [min]
    loading : Loading
        Common causes, row by task.
    spare : int
        Further independent draws a run, such as safe times.
    pairs : int
        Antithetic pairs at a time, which decides how much memory it takes.
    """

    def __init__(
        self, net: Net, tables: Floats, loading: Loading, seed: int, spare: int = 0, pairs: int = PAIRS
    ) -> None:
        self._net, self._pairs = net, pairs
        self._tables = tables
        self._holds = [at for at, step in enumerate(net.steps) if step.fails > 0]
        causes = np.concatenate([loading.causes, np.zeros((spare, loading.causes.shape[1]))])
        self._drawer = Drawer(Loading(causes), len(self._holds) + len(net.mishaps), seed, pairs)

    def chunks(self, runs: int) -> Iterator[Chunk]:
        """Run at least so many times, chunk by chunk.

        Parameters
        ----------
        runs : int
            How many; made even, since runs come in antithetic pairs.

        Yields
        ------
        Chunk
            To be read before the next is asked for.
        """
        size = len(self._net.steps)
        room = np.empty((4, size, 2 * min(self._pairs, (runs + 1) // 2)))
        for bins, chances in self._drawer.chunks(runs):
            width = bins.shape[1]
            durations, starts, finishes, ready = (part[:, :width] for part in room)
            for at in range(size):
                np.take(self._tables[at], bins[at], out=durations[at], mode="clip")
            limits = np.array([one.probability for one in self._net.mishaps])[:, None]
            chunk = Chunk(
                durations,
                starts,
                finishes,
                ready,
                chances[len(self._holds) :] < limits,
                np.zeros((len(self._net.days), width), dtype=bool),
                bins[size:],
                np.full((len(self._net.days), width), -1),
                np.zeros((len(self._net.days), width)),
            )
            _Pass(self._net, chunk, dict(zip(self._holds, chances, strict=False))).work()
            yield chunk


class _Pass:
    """One chunk on its way through the network."""

    def __init__(self, net: Net, chunk: Chunk, chances: dict[int, Floats]) -> None:
        self.net = net
        self.chunk = chunk
        self.chances = chances
        self.buffer = np.empty(chunk.runs)
        self.decided = -1
        self.passed: set[int] = set()
        self.delays: dict[int, list[int]] = {}
        for number, mishap in enumerate(net.mishaps):
            if mishap.task is not None and mishap.delay_min:
                self.delays.setdefault(mishap.task, []).append(number)

    def work(self) -> None:
        self.chunk.starts[:] = 0.0
        self.chunk.finishes[:] = 0.0
        for _ in range(self.net.rounds):
            before = self.chunk.starts.copy() if self.net.rounds > 1 else None
            self._once()
            if before is not None and np.array_equal(before, self.chunk.starts):
                break

    def _once(self) -> None:
        self.decided = -1
        self.passed.clear()
        for at in self.net.order:
            step = self.net.steps[at]
            if step.day > self.decided:
                self._decide(step.day)
            ready = self.chunk.ready[at]
            ready[:] = step.floor_min
            if step.follows_day:
                ready += self.chunk.slips[step.day] * self.net.days[step.day].slip_min
            for tie in self.net.into[at]:
                self._wait(tie, ready)
            self._carry_out(at, step, ready)
            self.passed.add(at)

    def _wait(self, tie: Tie, ready: Floats) -> None:
        np.maximum(ready, self.chunk.reach(tie, out=self.buffer), out=ready)

    def _carry_out(self, at: int, step: Step, ready: Floats) -> None:
        start, finish = self.chunk.starts[at], self.chunk.finishes[at]
        self._put(step, ready, self.chunk.durations[at], start, finish)
        if step.hours is not None and step.runs_over:
            self.chunk.overtime[at] = past_hours(step.hours, start, finish)
        asked_again = at in self.chances and not step.slips
        if asked_again or at in self.delays:
            first = finish.copy()
            if asked_again:
                self._again(at, step, finish)
            for number in self.delays.get(at, ()):
                finish += self.net.mishaps[number].delay_min * self.chunk.happened[number]
            self.chunk.longer[at] = finish - first
        if step.tail_min:
            finish += step.tail_min

    @staticmethod
    def _put(step: Step, ready: Floats, lasts: Floats, start: Floats, finish: Floats) -> None:
        if step.hours is None:
            start[:] = ready
            np.add(ready, lasts, out=finish)
        elif step.pauses:
            place_pausing(step.hours, ready, lasts, start, finish)
        else:
            place(step.hours, ready, lasts, start, finish)

    def _again(self, at: int, step: Step, finish: Floats) -> None:
        """Repeat a hold point in the runs in which it said no."""
        lasts = self.chunk.durations[at]
        for attempt in range(1, ATTEMPTS):
            rows = np.flatnonzero(self.chances[at] < step.fails**attempt)
            if not rows.size:
                return
            begin, end = np.empty(rows.size), np.empty(rows.size)
            self._put(step, finish[rows] + step.redo_min, lasts[rows], begin, end)
            finish[rows] = end

    def _decide(self, number: int) -> None:
        """Slip a moving day where its tasks would wait too long for the preparation, or the eve says no.

        What waits for the day itself is no preparation for it, though other tasks of the day may wait for that.
        """
        self.decided = number
        steps, tolerance_min = self.net.steps, self.net.days[number].tolerance_min
        cause, lacking = self.chunk.causes[number], self.chunk.lacking_min[number]
        cause[:], lacking[:] = -1, 0.0
        for tie in self.net.ties:
            if steps[tie.head].day != number or steps[tie.tail].day == number or tie.tail not in self.passed:
                continue
            if not steps[tie.tail].tied:
                late = self.chunk.reach(tie) - self.net.planned_min[tie.head]
                worst = (late > tolerance_min) & (late > lacking)
                cause[worst], lacking[worst] = tie.tail, late[worst]
            if steps[tie.tail].slips and tie.tail in self.chances:
                cause[(self.chances[tie.tail] < steps[tie.tail].fails) & (cause < 0)] = tie.tail
        self.chunk.slips[number] = cause >= 0


def critical(net: Net, chunk: Chunk, target: int | None = None) -> Flags:
    """Which tasks drive the end: a minute more of them, and the end is later.

    Parameters
    ----------
    target : int or None
        The task whose finish counts; None: the last finish of all.

    Returns
    -------
    array
        Row by task, column by run.
    """
    flags: Flags
    if target is None:
        flags = chunk.finishes >= chunk.finishes.max(axis=0) - EPSILON
    else:
        flags = np.zeros(chunk.starts.shape, dtype=bool)
        flags[target] = True
    buffer = np.empty(chunk.runs)
    for at in reversed(net.order):
        if not flags[at].any():
            continue
        limit = chunk.starts[at] - EPSILON
        for tie in net.into[at]:
            flags[tie.tail] |= flags[at] & (chunk.reach(tie, out=buffer) >= limit)
    return flags
