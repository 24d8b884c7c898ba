"""Entries of the register whose chance and cost come out of the simulation."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

import numpy as np

from moveplan.network.reach import reached
from moveplan.risk.prepared.compile import Prepared
from moveplan.risk.prepared.windows import Flags
from moveplan.risk.register.awaited import filled, granted_min, is_taken, left_by
from moveplan.risk.register.default import table
from moveplan.risk.runs.draw import Floats
from moveplan.risk.runs.money import Purse, money
from moveplan.risk.runs.sample import Sample
from moveplan.risk.runs.simulate import EPSILON, Chunk
from moveplan.risk.summary import RegisterEntry


@dataclass(frozen=True, slots=True)
class Deadline:
    """Tasks that have to be over by some moments.

    Parameters
    ----------
    entry : RegisterEntry
        As the plan words it.
    tasks : tuple of int
        Positions.
    by_min : tuple of float
        One a task, since the start of the plan. [min]
    cost : Decimal
        What it costs if one of them is late, without measures.
    """

    entry: RegisterEntry
    tasks: tuple[int, ...]
    by_min: tuple[float, ...]
    cost: Decimal

    def late(self, chunk: Chunk, grace_min: float = 0.0) -> Flags:
        """Whether one of its tasks is late, one a run, with some minutes of grace."""
        found = np.zeros(chunk.runs, dtype=bool)
        for at, by_min in zip(self.tasks, self.by_min, strict=True):
            found |= chunk.finishes[at] > by_min + grace_min + EPSILON
        return found


@dataclass(slots=True)
class Deadlines:
    """Counts missed deadlines.

    Parameters
    ----------
    awaited : Mapping of str to RegisterEntry
        Entries that await the simulation, by id.
    """

    prepared: Prepared
    awaited: Mapping[str, RegisterEntry]
    rows: tuple[Deadline, ...] = field(init=False)
    missed: dict[str, Sample] = field(init=False)
    still_missed: dict[str, Sample] = field(init=False)

    def __post_init__(self) -> None:
        timed = ("keys-back-missed", "water-not-ready", "cycle-not-done")
        self.rows = tuple(self._row(self.awaited[risk]) for risk in timed if risk in self.awaited)
        self.missed = {row.entry.id: Sample() for row in self.rows}
        self.still_missed = {row.entry.id: Sample() for row in self.rows}

    def _row(self, entry: RegisterEntry) -> Deadline:
        positions = tuple(self.prepared.at[name] for name in entry.tasks)
        by_min = tuple(self._by_min(entry.id, at) for at in positions)
        cost = Decimal(table("policy")[table("computed")[entry.id]["cost"]]["cost"])
        return Deadline(entry, positions, by_min, cost)

    def _by_min(self, risk: str, at: int) -> float:
        if risk == "keys-back-missed":
            return self._keys_back_min()
        return self._needed(at) + float(table("policy")["slip"]["tolerance_min"])

    def _keys_back_min(self) -> float:
        dates = self.prepared.project.plan.dates
        if dates is None or dates.keys_back is None:
            message = "an entry for keys without a date"
            raise ValueError(message)
        return self.prepared.since_start(dates.keys_back)

    def _needed(self, at: int) -> float:
        """Find the planned start of the eve's decision that waits for a task; else of the moving day; else never."""
        steps, planned = self.prepared.net.steps, self.prepared.net.planned_min
        following = self._following(at)
        deciding = [planned[head] for head in following if steps[head].slips]
        return min(
            deciding or (planned[head] for head in following if steps[head].tied), default=float("inf")
        )

    def _following(self, at: int) -> set[int]:
        """Find what waits for a task, by the network's own links."""
        heads: dict[int, list[int]] = {}
        for tie in self.prepared.own:
            heads.setdefault(tie.tail, []).append(tie.head)
        return reached([at], lambda tail: heads.get(tail, ()))

    def add(self, chunk: Chunk) -> tuple[Floats, dict[str, Flags]]:
        """Count a chunk, and give what the misses cost, one a run, and which deadline is missed."""
        charges, missed = np.zeros(chunk.runs), dict[str, Flags]()
        for row in self.rows:
            taken, grace_min = is_taken(row.entry), granted_min(row.entry.id)
            late = row.late(chunk, grace_min if taken else 0.0)
            self.missed[row.entry.id].add(late)
            self.still_missed[row.entry.id].add(row.late(chunk, grace_min))
            chance, price = left_by(row.entry)
            charges += chance * price * float(row.cost) * late
            missed[row.entry.id] = late
        return charges, missed

    def entries(self) -> Iterator[RegisterEntry]:
        """Give one entry a deadline."""
        for row in self.rows:
            probability = self.missed[row.entry.id].mean()
            left = self.still_missed[row.entry.id].mean() / probability if probability else 1.0
            yield filled(row.entry, probability, row.cost, (left, 1.0))


def hire_entry(entry: RegisterEntry, purse: Purse) -> RegisterEntry:
    """Fill the entry of a hire that is too short.

    Parameters
    ----------
    entry : RegisterEntry
        As the plan words it.
    """
    probability, extra = purse.longer.mean(), purse.extra.mean()
    if not probability:
        return filled(entry, 0.0, max((hire.price for hire in purse.hires), default=0.0))
    still, still_extra = purse.still_longer.mean(), purse.still_extra.mean()
    cost_left = still_extra * probability / (still * extra) if still and extra else 1.0
    return filled(entry, probability, money(extra / probability), (still / probability, cost_left))


def animals_entry(entry: RegisterEntry, purse: Purse, any_over: Sample) -> RegisterEntry:
    """Fill the entry of animals that are in containers for too long.

    Parameters
    ----------
    entry : RegisterEntry
        As the plan words it.
    any_over : Sample
        In which of them that is so.
    """
    probability = any_over.mean()
    return filled(entry, probability, money(purse.loss.mean() / probability if probability else 0.0))


def any_of(over: Mapping[str, Flags], runs: int) -> Flags:
    """Whether any group passes its safe time, one a run."""
    found = np.zeros(runs, dtype=bool)
    for flags in over.values():
        found |= flags
    return found
