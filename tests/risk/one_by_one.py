"""The runs of a move again, one task of one run at a time, from ``result.json`` alone: slow, and easy to follow.

Imports nothing of the program. Every draw is independent, without antithetic pairs; durations are drawn from the betas
themselves.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from math import inf, sqrt
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import special, stats

Floats = NDArray[np.float64]
Data = dict[str, Any]
Room = tuple[float, float, float]


@dataclass
class Run:
    """What came of one run."""

    starts: dict[int, float] = field(default_factory=dict)
    finishes: dict[int, float] = field(default_factory=dict)
    longer: dict[int, float] = field(default_factory=dict)
    slipped: set[int] = field(default_factory=set)
    past_hours: set[int] = field(default_factory=set)
    passed: set[int] = field(default_factory=set)
    worked: dict[int, tuple[float, float]] = field(default_factory=dict)
    broken: set[tuple[str, str]] = field(default_factory=set)


def error(share: float, runs: int) -> float:
    """Standard error of a share of independent runs."""
    return sqrt(max(share * (1 - share), 1 / runs) / runs)


def _rooms(text: str) -> list[Room]:
    rows = (piece.split("-") for piece in text.split())
    return [tuple(float(one) if one else inf for one in row) for row in rows]  # type: ignore[misc]


def _drawn(low: float, likely: float, high: float, places: Floats) -> Floats:
    """Durations of PERT's beta at places on the normal scale."""
    if high <= low:
        return np.full(places.shape, low)
    rise = 4 * (likely - low) / (high - low)
    found = low + (high - low) * stats.beta.ppf(special.ndtr(places), 1 + rise, 5 - rise)
    return np.asarray(found, dtype=np.float64)


