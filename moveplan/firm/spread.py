"""What the runs of all jobs together say of each: how long people work, what goes wrong, when the crew comes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from moveplan.firm.values import Firm, Rates
from moveplan.network.task import Kind
from moveplan.scheduling.schedule import Placement

if TYPE_CHECKING:
    from moveplan.risk.prepared.compile import Prepared
    from moveplan.risk.runs.draw import Floats
    from moveplan.risk.runs.simulate import Chunk

EARLY, LATE = 0.1, 0.9
"""Shares of the runs in which the crew has come by the ends of the window that a client is told; chosen. [-]"""
KINDS = ("lead", "hand")
"""What a minute is charged as. [-]"""


@dataclass(frozen=True, slots=True, order=True)
class Ran:
    """One run of one job.

    Parameters
    ----------
    cost : float
        Hours by rate, and what goes wrong. [currency]
    lead_min, hand_min : float
        Work of whoever leads, and of anybody else. [min]
    mishaps : float
        What goes wrong by the list of risks: repairs, a longer hire, animals that are lost. [currency]
    """

    cost: float
    lead_min: float
    hand_min: float
    mishaps: float


@dataclass(frozen=True, slots=True)
class Spread:
    """All runs of one job.

    Parameters
    ----------
    ran : tuple of Ran
        The cheapest first.
    tasks : frozenset of str
        Ids of the tasks that were run; the others are done.
    arrives : tuple of (int, int) or None
        By when the crew has come in a tenth and in nine tenths of the runs in which the day is kept, UTC; None: it has
        been there, or is never there. [min]
    """

    ran: tuple[Ran, ...]
    tasks: frozenset[str]
    arrives: tuple[int, int] | None

    def reached(self, share: float) -> Ran:
        """Give the run that so many others cost no more than.

        Parameters
        ----------
        share : float
            Of the runs, 0 to 1.
        """
        return self.ran[min(max(ceil(share * len(self.ran) - 1e-9), 1), len(self.ran)) - 1]


@dataclass(slots=True)
class Seen:
    """Reads the runs of all jobs, chunk by chunk."""

    firm: Firm
    jobs: list[str] = field(default_factory=list)
    _rows: list[_Rows] = field(default_factory=list)

    def watch(self, jobs: Sequence[str], several: Sequence[Prepared]) -> None:
        """Say what is run.

        Parameters
        ----------
        jobs : sequence of str
            Their ids.
        several : sequence of Prepared
            Each ready for the runs.
        """
        self.jobs, self._rows = list(jobs), [_Rows(self.firm, one) for one in several]

    def read(self, at: int, chunk: Chunk, mishaps: Floats) -> None:
        """Take in some runs of one job."""
        self._rows[at].read(chunk, mishaps)

    def told(self) -> Mapping[str, Spread]:
        """Give what was seen, by job."""
        rates = self.firm.rates
        return {job: rows.told(rates) for job, rows in zip(self.jobs, self._rows, strict=True)}


class _Rows:
    """What is kept of one job."""

    def __init__(self, firm: Firm, prepared: Prepared) -> None:
        self.prepared = prepared
        leads = {worker.id: worker.helper.lead for worker in firm.people}
        placed = {one.task: one for one in prepared.schedule.placements}
        tasks = prepared.project.network.tasks
        self.hands = np.zeros((len(KINDS), len(tasks)))
        for at, task in enumerate(tasks):
            if task.kind not in (Kind.REST, Kind.WAIT):
                for row, lead in enumerate((True, False)):
                    several = {who for who, leading in leads.items() if leading is lead}
                    self.hands[row, at] = _hands(placed[task.id], several, repeats=task.repeats is not None)
        self.tagged = [
            at for at, task in enumerate(tasks) if task.day and leads.keys() & set(placed[task.id].people)
        ]
        self.worked: list[Floats] = []
        self.mishaps: list[Floats] = []
        self.arrived: list[Floats] = []

    def read(self, chunk: Chunk, mishaps: Floats) -> None:
        self.worked.append(self.hands @ chunk.durations)
        self.mishaps.append(mishaps.copy())
        if self.tagged:
            self.arrived.append(chunk.starts[self.tagged].min(axis=0)[~chunk.slipped])

    def told(self, rates: Rates) -> Spread:
        worked, mishaps = np.concatenate(self.worked, axis=1), np.concatenate(self.mishaps)
        prices = np.array([float(rates.lead), float(rates.hand)]) / 60
        rows = zip((prices @ worked + mishaps).tolist(), *worked.tolist(), mishaps.tolist(), strict=True)
        return Spread(
            tuple(sorted(Ran(*row) for row in rows)),
            frozenset(self.prepared.at),
            self._arrives(),
        )

    def _arrives(self) -> tuple[int, int] | None:
        moments = np.concatenate(self.arrived) if self.arrived else np.zeros(0)
        if not moments.size:
            return None
        start = self.prepared.project.scheduling.start
        early, late = np.quantile(moments, [EARLY, LATE], method="inverted_cdf").tolist()
        return start + int(early), start + ceil(late - 1e-6)


def _hands(placed: Placement, several: set[str], *, repeats: bool) -> float:
    """Tell how many of some people are at a task, of recurring care at all its times together."""
    crews = placed.segment_people or (placed.people,) * len(placed.segments)
    lasts = [piece.minutes for piece in placed.segments]
    whole = lasts[0] if repeats else sum(lasts)
    worked = sum(len(several.intersection(crew)) * one for crew, one in zip(crews, lasts, strict=True))
    return worked / whole if whole else 0.0
