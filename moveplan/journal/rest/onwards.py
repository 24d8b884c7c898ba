"""How the rest may go: some hundred runs of an accepted schedule from what is done on, without numpy.

The same rules as the simulation of a plan, from the model that it wrote down: the order on people and vehicles is
kept, hours are, a hold point may say no, mishaps happen. What is done is where it was, what runs goes on for longer
than it has, nothing begins before now, and work of the day takes as much longer as what was done of it did.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from moveplan.journal.now.standing import Standing
from moveplan.journal.rest.ahead import DAYS_MIN, Ahead
from moveplan.journal.rest.luck import Column, Luck
from moveplan.journal.rest.stretches import Hours, latest
from moveplan.network.reach import reached
from moveplan.network.task import Kind

ATTEMPTS = 4
"""A hold point that has said no three times is met the fourth time. [-]"""
ROUNDS = 4
"""How often the network is worked through at most, where ties run against the order. [-]"""
Model = Mapping[str, Any]


@dataclass(slots=True)
class Onwards:
    """Runs of the rest of a schedule.

    Parameters
    ----------
    model : Mapping
        What was simulated when it was accepted.
    found, rest : Standing, Ahead
        How its tasks stand, and when they are expected.
    held : Mapping of str to int
        Tasks that a failure holds up, each with the moment before which it does not begin, UTC. [min]
    start : int
        Of the plan, UTC. [min]
    luck : Luck
        Draws.
    slower : Mapping of str to float
        Tasks whose crew is another than planned, each with how much longer they take with it. [-]
    """

    model: Model
    found: Standing
    rest: Ahead
    held: Mapping[str, int]
    start: int
    luck: Luck
    slower: Mapping[str, float] = field(default_factory=dict)
    starts: dict[int, Column] = field(default_factory=dict)
    finishes: dict[int, Column] = field(default_factory=dict)
    longer: dict[int, Column] = field(default_factory=dict)
    happened: list[set[int]] = field(default_factory=list)
    slipped: list[set[int]] = field(default_factory=list)
    past_hours: dict[int, set[int]] = field(default_factory=dict)
    _hours: dict[int, Hours] = field(default_factory=dict)
    _lasts: dict[int, Column] = field(default_factory=dict)
    _luck_of: dict[int, Column] = field(default_factory=dict)
    _passed: set[int] = field(default_factory=set)
    _into: list[list[tuple[int, float, bool, bool, bool]]] = field(default_factory=list)

    @property
    def tasks(self) -> list[Model]:
        """Rows of the model, one a task."""
        rows: list[Model] = self.model["tasks"]
        return rows

    def is_open(self, at: int) -> bool:
        """Whether a task is still to be done; recurring care that has begun stays where it is planned."""
        name = self.tasks[at]["id"]
        task = self.found.tasks.get(name)
        if task is None or (task.times > 1 and name in self.found.begun):
            return False
        return self.found.is_open(name)

    def run(self, wanted: Iterable[int]) -> None:
        """Work through all that some tasks need.

        Parameters
        ----------
        wanted : iterable of int
            Positions of tasks whose times are asked for.
        """
        self._into = [[] for _ in self.tasks]
        for text in self.model["waits"]:
            tail, head, gap, from_finish, to_finish, freed = text.split()
            self._into[int(head)].append(
                (int(tail), float(gap), from_finish == "1", to_finish == "1", freed == "1")
            )
        for tail, head in self._taken_over():
            self._into[head].append((tail, 0.0, True, False, True))
        needed = self._needed(wanted)
        order = [at for at in self.model["order"] if at in needed]
        self._draw(order)
        for _ in range(ROUNDS):
            before = {at: self.starts.get(at) for at in order}
            self._once(order)
            if not self._against(order) or before == {at: self.starts.get(at) for at in order}:
                break

    def _taken_over(self) -> Iterator[tuple[int, int]]:
        """Let who does a task in place of others do one thing after the other, in the order of the plan."""
        last: dict[str, int] = {}
        for at in self.model["order"] if self.slower else ():
            name = self.tasks[at]["id"]
            if not self.is_open(at) or self.found.tasks[name].times > 1:
                continue
            for person in self.found.tasks[name].people:
                before = last.get(person)
                if before is not None and not self.slower.keys().isdisjoint((self.tasks[before]["id"], name)):
                    yield before, at
                last[person] = at

    def crew(self, at: int) -> Iterable[str]:
        """Name who does a task, whoever was to do it."""
        name = self.tasks[at]["id"]
        found: Iterable[str] = (
            self.found.tasks[name].people if name in self.slower else self.tasks[at]["crew"]
        )
        return found

    def _needed(self, wanted: Iterable[int]) -> set[int]:
        """Gather what is wanted, and of what is open all that it waits for."""
        needed = [*wanted, *self._before_days()]
        before = reached(needed, lambda at: [tie[0] for tie in self._into[at]] if self.is_open(at) else ())
        return before.union(needed)

    def _before_days(self) -> list[int]:
        """Tasks of moving days that wait for the preparation: by them it is seen whether a day slips."""
        return [
            head
            for head, ties in enumerate(self._into)
            if self.tasks[head]["day"] >= 0
            and any(self.tasks[tie[0]]["day"] != self.tasks[head]["day"] for tie in ties)
        ]

    def _against(self, order: list[int]) -> bool:
        place = {at: number for number, at in enumerate(order)}
        return any(
            tie[0] in place and place[tie[0]] > place[at] and self.is_open(at)
            for at in order
            for tie in self._into[at]
        )

    def _draw(self, order: list[int]) -> None:
        for at in sorted(order):
            task = self.tasks[at]
            if self.is_open(at):
                self._lasts[at] = self._duration(task)
                if task.get("fails"):
                    self._luck_of[at] = self.luck.chances()
        for mishap in self.model["mishaps"]:
            at = mishap["task"]
            off = at is None or not self.is_open(at) or self.tasks[at]["id"] in self.found.begun
            chance = 0.0 if off else mishap["probability"]
            self.happened.append({run for run, one in enumerate(self.luck.chances()) if one < chance})
        self.slipped = [set() for _ in self.model["days"]]

    def _duration(self, task: Model) -> Column:
        shares = tuple(map(float, task.get("causes", "").split()))
        drawn = self.luck.durations(task["low"], task["likely"], task["high"], shares)
        planned = self.found.tasks[task["id"]]
        if planned.kind is Kind.WORK and abs(planned.start - self.found.now) <= DAYS_MIN:
            factor = self.rest.pace * self.slower.get(task["id"], 1.0)
            drawn = [factor * one for one in drawn]
        begun = self.found.begun.get(task["id"])
        return drawn if begun is None else self.luck.longer_than(float(self.found.now - begun), drawn)

    def _once(self, order: list[int]) -> None:
        decided = -1
        self._passed.clear()
        for at in order:
            if self.tasks[at]["day"] > decided:
                decided = self.tasks[at]["day"]
                self.slipped[decided] = set() if self._has_begun(decided) else self._slips(decided)
            if not self.is_open(at):
                self._as_it_was(at)
            elif self.tasks[at]["id"] in self.found.begun:
                self._go_on(at)
            else:
                self._carry_out(at)
            self._passed.add(at)

    def _has_begun(self, day: int) -> bool:
        """Whether anything of a moving day has begun, before it was planned again as well."""
        planned = self.found.tasks
        tags = {planned[one["id"]].day for one in self.tasks if one["day"] == day and one["id"] in planned}
        return any(
            name in self.found.begun for name, task in planned.items() if task.day and task.day in tags
        )

    def _since_start(self, moment: int) -> float:
        return float(moment - self.start)

    def _as_it_was(self, at: int) -> None:
        """Put what is done, or dropped, where it was; care that recurs where it is planned."""
        name = self.tasks[at]["id"]
        span = self.rest.spans.get(name)
        begin = 0.0 if span is None else self._since_start(span.start)
        end = 0.0 if span is None else self._since_start(span.finish)
        if name not in self.found.ended and (
            name not in self.found.tasks or self.found.tasks[name].times == 1
        ):
            begin, end = (min(one, self._since_start(self.found.now)) for one in (begin, end))
        self.starts[at], self.finishes[at] = [begin] * self.luck.runs, [end] * self.luck.runs

    def _go_on(self, at: int) -> None:
        name = self.tasks[at]["id"]
        begun, now = self.found.begun[name], self.found.now
        self.starts[at] = [self._since_start(begun)] * self.luck.runs
        lasts, since = self._lasts[at], begun
        # Planned again while it is held, its minutes are those of the halt as well.
        if self.held.get(name, 0) > now:
            since, most = self.held[name], float(self.found.tasks[name].high)
            lasts = [min(one, most) for one in lasts]
        self.finishes[at] = [self._since_start(since) + one for one in lasts]
        self._count_past_hours(at)

    def _carry_out(self, at: int) -> None:
        task, lasts = self.tasks[at], self._lasts[at]
        ready = self._ready(at, task)
        if task["hours"] is None:
            self.starts[at], self.finishes[at] = ready, [a + b for a, b in zip(ready, lasts, strict=True)]
        else:
            self.starts[at], self.finishes[at] = self._placed(task, ready, lasts)
        self._count_past_hours(at)
        later = self._later(at, task)
        if later is not None:
            self.longer[at] = later
            self.finishes[at] = [a + b for a, b in zip(self.finishes[at], later, strict=True)]
        if task.get("tail_minutes"):
            self.finishes[at] = [one + task["tail_minutes"] for one in self.finishes[at]]

    def _ready(self, at: int, task: Model) -> Column:
        name = task["id"]
        floor = max(
            task.get("earliest", 0.0),
            self._since_start(max(self.found.now, self.held.get(name, self.found.now))),
        )
        ready = [floor] * self.luck.runs
        if task.get("moves_with_day"):
            slip_min = self.model["days"][task["day"]]["slip_minutes"]
            for run in self.slipped[task["day"]]:
                ready[run] = max(floor, task.get("earliest", 0.0) + slip_min)
        columns = [self._reach(at, tie) for tie in self._into[at] if tie[0] in self.finishes]
        return latest(ready, columns)

    def _reach(self, head: int, tie: tuple[int, float, bool, bool, bool]) -> Column:
        tail, gap_min, from_finish, to_finish, freed = tie
        column = (self.finishes if from_finish else self.starts)[tail]
        if freed and tail in self.longer:
            column = [a - b for a, b in zip(column, self.longer[tail], strict=True)]
        if gap_min:
            column = [one + gap_min for one in column]
        return [a - b for a, b in zip(column, self._lasts[head], strict=True)] if to_finish else column

    def hours(self, number: int) -> Hours:
        """Give the stretches of one row of the model."""
        if number not in self._hours:
            self._hours[number] = Hours.read(self.model["hours"][number])
        return self._hours[number]

    def _placed(self, task: Model, ready: Column, lasts: Column) -> tuple[Column, Column]:
        hours, pauses = self.hours(task["hours"]), bool(task.get("pauses"))
        opened, begin, end, _ = hours.around(sorted(ready)[self.luck.runs // 2])
        starts = [max(one, begin) for one in ready] if min(ready) < begin else list(ready)
        finishes = [a + b for a, b in zip(starts, lasts, strict=True)]
        if min(ready) < opened or max(finishes) > end:  # as a rule nearly all runs are in the same stretch
            for run, one in enumerate(ready):
                if one < opened or finishes[run] > end:
                    starts[run], finishes[run] = hours.placed(one, lasts[run], pauses=pauses)
        return starts, finishes

    def _count_past_hours(self, at: int) -> None:
        task = self.tasks[at]
        if not task.get("runs_over") or task["hours"] is None:
            return
        hours, starts, finishes = self.hours(task["hours"]), self.starts[at], self.finishes[at]
        opened, _, _, stated = hours.around(sorted(starts)[self.luck.runs // 2])
        self.past_hours[at] = {
            run
            for run, (start, finish) in enumerate(zip(starts, finishes, strict=True))
            if (finish > stated or start < opened) and hours.past(start, finish)
        }

    def _later(self, at: int, task: Model) -> Column | None:
        """By how much a hold point that says no, or a mishap, makes a task later; None: never."""
        struck = [
            (mishap["delay_minutes"], runs)
            for mishap, runs in zip(self.model["mishaps"], self.happened, strict=True)
            if mishap["task"] == at and mishap["delay_minutes"] and runs
        ]
        asked = at in self._luck_of and not task.get("slips_day")
        if not struck and not asked:
            return None
        runs_of = range(self.luck.runs)
        later = [self._asked_again(at, task, run) for run in runs_of] if asked else [0.0] * self.luck.runs
        for delay_min, runs in struck:
            for run in runs:
                later[run] += delay_min
        return later

    def _asked_again(self, at: int, task: Model, run: int) -> float:
        """By how much a hold point is met later than when it is asked first."""
        first = finish = self.finishes[at][run]
        lasts = self._lasts[at][run]
        for attempt in range(1, ATTEMPTS):
            if self._luck_of[at][run] >= task["fails"] ** attempt:
                break
            finish += task.get("again_after_minutes", 0.0)
            finish = self._put(task, finish, lasts)
        return finish - first

    def _put(self, task: Model, ready: float, lasts: float) -> float:
        if task["hours"] is None:
            return ready + lasts
        return self.hours(task["hours"]).placed(ready, lasts, pauses=bool(task.get("pauses")))[1]

    def _slips(self, day: int) -> set[int]:
        """In which runs a moving day slips: its tasks would wait too long for the preparation, or the eve says no."""
        found: set[int] = set()
        tolerance_min = self.model["days"][day]["tolerance_minutes"]
        for head, ties in enumerate(self._into):
            if self.tasks[head]["day"] != day or not self.is_open(head):
                continue
            planned = self.tasks[head].get("planned", 0.0)
            for tie in ties:
                tail = self.tasks[tie[0]]
                if tail["day"] == day or tie[0] not in self._passed:
                    continue
                if tail["day"] < 0 and self.is_open(tie[0]):
                    late = enumerate(self._reach(head, tie))
                    found |= {run for run, one in late if one - planned > tolerance_min}
                if tail.get("slips_day") and tie[0] in self._luck_of:
                    luck = enumerate(self._luck_of[tie[0]])
                    found |= {run for run, one in luck if one < tail["fails"]}
        return found
