"""Entries of the register whose chance and cost come out of the simulation."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

import numpy as np

from moveplan.estimate import Provenance
from moveplan.risk.compile import Prepared
from moveplan.risk.default import CENT, responsible, struck, table
from moveplan.risk.draw import Floats
from moveplan.risk.money import Purse, money
from moveplan.risk.sample import Sample
from moveplan.risk.simulate import EPSILON, Chunk
from moveplan.risk.summary import RegisterEntry
from moveplan.risk.windows import Flags
from moveplan.risk.words import risk_words


@dataclass(frozen=True, slots=True)
class Deadline:
    """Tasks that have to be over by some moments.

    Parameters
    ----------
    risk : str
        Id of the entry. [-]
    tasks : tuple of int
        Positions. [-]
    by_min : tuple of float
        One a task, since the start of the plan. [min]
    cost : Decimal
        What it costs if one of them is late. [-]
    who : str
        Id of the person who answers it. [-]
    """

    risk: str
    tasks: tuple[int, ...]
    by_min: tuple[float, ...]
    cost: Decimal
    who: str


@dataclass(slots=True)
class Deadlines:
    """Counts missed deadlines.

    Parameters
    ----------
    prepared : Prepared
        The project. [-]
    """

    prepared: Prepared
    rows: tuple[Deadline, ...] = field(init=False)
    missed: dict[str, Sample] = field(init=False)

    def __post_init__(self) -> None:
        self.rows = tuple(self._for_others()) + tuple(self._keys_back())
        self.missed = {row.risk: Sample() for row in self.rows}

    def _for_others(self) -> Iterator[Deadline]:
        """Tasks that have to be over before the eve decides about the moving day."""
        project, schedule = self.prepared.project, self.prepared.schedule
        for risk, row in table("computed").items() if project.way else ():
            names = struck(project, row["tasks"])
            if not names:
                continue
            who = responsible(project, schedule, row["who"], names)
            positions = tuple(self.prepared.at[name] for name in names)
            by_min = tuple(self._needed(at) for at in positions)
            yield Deadline(
                risk, positions, by_min, Decimal(table("policy")[row["cost"]]["cost"]).quantize(CENT), who
            )

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
        found, todo = set[int](), [at]
        while todo:
            new = [head for head in heads.get(todo.pop(), ()) if head not in found]
            found.update(new)
            todo += new
        return found

    def _keys_back(self) -> Iterator[Deadline]:
        project, schedule = self.prepared.project, self.prepared.schedule
        names = struck(project, ("give-keys-back",))
        due = project.plan.dates.keys_back if project.plan.dates else None
        if names and due is not None:
            by_min = self.prepared.since_start(due)
            cost = Decimal(table("policy")["keys"]["cost"]).quantize(CENT)
            who = responsible(project, schedule, "keeper", names)
            yield Deadline("keys-back-missed", (self.prepared.at[names[0]],), (by_min,), cost, who)

    def add(self, chunk: Chunk) -> Floats:
        """Count a chunk, and give what the misses cost, one a run."""
        charges = np.zeros(chunk.runs)
        for row in self.rows:
            late = np.zeros(chunk.runs, dtype=bool)
            for at, by_min in zip(row.tasks, row.by_min, strict=True):
                late |= chunk.finishes[at] > by_min + EPSILON
            self.missed[row.risk].add(late)
            charges += float(row.cost) * late
        return charges

    def entries(self) -> Iterator[RegisterEntry]:
        """Give one entry a deadline."""
        tasks = self.prepared.project.network.tasks
        for row in self.rows:
            names = tuple(tasks[at].id for at in row.tasks)
            yield entry(row.risk, self.missed[row.risk].mean(), row.cost, row.who, names)


def entry(
    risk: str, probability: float, cost: Decimal, who: str, tasks: tuple[str, ...], delay_min: int = 0
) -> RegisterEntry:
    """Make an entry of what was simulated."""
    event, trigger, response = risk_words(risk)
    return RegisterEntry(
        risk,
        event,
        trigger,
        round(probability, 6),
        cost,
        delay_min,
        response,
        who,
        Provenance.COMPUTED,
        tasks,
    )


def hire_entry(prepared: Prepared, purse: Purse) -> Iterator[RegisterEntry]:
    """Give the entry of a hire that is too short; none where nothing is hired."""
    if not purse.hires:
        return
    probability = purse.longer.mean()
    cost = purse.extra.mean() / probability if probability else max(hire.price for hire in purse.hires)
    tasks = tuple(
        prepared.project.network.tasks[max(hire.tasks, key=prepared.net.order.index)].id
        for hire in purse.hires
    )
    who = responsible(prepared.project, prepared.schedule, "driver", tasks)
    yield entry("hire-window-missed", probability, money(cost), who, tasks)


def animals_entry(
    prepared: Prepared, purse: Purse, any_over: Sample, tasks: Sequence[str]
) -> Iterator[RegisterEntry]:
    """Give the entry of animals that are in containers for too long; none where none are."""
    if not tasks:
        return
    probability = any_over.mean()
    cost = purse.loss.mean() / probability if probability else 0.0
    names = tuple(dict.fromkeys(tasks))
    who = responsible(prepared.project, prepared.schedule, "carer", names)
    yield entry("safe-time-passed", probability, money(cost), who, names)


def any_of(over: Mapping[str, Flags], runs: int) -> Flags:
    """Whether any group passes its safe time, one a run."""
    found = np.zeros(runs, dtype=bool)
    for flags in over.values():
        found |= flags
    return found
