"""What is promised together, and in how many runs nothing of it breaks.

Promised are the day, each person's stated hours on it and on what has to be done before it, each hire, the keys, the
dates of the keeper's own tasks, and each group's safe time.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

import numpy as np

from moveplan.practice.attendance.whereabouts import days_of
from moveplan.quantities.policy import Policy
from moveplan.risk.prepared.calendar import crew_of
from moveplan.risk.prepared.compile import Prepared
from moveplan.risk.prepared.windows import Flags, past_hours
from moveplan.risk.promise.told import (
    after_the_days,
    before_the_days,
    begun_by,
    soonest,
    told_times,
)
from moveplan.risk.promise.values import HELD_MIN, Broken, DayEnd, LaterTask, Promise, Root, ToldTask
from moveplan.risk.register.computed import any_of
from moveplan.risk.runs.draw import Floats
from moveplan.risk.runs.sample import Sample
from moveplan.risk.runs.simulate import EPSILON, Chunk
from moveplan.times import MINUTES_A_DAY, to_local

NEARLY_ALWAYS = 0.9
"""A risk that breaks the promise in so many of its runs breaks it by itself, and one that happened in so many of the
runs in which something breaks lies behind it; assumed. [-]"""

ROOT_OFTEN = 0.5
"""A root is followed by a break in so many of its runs, and more where it breaks often anyway; all roots together lie
behind so many of the breaks. Assumed. [-]"""

ROOT_SHARE = 0.1
"""A root behind a smaller share of the runs in which something breaks is not told; assumed. [-]"""

_Key = tuple[str, str]


@dataclass(slots=True)
class Promises:
    """Counts in how many runs each thing promised breaks, and in how many nothing does."""

    prepared: Prepared
    kept: Sample = field(default_factory=Sample)
    _broken: dict[_Key, int] = field(default_factory=dict)
    _behind: dict[_Key, Floats] = field(default_factory=dict)
    _overruns: Counter[_Key] = field(default_factory=Counter)
    _starts: list[Floats] = field(default_factory=list)
    _finishes: list[Floats] = field(default_factory=list)
    _after: tuple[tuple[str, int], ...] = ()
    _later: tuple[LaterTask, ...] = ()
    _rows: list[int] = field(init=False)
    _tied: int = field(init=False)
    _long: Counter[str] = field(default_factory=Counter)
    _ends: dict[str, list[tuple[int, int]]] = field(init=False)
    _roots: list[_Key] = field(init=False)
    _dates: tuple[tuple[str, int, float], ...] = field(init=False)
    _struck: Floats = field(init=False)
    _runs: int = 0

    def __post_init__(self) -> None:
        tied = [at for at, step in enumerate(self.prepared.net.steps) if step.tied]
        self._ends = _first_and_last(self.prepared)
        self._roots = [("day", day.day.isoformat()) for day in self.prepared.days]
        self._roots += [("risk", entry.id) for entry in self.prepared.register]
        self._struck = np.zeros((2, len(self._roots)))
        self._dates = self.prepared.dates()
        self._rows, self._tied = [*tied, *before_the_days(self.prepared)], len(tied)

    def add(
        self, chunk: Chunk, over: Mapping[str, Flags], longer: Mapping[str, Flags], late: Mapping[str, Flags]
    ) -> Flags:
        """Count a chunk, and tell in which of its runs nothing breaks.

        Parameters
        ----------
        over, longer, late : Mapping of str to array
            Animals past their safe time, vehicles past their hire, deadlines missed, one flag a run.
        """
        good = np.ones(chunk.runs, dtype=bool)
        roots = np.concatenate([chunk.slips, chunk.happened])
        for key, flags in self._breaks(chunk, over, longer, late):
            good &= ~flags
            self._broken[key] = self._broken.get(key, 0) + int(np.count_nonzero(flags))
            self._behind[key] = self._behind.get(key, 0.0) + roots[:, flags].sum(axis=1)
        for person, flags in self._longer_than_a_day(chunk).items():
            self._long[person] += int(np.count_nonzero(flags))
        self.kept.add(good)
        self._struck += roots.sum(axis=1), roots[:, ~good].sum(axis=1)
        self._starts.append(chunk.starts[self._rows])
        if not self._finishes:
            self._finishes.append(chunk.finishes[self._rows[: self._tied]])
            self._after, self._later = tuple(self._soonest(chunk)), tuple(self._begun(chunk))
        self._runs += chunk.runs
        return good

    def _breaks(
        self, chunk: Chunk, over: Mapping[str, Flags], longer: Mapping[str, Flags], late: Mapping[str, Flags]
    ) -> Iterator[tuple[_Key, Flags]]:
        for day, flags in zip(self.prepared.days, chunk.slips, strict=True):
            yield ("day", day.day.isoformat()), flags
        for person, flags in self._hours(chunk).items():
            yield ("hours", person), flags
        for vehicle, flags in longer.items():
            yield ("hire", vehicle), flags
        if KEYS in late:
            yield ("keys", "keys-back"), late[KEYS]
        for task, at, by_min in self._dates:
            yield ("date", task), chunk.finishes[at] > by_min + EPSILON
        for group, flags in over.items():
            yield ("safe-time", group), flags
        if over:
            yield ANIMALS, any_of(over, chunk.runs)

    def _longer_than_a_day(self, chunk: Chunk) -> dict[str, Flags]:
        """Whose longest day is passed, from the first task of a moving day to the last, if that is within a day."""
        most_min = 60 * Policy(self.prepared.project.plan.policy)["longest_day"]
        found = dict[str, Flags]()
        for person, ends in self._ends.items():
            spans = np.array([chunk.finishes[last] - chunk.starts[first] for first, last in ends])
            long = (spans > most_min + EPSILON) & (spans < MINUTES_A_DAY)
            found[person] = np.asarray(long.any(axis=0), dtype=bool)
        return found

    def _hours(self, chunk: Chunk) -> dict[str, Flags]:
        """Whose stated hours do not last for what they do."""
        found: dict[str, Flags] = {}
        for at, flags in chunk.overtime.items():
            rows = np.flatnonzero(flags)
            if not rows.size:
                continue
            start, finish = chunk.starts[at, rows], self._placed_until(chunk, at)[rows]
            for person in crew_of(self.prepared.schedule.placements[at]):
                past = past_hours(self.prepared.calendar.alone(person), start, finish)
                self._overruns[person, self._id(at)] += int(np.count_nonzero(past))
                found.setdefault(person, np.zeros(chunk.runs, dtype=bool))[rows] |= past
        return found

    def _placed_until(self, chunk: Chunk, at: int) -> Floats:
        """Until when a task lasts, before what holds it up and the further times of recurring care. [min]."""
        later = chunk.longer.get(at, 0.0) + self.prepared.net.steps[at].tail_min
        return np.asarray(chunk.finishes[at] - later - EPSILON, dtype=np.float64)

    def told(
        self, milestones: Mapping[str, Sample], ends: Mapping[tuple[date, str], Sample] | None = None
    ) -> Promise:
        """Tell what was counted.

        Parameters
        ----------
        milestones, ends : Mapping to Sample
            When each is reached, and when each moving day ends for whom, since the start of the plan. [min]
        """
        project = self.prepared.project
        start, confidence = project.scheduling.start, project.plan.confidence
        named = [(name, milestones[name]) for name, _ in project.network.milestones]
        broken = {key: self._broken_as(key) for key, count in self._broken.items() if count or key == ANIMALS}
        animals = broken.pop(ANIMALS, None)
        return Promise(
            confidence,
            round(self.kept.mean(), 6),
            round(self.kept.error_of_mean(), 6),
            tuple(sorted(broken.values(), key=lambda one: (-one.chance, one.what, one.id))),
            tuple((name, start + sample.reached(confidence)) for name, sample in named),
            tuple((name, start + sample.reached(0.5)) for name, sample in named),
            tuple(self._start_chances()),
            tuple(self._told()),
            tuple(self._barred(1.0 - confidence)),
            tuple(key for key, count in self._overruns.most_common() if count),
            tuple(
                DayEnd(*key, *(start + one.reached(share) for share in (0.5, confidence)))
                for key, one in (ends or {}).items()
            ),
            tuple((who, round(count / self._runs, 6)) for who, count in self._long.most_common() if count),
            animals,
            self._after,
            self._later,
            _together([sample for _, sample in named], confidence),
        )

    def _broken_as(self, key: _Key) -> Broken:
        return Broken(*key, round(self._broken[key] / self._runs, 6), tuple(self._roots_of(key)))

    def _roots_of(self, key: _Key) -> Iterator[Root]:
        """Give the slipped days and risks behind a break, the most often first, until half of it is explained."""
        shares = self._behind[key] / max(self._broken[key], 1)
        often = self._behind[key] >= ROOT_OFTEN * (1 + self._broken[key] / self._runs) * self._struck[0]
        always = shares >= np.maximum(NEARLY_ALWAYS, ROOT_OFTEN * (1 + self._struck[0] / self._runs))
        known = (often | always) & (shares >= ROOT_SHARE)
        known[self._days_before(key) : len(self.prepared.days)] = False
        told = 0.0
        for at in np.argsort(-shares, kind="stable"):
            what, name = self._roots[at]
            if known[at] and shares[known].sum() >= ROOT_OFTEN > told:
                told += shares[at]
                yield Root(what, name, round(float(shares[at]), 6))

    def _days_before(self, key: _Key) -> int:
        """Count the moving days that may be behind a break: of those after it, or after what it missed, none is."""
        if key in self._roots:
            return self._roots.index(key)
        plan = self.prepared.project.plan
        due = {("hire", one.id): one.hire_until for one in plan.vehicles}
        due["keys", "keys-back"] = plan.dates.keys_back if plan.dates else None
        due |= {("date", task.id): task.finish_by for task in plan.tasks}
        until = due.get(key)
        last = date.max if until is None else to_local(until, plan.zone).date()
        return sum(one.day <= last for one in self.prepared.days)

    def _barred(self, most: float) -> Iterator[tuple[str, float]]:
        """Give the risks that break the promise nearly whenever they happen, and more often than it may break."""
        for (what, name), happened, broken in zip(self._roots, *self._struck, strict=True):
            if what == "risk" and broken > most * self._runs and broken >= NEARLY_ALWAYS * happened:
                yield name, round(float(broken) / self._runs, 6)

    def _start_chances(self) -> Iterator[tuple[str, float]]:
        """In how many runs each task of the moving days begins by its planned start."""
        starts = np.concatenate(self._starts, axis=1)
        for at, row in zip(self._rows[: self._tied], starts, strict=False):
            yield self._id(at), self._reached(at, row, self.prepared.net.planned_min[at])

    def _told(self) -> Iterator[ToldTask]:
        """Give what people could be told, from the first runs, with its chance in all of them."""
        starts, first = np.concatenate(self._starts, axis=1), self.prepared.project.scheduling.start
        first_runs = self._starts[0][: self._tied]
        told = told_times(self.prepared, first_runs, self._finishes[0]) if self._tied else {}
        for at, row in zip(self._rows, starts, strict=True):
            if at not in told:
                continue
            begin, end = told[at]
            yield ToldTask(self._id(at), first + begin, first + end, self._reached(at, row, begin))

    def _soonest(self, chunk: Chunk) -> Iterator[tuple[str, int]]:
        """When half of the runs begin what follows the moving days, where fewer begin it as planned, UTC. [min]."""
        rows, first = after_the_days(self.prepared), self.prepared.project.scheduling.start
        for at, late in soonest(self.prepared, rows, chunk.starts[rows]):
            yield self._id(at), first + late

    def _begun(self, chunk: Chunk) -> Iterator[LaterTask]:
        """By when each hundredth of the first runs begins what follows the moving days, UTC."""
        rows, first = after_the_days(self.prepared), self.prepared.project.scheduling.start
        for at, moments in zip(rows, begun_by(chunk.starts[rows]), strict=True):
            floor = self.prepared.net.steps[at].floor_min
            yield LaterTask(self._id(at), tuple(first + one for one in moments), first + floor)

    def _id(self, at: int) -> str:
        return self.prepared.project.network.tasks[at].id

    def _reached(self, at: int, starts: Floats, by_min: float) -> float:
        held = HELD_MIN if self.prepared.net.steps[at].floor_min >= by_min else 0.0
        return round(float(np.mean(starts <= by_min + held + EPSILON)), 6)


def _together(dates: list[Sample], confidence: float) -> float | None:
    """In which share of the runs each of several dates is kept that is promised alone; None: of fewer than two."""
    if len(dates) < 2:
        return None
    kept = [sample.values() <= sample.reached(confidence) + EPSILON for sample in dates]
    return round(float(np.mean(np.logical_and.reduce(kept))), 6)


def _first_and_last(prepared: Prepared) -> dict[str, list[tuple[int, int]]]:
    """Find the first and the last task of everybody on each moving day, by position; recurring care is none."""
    moving, found = {day.day.isoformat() for day in prepared.days}, dict[str, list[tuple[int, int]]]()
    for (person, day), pieces in days_of(prepared.project, prepared.schedule, whole=True).items():
        own = [piece for piece in pieces if piece.once]
        if own and day in moving:
            last = max(own, key=lambda piece: piece.until)
            found.setdefault(person, []).append((prepared.at[own[0].task.id], prepared.at[last.task.id]))
    return found


ANIMALS = ("animals", "any")
"""That any group of animals passes its safe time, beside each group for itself."""

KEYS = "keys-back-missed"
"""Id of the entry of the register for the keys. [-]"""