class Slow:
    """Runs one at a time."""

    def __init__(self, data: Data, runs: int, seed: int) -> None:
        self.model: Data = data["risk"]["model"]
        self.tasks: list[Data] = self.model["tasks"]
        dice = np.random.default_rng(seed)
        size = len(self.tasks)
        shares = [list(map(float, task.get("causes", "").split())) for task in self.tasks]
        common = dice.standard_normal((max(map(len, shares)), runs))
        own = dice.standard_normal((size, runs))
        self.lasts = []
        for task, parts, alone in zip(self.tasks, shares, own, strict=True):
            place = sqrt(max(1 - sum(parts), 0)) * alone
            for part, cause in zip(parts, common, strict=False):
                place = place + sqrt(part) * cause
            self.lasts.append(_drawn(task["low"], task["likely"], task["high"], place))
        self.luck = dice.random((size, runs))
        self.happened = [dice.random(runs) < one["probability"] for one in self.model["mishaps"]]
        groups = list(dict.fromkeys(stay["livestock"] for stay in self.model["stays"]))
        self.safe = dict(zip(groups, dice.standard_normal((len(groups), runs)), strict=True))
        self.hours = [_rooms(text) for text in self.model["hours"]]
        self.alone = {name: _rooms(text) for name, text in self.model["hours_of"].items()}
        for person in data["people"]:
            self._end_as_stated(person)
        self.day_starts = list(map(float, self.model["day_starts"].split()))
        self.waits: list[list[tuple[int, float, bool, bool, bool]]] = [[] for _ in self.tasks]
        for text in self.model["waits"]:
            tail, head, gap, from_finish, to_finish, freed = text.split()
            row = (int(tail), float(gap), from_finish == "1", to_finish == "1", freed == "1")
            self.waits[int(head)].append(row)

    def _end_as_stated(self, person: Data) -> None:
        """Take the stated ends of the moving days from what the person says, and not from what was simulated."""
        zero = datetime.fromisoformat(self.model["start"])
        for day in self.model["days"]:
            ends = [
                (datetime.fromisoformat(one["finish"]) - zero).total_seconds() / 60
                for one in person["available"]
                if day["date"] in one["finish"]
            ]
            self.alone[person["id"]] = [
                (begin, end, max((at for at in ends if begin < at <= end), default=stated))
                for begin, end, stated in self.alone.get(person["id"], ())
            ]

    def run(self, number: int) -> Run:
        run = Run()
        for _ in range(6):
            before = dict(run.starts)
            self._once(run, number)
            if before == run.starts:
                break
        run.broken |= {("day", self.model["days"][day]["date"]) for day in run.slipped}
        run.broken |= {("hours", person) for person in self._longer_than_stated(run)}
        run.broken |= {("hire", one["vehicle"]) for one in self.model["hires"] if self._longer(run, one)}
        run.broken |= {("keys", "keys-back")} if self._late(run) else set()
        run.broken |= {
            ("date", self.tasks[one["task"]]["id"])
            for one in self.model["dates"]
            if run.finishes[one["task"]] > one["by"] + 1e-6
        }
        run.broken |= {
            ("safe-time", one["livestock"]) for one in self.model["stays"] if self._unsafe(run, one, number)
        }
        return run

    def _longer_than_stated(self, run: Run) -> Iterator[str]:
        for at, (start, finish) in run.worked.items():
            on_the_day = self.tasks[at]["day"] >= 0
            for person in self.tasks[at].get("crew", ()) if on_the_day or at in run.past_hours else ():
                rooms = self.alone[person]
                if finish - 1e-6 > rooms[_stretch(rooms, start)][2]:
                    yield person

    def _once(self, run: Run, number: int) -> None:
        decided = -1
        run.passed = set()
        for at in self.model["order"]:
            task = self.tasks[at]
            if task["day"] > decided:
                decided = task["day"]
                self._decide(run, decided, number)
            ready = task.get("earliest", 0.0)
            if task.get("moves_with_day") and task["day"] in run.slipped:
                ready += self.model["days"][task["day"]]["slip_minutes"]
            ready = max([ready, *(self._reach(run, at, wait, number) for wait in self.waits[at])])
            lasts = float(self.lasts[at][number])
            start, finish = self._placed(task, ready, lasts)
            run.past_hours.discard(at)
            run.worked[at] = (start, finish)
            if (
                task.get("runs_over")
                and task["hours"] is not None
                and self._past(task["hours"], start, finish)
            ):
                run.past_hours.add(at)
            later = self._asked_again(task, finish, lasts, float(self.luck[at][number]))
            later += sum(
                one["delay_minutes"]
                for one, struck in zip(self.model["mishaps"], self.happened, strict=True)
                if struck[number] and one["task"] == at
            )
            run.longer[at] = later - finish
            run.passed.add(at)
            run.starts[at], run.finishes[at] = start, later + task.get("tail_minutes", 0.0)

    def _asked_again(self, task: Data, finish: float, lasts: float, luck: float) -> float:
        """Finish of a hold point that may say no three times; of what slips a day instead, its own."""
        for attempt in (1, 2, 3):
            if not task.get("slips_day") and luck < task.get("fails", 0.0) ** attempt:
                finish = self._placed(task, finish + task.get("again_after_minutes", 0.0), lasts)[1]
        return finish

    def _reach(self, run: Run, head: int, wait: tuple[int, float, bool, bool, bool], number: int) -> float:
        tail, gap, from_finish, to_finish, freed = wait
        moment = (run.finishes if from_finish else run.starts).get(tail, 0.0) + gap
        moment -= run.longer.get(tail, 0.0) if freed else 0.0
        return moment - (float(self.lasts[head][number]) if to_finish else 0.0)

    def _decide(self, run: Run, day: int, number: int) -> None:
        run.slipped.discard(day)
        for head, waits in enumerate(self.waits):
            for wait in waits if self.tasks[head]["day"] == day else ():
                tail = self.tasks[wait[0]]
                if tail["day"] == day or wait[0] not in run.passed:
                    continue  # what waits for the day itself is no preparation for it
                late = self._reach(run, head, wait, number) - self.tasks[head].get("planned", 0.0)
                if tail["day"] < 0 and late > self.model["days"][day]["tolerance_minutes"]:
                    run.slipped.add(day)
                if tail.get("slips_day") and self.luck[wait[0]][number] < tail.get("fails", 0.0):
                    run.slipped.add(day)

    def _placed(self, task: Data, ready: float, lasts: float) -> tuple[float, float]:
        if task["hours"] is None:
            return ready, ready + lasts
        rooms = self.hours[task["hours"]]
        number = _stretch(rooms, ready)
        longest = max((room[1] - room[0] for room in rooms[:-1]), default=0.0)
        start = max(ready, rooms[number][0])
        if task.get("pauses") or lasts > longest:
            left, at = lasts, start
            while left > rooms[number][1] - at + 1e-9:
                left -= rooms[number][1] - at
                number += 1
                at = rooms[number][0]
            return start, at + left
        while start + lasts > rooms[number][1]:
            number += 1
            start = rooms[number][0]
        return start, start + lasts

    def _past(self, hours: int, start: float, finish: float) -> bool:
        rooms = self.hours[hours]
        return finish > rooms[_stretch(rooms, start)][2]

    def _longer(self, run: Run, hire: Data) -> bool:
        """Whether a vehicle is used on a day that is not booked, or past the end of its hire."""
        day = next((self.tasks[at]["day"] for at in hire["tasks"] if self.tasks[at]["day"] >= 0), -1)
        slips = self.model["days"][day] if day in run.slipped else {"slip_days": 0, "slip_minutes": 0.0}
        first, last = (one + slips["slip_days"] for one in hire["booked_days"])
        used = {bisect_right(self.day_starts, run.starts[at]) for at in hire["tasks"]}
        used |= {bisect_right(self.day_starts, run.finishes[at] - 1e-6) for at in hire["tasks"]}
        until = inf if hire["until"] is None else hire["until"] + slips["slip_minutes"]
        return min(used) < first or max(used) > last or max(run.finishes[at] for at in hire["tasks"]) > until

    def _late(self, run: Run) -> bool:
        keys = (one for one in self.model["deadlines"] if one["id"] == "keys-back-missed")
        return any(
            run.finishes[at] > by + 1e-6
            for one in keys
            for at, by in zip(one["tasks"], one["by"], strict=True)
        )

    def _unsafe(self, run: Run, stay: Data, number: int) -> bool:
        if None in stay["safe"]:
            return False
        (first, edge), (last, other) = stay["from"], stay["until"]
        begin = run.starts[first] if edge == "start" else run.finishes[first]
        end = run.starts[last] if other == "start" else run.finishes[last]
        for mishap, struck in zip(self.model["mishaps"], self.happened, strict=True):
            if mishap["holding"] and mishap["task"] is not None and struck[number]:
                moment = run.finishes[mishap["task"]] - mishap["delay_minutes"]
                end = min(end, moment) if begin < moment < end else end
        place = self.safe[stay["livestock"]][number : number + 1]
        low, likely, high = stay["safe"]
        return end - begin > float(_drawn(low, likely, high, place)[0])


def _stretch(rooms: list[Room], moment: float) -> int:
    return bisect_right([room[1] for room in rooms], int(moment))
