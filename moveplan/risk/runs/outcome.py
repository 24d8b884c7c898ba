"""Runs of a prepared project, read chunk by chunk into what is told of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

import numpy as np

from moveplan.network.link import Link
from moveplan.practice.attendance.whereabouts import work_of
from moveplan.practice.project import SETTLED
from moveplan.risk.prepared.compile import Prepared
from moveplan.risk.prepared.stays import stays_of
from moveplan.risk.prepared.windows import Flags
from moveplan.risk.promise.start_by import StartDates
from moveplan.risk.promise.together import Promises
from moveplan.risk.promise.values import EVERYBODY
from moveplan.risk.register.awaited import awaited
from moveplan.risk.register.computed import Deadlines, animals_entry, any_of, hire_entry
from moveplan.risk.runs.causes import lost_by
from moveplan.risk.runs.draw import Floats
from moveplan.risk.runs.livestock import Containers
from moveplan.risk.runs.money import Purse
from moveplan.risk.runs.sample import Sample, errors
from moveplan.risk.runs.simulate import EPSILON, Chunk, Simulation, critical
from moveplan.risk.summary import FinishBy, RegisterEntry
from moveplan.times import local_day

LEADS_RUNS = 10_000
"""Start-by dates are reckoned on so many runs at most. [-]"""


@dataclass(slots=True)
class Outcome:
    """What is told of the runs."""

    prepared: Prepared
    milestones: dict[str, Sample] = field(default_factory=dict)
    ends: dict[tuple[date, str], Sample] = field(default_factory=dict)
    slipped: Sample = field(default_factory=Sample)
    overtime: Sample = field(default_factory=Sample)
    any_over: Sample = field(default_factory=Sample)
    over: dict[str, Sample] = field(default_factory=dict)
    dated: dict[str, Sample] = field(default_factory=dict)
    broken: dict[int, int] = field(default_factory=dict)
    runs: int = 0
    purse: Purse = field(init=False)
    deadlines: Deadlines = field(init=False)
    leads: StartDates = field(init=False)
    promises: Promises = field(init=False)
    awaited: dict[str, RegisterEntry] = field(init=False)
    containers: Containers = field(init=False)
    _ending: dict[tuple[date, str], list[int]] = field(init=False)
    critical_runs: Floats = field(init=False)
    missed_runs: Floats = field(init=False)
    _sums: Floats = field(init=False)
    _target_sum: float = 0.0
    _kept: float = 0.0

    def __post_init__(self) -> None:
        prepared = self.prepared
        project = prepared.project
        self.awaited = {entry.id: entry for entry in awaited(project, prepared.schedule)}
        self.purse, self.deadlines = Purse(prepared, self.awaited), Deadlines(prepared, self.awaited)
        self.leads = StartDates(prepared)
        self.promises = Promises(prepared)
        self.containers = Containers(
            stays_of(project), prepared.at, project.plan.low_high, prepared.net.mishaps
        )
        size = len(prepared.net.steps)
        self.critical_runs, self.missed_runs, self._sums = np.zeros(size), np.zeros(size), np.zeros((3, size))
        names = [name for name, _ in project.network.milestones]
        self.milestones = {name: Sample() for name in (*names, "finish")}
        self._ending = _endings(prepared)
        self.over = {group: Sample() for group in self.containers.groups}

    @property
    def target(self) -> int | None:
        """Position of the task whose finish counts: the last milestone; None: the last finish."""
        milestones = dict(self.prepared.project.network.milestones)
        return self.prepared.at[milestones["settled"]] if "settled" in milestones else None

    def run(self, runs: int, seed: int) -> None:
        """Run and read."""
        for chunk in self._chunks(runs, seed):
            self.keeps(chunk)
            self._read(chunk)

    def glance(self, runs: int, seed: int) -> None:
        """Run, and read what is promised and nothing else."""
        for chunk in self._chunks(runs, seed):
            self.keeps(chunk)
            self._read_milestones(chunk)

    def _chunks(self, runs: int, seed: int) -> Iterator[Chunk]:
        prepared, spare = self.prepared, len(self.containers.groups)
        return Simulation(prepared.net, prepared.tables, prepared.loading, seed, spare).chunks(runs)

    def keeps(self, chunk: Chunk) -> Flags:
        """Read what is promised, and tell in which runs nothing of it breaks.

        Parameters
        ----------
        chunk : Chunk
            Runs of this project.
        """
        shares = self.containers.shares(chunk)
        over = {group: share > 1.0 for group, share in shares.items()}
        for group, flags in over.items():
            self.over[group].add(flags)
        self.any_over.add(any_of(over, chunk.runs))
        charges, late = self.deadlines.add(chunk)
        return self.promises.add(chunk, over, self.purse.add(chunk, shares, charges), late)

    def _read(self, chunk: Chunk) -> None:
        self.slipped.add(chunk.slipped)
        self.overtime.add(chunk.any_overtime)
        if self.prepared.days and self.runs < LEADS_RUNS:
            self.leads.add(chunk)
        self._read_dates(chunk)
        self._read_gaps(chunk)
        self._read_ends(chunk)
        for task, at, _ in self.prepared.dates():
            self.dated.setdefault(task, Sample()).add(chunk.finishes[at])
        self.critical_runs += critical(self.prepared.net, chunk, self.target).sum(axis=1)
        self.missed_runs += lost_by(self.prepared.net, chunk)
        self.runs += chunk.runs

    def _read_dates(self, chunk: Chunk) -> None:
        last = chunk.finishes.max(axis=0)
        self.milestones["finish"].add(last)
        self._read_milestones(chunk)
        target = last if self.target is None else chunk.finishes[self.target]
        middle = self._middle()
        kept = (~chunk.slipped).astype(float)
        away = (chunk.durations - middle[:, None]) * kept
        beyond = (target - self._target_middle()) * kept
        self._sums[0] += away.sum(axis=1)
        self._sums[1] += np.einsum("ij,ij->i", away, away)
        self._sums[2] += np.einsum("ij,j->i", away, beyond)
        self._target_sum += float(beyond.sum())
        self._kept += float(kept.sum())

    def _read_milestones(self, chunk: Chunk) -> None:
        for name, task in self.prepared.project.network.milestones:
            self.milestones[name].add(self._reached(chunk, name, task))

    def _reached(self, chunk: Chunk, name: str, task: str) -> Floats:
        """When a milestone is reached; animals that wait elsewhere are not settled before they are home."""
        also = self.prepared.project.homecomings if name == SETTLED else ()
        rows = [self.prepared.at[one] for one in (task, *also)]
        found: Floats = chunk.finishes[rows].max(axis=0)
        return found

    def _read_ends(self, chunk: Chunk) -> None:
        """Read when a moving day ends; what does not belong to it counts where it is not put off until the next."""
        steps, zone = self.prepared.net.steps, self.prepared.project.plan.zone
        for (day, who), rows in self._ending.items():
            midnight = self.prepared.since_start(local_day(day, zone).finish)
            found, tied = chunk.finishes[rows], np.array([[steps[at].tied] for at in rows])
            last = np.where(tied | (found <= midnight), found, 0.0).max(axis=0)
            self.ends.setdefault((day, who), Sample()).add(last)

    def _middle(self) -> Floats:
        return self.prepared.tables[:, self.prepared.tables.shape[1] // 2]

    def _target_middle(self) -> float:
        placements = self.prepared.schedule.placements
        last = (
            max(one.finish for one in placements) if self.target is None else placements[self.target].finish
        )
        return self.prepared.since_start(last)

    def _read_gaps(self, chunk: Chunk) -> None:
        for number, link in enumerate(self.prepared.project.network.links):
            if link.max_gap_min is not None:
                broken = self._gap(chunk, link) > link.max_gap_min + EPSILON
                self.broken[number] = self.broken.get(number, 0) + int(np.count_nonzero(broken))

    def _gap(self, chunk: Chunk, link: Link) -> Floats:
        before, after = self.prepared.at[link.before], self.prepared.at[link.after]
        begin = chunk.finishes[before] if link.relation.from_finish else chunk.starts[before]
        end = chunk.finishes[after] if link.relation.to_finish else chunk.starts[after]
        return np.asarray(end - begin, dtype=np.float64)

    def spread(self) -> tuple[tuple[str, float], ...]:
        """By how much the date moves when a duration moves by one standard deviation, greatest first. [min].

        Runs in which the moving day slips are left out: they would drown the rest.
        """
        if not self._kept:
            return ()
        mean, square, cross = self._sums / self._kept
        deviation = np.sqrt(np.maximum(square - mean**2, 0.0))
        together = cross - mean * self._target_sum / self._kept
        moves = np.divide(together, deviation, out=np.zeros_like(together), where=deviation > EPSILON)
        tasks = self.prepared.project.network.tasks
        found = [(task.id, round(float(one), 2)) for task, one in zip(tasks, moves, strict=True)]
        return tuple(sorted((row for row in found if row[1] > 0), key=lambda row: (-row[1], row[0])))

    def finish_by(self) -> tuple[FinishBy, ...]:
        """Own tasks that are to be finished by a date, and how often they are, the least sure first."""
        start, confidence = self.prepared.project.scheduling.start, self.prepared.project.plan.confidence
        found = (
            FinishBy(
                task,
                start + round(by_min),
                start + self.dated[task].reached(0.5),
                start + self.dated[task].reached(confidence),
                round(float(np.mean(self.dated[task].values() <= by_min + EPSILON)), 6),
            )
            for task, _, by_min in self.prepared.dates()
        )
        return tuple(sorted(found, key=lambda one: (one.chance, one.task)))

    def criticality(self) -> tuple[tuple[str, float], ...]:
        """Share of runs in which each task drives the end, the greatest first."""
        return self._by_share(self.critical_runs)

    def missed_by(self) -> tuple[tuple[str, float], ...]:
        """Share of runs in which each task is what a moving day is missed for, the greatest first."""
        return tuple(row for row in self._by_share(self.missed_runs) if row[1])

    def _by_share(self, runs: Floats) -> tuple[tuple[str, float], ...]:
        tasks, shares = self.prepared.project.network.tasks, runs / self.runs
        found = [(task.id, round(float(share), 4)) for task, share in zip(tasks, shares, strict=True)]
        return tuple(sorted(found, key=lambda row: -row[1]))

    def broken_gaps(self) -> tuple[tuple[str, str, float], ...]:
        """Share of runs that break each greatest gap, in the network's order."""
        links = self.prepared.project.network.links
        return tuple(
            (links[number].before, links[number].after, round(count / self.runs, 4))
            for number, count in sorted(self.broken.items())
        )

    def errors(self) -> Iterator[tuple[str, float]]:
        """Give the standard errors of what is told, by name."""
        for name, sample in self.milestones.items():
            yield from errors(name, sample)
        shares = {"over-limit": self.any_over, "day-missed": self.slipped, "overtime": self.overtime}
        shares |= {f"over-limit.{group}": sample for group, sample in self.over.items()}
        shares |= self.deadlines.missed | {"second-hire": self.purse.longer}
        for name, sample in shares.items():
            yield name, round(sample.error_of_mean(), 6)
        yield "cost.mean", round(self.purse.cost.error_of_mean(), 2)
        yield "cost.p80", round(self.purse.cost.error_of_quantile(0.8), 2)
        if self.prepared.days:
            yield from self.leads.errors()

    def entries(self) -> Iterator[RegisterEntry]:
        """Give the entries of the register that come out of the runs, but for those that the plan strikes."""
        out = {change.id for change in self.prepared.project.plan.risks if change.strike}
        return (entry for entry in self._entries() if entry.id not in out)

    def _entries(self) -> Iterator[RegisterEntry]:
        if "safe-time-passed" in self.awaited:
            yield animals_entry(self.awaited["safe-time-passed"], self.purse, self.any_over)
        if "hire-window-missed" in self.awaited:
            yield hire_entry(self.awaited["hire-window-missed"], self.purse)
        yield from self.deadlines.entries()


def _endings(prepared: Prepared) -> dict[tuple[date, str], list[int]]:
    """Rows of the tasks that end each moving day: for its animals, out of containers, for each person, for all."""
    moving = {one.day.isoformat(): one.day for one in prepared.days}
    rows: dict[tuple[date, str], list[int]] = {(one.day, ""): [] for one in prepared.days}
    for stay in stays_of(prepared.project):
        at = prepared.at[stay.until.task]
        if prepared.net.steps[at].tied:
            rows[prepared.days[prepared.net.steps[at].day].day, ""].append(at)
    for (person, on), pieces in work_of(prepared.project, prepared.schedule).items():
        own = [prepared.at[piece.task.id] for piece in pieces if piece.once]
        if on in moving and own:
            rows[moving[on], person] = own
    for day, who in list(rows):
        rows.setdefault((day, EVERYBODY), []).extend(rows[day, who])
    steps = prepared.net.steps
    return {key: found for key, found in rows.items() if any(steps[at].tied for at in found)}
