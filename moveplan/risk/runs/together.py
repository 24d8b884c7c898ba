"""Several projects in the same runs: what waits for what between them, and causes that touch them all.

Each keeps its own minutes, from its own start; a tie between two of them carries the difference in its gap. The same
draws are worked through twice, with the ties between projects and without, so that what one brings upon another is
told run by run.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from moveplan.risk.prepared.compile import Prepared
from moveplan.risk.prepared.net import Net, Tie
from moveplan.risk.prepared.windows import Flags
from moveplan.risk.register.default import table
from moveplan.risk.runs.draw import Floats, Loading
from moveplan.risk.runs.outcome import Outcome
from moveplan.risk.runs.sample import Sample
from moveplan.risk.runs.simulate import Chunk, Simulation

Row = TypeVar("Row")
Reader = Callable[[int, Chunk, Floats], None]
"""Takes the position of a project, a chunk of its runs, and what each of them costs beside pay. [currency]"""
PAIRS = 250
"""Antithetic pairs at a time: a season of thousands of tasks stays within some hundred megabytes. [-]"""


@dataclass(frozen=True, slots=True)
class Between:
    """One project waits for another.

    Parameters
    ----------
    before, after : (int, str)
        Position of each project, and the id of its task.
    gap_min : float
        From the finish of the one to the start of the other: a drive, a night. [min]
    """

    before: tuple[int, str]
    after: tuple[int, str]
    gap_min: float


@dataclass(frozen=True, slots=True)
class Joint:
    """How often one project of several keeps what it promises.

    Parameters
    ----------
    kept : float
        Share of the runs in which nothing promised breaks.
    error : float
        Standard error of it.
    by_others : float
        Share of the runs in which it breaks only because of the others.
    after : tuple of (int, float)
        Positions of the projects whose lateness it waits for in such runs, and in which share of all; most often first.
    """

    kept: float
    error: float
    by_others: float
    after: tuple[tuple[int, float], ...] = ()


def joint(
    several: Sequence[Prepared],
    between: Sequence[Between],
    runs: int,
    seed: int,
    read: Reader | None = None,
) -> tuple[Joint, ...]:
    """Run several projects at once.

    Parameters
    ----------
    several : sequence of Prepared
        Each ready for its own simulation.
    between : sequence of Between
        What waits for what between them.
    runs : int
        How many, made even.
    seed : int
        Of the generator.
    read : callable, optional
        Is shown each chunk of each project, to tell more of the same runs.
    """
    whole, apart = _Whole(several, between), _Whole(several, ())
    kept = [Sample() for _ in several]
    alone = np.zeros(len(several))
    after: list[dict[int, int]] = [{} for _ in several]
    for chunk, same in zip(whole.chunks(runs, seed), apart.chunks(runs, seed), strict=True):
        late = whole.late(chunk)
        for at, (good, without) in enumerate(zip(whole.kept(chunk, read), apart.kept(same), strict=True)):
            kept[at].add(good)
            lost = without & ~good
            alone[at] += np.count_nonzero(lost)
            for other in np.unique(late[at][lost]) if at in late else ():
                after[at][int(other)] = after[at].get(int(other), 0) + int(np.sum(late[at][lost] == other))
    made = kept[0].values().size if several else 1
    return tuple(
        Joint(
            round(one.mean(), 6),
            round(one.error_of_mean(), 6),
            round(float(alone[at]) / made, 6),
            tuple(
                sorted(
                    ((job, count / made) for job, count in after[at].items()),
                    key=lambda row: (-row[1], row[0]),
                )
            ),
        )
        for at, one in enumerate(kept)
    )


class _Whole:
    """Several nets laid side by side in one."""

    def __init__(self, several: Sequence[Prepared], between: Sequence[Between]) -> None:
        self.several = several
        self.outcomes = [Outcome(one) for one in several]
        sizes = [len(one.net.steps) for one in several]
        self.first = [sum(sizes[:at]) for at in range(len(several) + 1)]
        dated = sorted((day.day, at, n) for at, one in enumerate(several) for n, day in enumerate(one.days))
        self.day = {(at, n): row for row, (_, at, n) in enumerate(dated)}
        self.cross = tuple(self._tie(one) for one in between)
        self.net = self._net()

    def _tie(self, one: Between) -> Tie:
        """Let a task wait for one of another project that has begun by when it should begin itself."""
        (before, tail), (after, head) = one.before, one.after
        later = self._origin(before) - self._origin(after)
        due = self.several[after].net.planned_min[self.several[after].at[head]]
        return Tie(
            self.first[before] + self.several[before].at[tail],
            self.first[after] + self.several[after].at[head],
            one.gap_min + later,
            freed=True,
            begun_by_min=due - later,
        )

    def _origin(self, at: int) -> float:
        return float(self.several[at].project.scheduling.start)

    def _net(self) -> Net:
        rows = list(enumerate(self.several))
        return Net(
            tuple(
                replace(step, day=self.day[at, step.day] if step.tied else -1)
                for at, one in rows
                for step in one.net.steps
            ),
            (
                *(
                    replace(tie, tail=tie.tail + self.first[at], head=tie.head + self.first[at])
                    for at, one in rows
                    for tie in one.net.ties
                ),
                *self.cross,
            ),
            tuple(
                replace(row, task=None if row.task is None else row.task + self.first[at])
                for at, one in rows
                for row in one.net.mishaps
            ),
            tuple(self.several[at].net.days[n] for at, n in sorted(self.day, key=lambda key: self.day[key])),
            tuple(moment for one in self.several for moment in one.net.planned_min),
        )

    def _loading(self) -> Loading:
        """Give the causes of a firm one column for all, those of a day one for each day, others one a project."""
        columns: dict[tuple[str, str], int] = {}
        causes = np.zeros((self.first[-1], 0))
        for at, one in enumerate(self.several):
            for n, (name, row) in enumerate(table("causes").items()):
                key = {"firm": "", "day": str(one.days[0].day) if one.days else str(at)}.get(
                    row["common_to"], str(at)
                )
                if (name, key) not in columns:
                    columns[name, key] = len(columns)
                    causes = np.hstack([causes, np.zeros((len(causes), 1))])
                causes[self.first[at] : self.first[at + 1], columns[name, key]] = one.loading.causes[:, n]
        return Loading(causes)

    def chunks(self, runs: int, seed: int) -> Iterator[Chunk]:
        tables: Floats = np.concatenate([one.tables for one in self.several])
        spare = sum(len(one.containers.groups) for one in self.outcomes)
        return Simulation(self.net, tables, self._loading(), seed, spare, PAIRS).chunks(runs)

    def kept(self, chunk: Chunk, read: Reader | None = None) -> list[Flags]:
        """Tell of each project in which runs it keeps all that it promises."""
        found = []
        for at, part in enumerate(self._parts(chunk)):
            found.append(self.outcomes[at].keeps(part))
            if read is not None:
                read(at, part, self.outcomes[at].purse.beside.parts[-1].ravel())
        return found

    def _parts(self, chunk: Chunk) -> Iterator[Chunk]:
        happened = spare = 0
        for at, one in enumerate(self.several):
            part = slice(self.first[at], self.first[at + 1])
            days = [self.day[at, n] for n in range(len(one.days))]
            groups = len(self.outcomes[at].containers.groups)
            yield Chunk(
                chunk.durations[part],
                chunk.starts[part],
                chunk.finishes[part],
                chunk.ready[part],
                chunk.happened[happened : happened + len(one.net.mishaps)],
                chunk.slips[days],
                chunk.spare[spare : spare + groups],
                chunk.causes[days],
                chunk.lacking_min[days],
                _of(chunk.longer, part),
                _of(chunk.overtime, part),
            )
            happened, spare = happened + len(one.net.mishaps), spare + groups

    def late(self, chunk: Chunk) -> Mapping[int, Floats]:
        """Tell of each project that waits for others which of them holds it up longest, one a run."""
        most: dict[int, Floats] = {}
        who: dict[int, Floats] = {}
        owner = np.searchsorted(self.first, np.arange(self.first[-1]), side="right") - 1
        for tie in self.cross:
            at, other = int(owner[tie.head]), int(owner[tie.tail])
            late = chunk.reach(tie) - self.net.planned_min[tie.head]
            worst = late > most.setdefault(at, np.zeros(chunk.runs))
            who.setdefault(at, np.full(chunk.runs, float(other)))[worst] = other
            np.maximum(most[at], late, out=most[at])
        return who


def _of(rows: Mapping[int, Row], part: slice) -> dict[int, Row]:
    return {at - part.start: row for at, row in rows.items() if part.start <= at < part.stop}
