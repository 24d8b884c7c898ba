"""A move carried out with lateness, and the records that it leaves."""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

from moveplan import pipeline
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.records import Begun, Done, Met, Record
from moveplan.network.link import Link, Relation
from moveplan.network.task import Kind, Task
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.outlook import Outlook
from moveplan.scheduling.effort import Effort
from moveplan.times import local_day, to_local

EXAMPLES = Path("examples")
SETTINGS = pipeline.Settings(effort=Effort(seconds=0.2), runs=0)


@cache
def outlook_of(name: str) -> Outlook:
    """Build an example once."""
    return pipeline.outlook_of(EXAMPLES / f"{name}.yaml", SETTINGS)


class Replay:
    """A move that is carried out: who does what until when, and what was logged."""

    def __init__(self, outlook: Outlook, slow: tuple[float, float], seed: int) -> None:
        self.network = outlook.project.network
        self.tasks: dict[str, Task] = {task.id: task for task in self.network.tasks}
        self.placed = {one.task: one for one in outlook.schedule.placements}
        self.last = dict(self.network.milestones)["settled"]
        self.snapshot: Snapshot = snapshot_of_outlook(outlook)
        self.random = random.Random(seed)
        self.slow = slow
        self.begun: dict[str, int] = {}
        self.ended: dict[str, int] = {}
        self.until: dict[str, int] = {}
        self.times: dict[str, int] = {}
        self.records: list[Record] = []

    def free_at(self, name: str) -> int | None:
        """Moment from which no link holds a task back; None: not known yet."""
        moments = [self._moment(link) for link in self.network.links if link.after == name]
        known = [one for one in moments if one is not None]
        return max(known, default=0) if len(known) == len(moments) else None

    def _moment(self, link: Link) -> int | None:
        if link.min_gap_min is None:
            return 0
        self._pass(link.before)
        edges = self.ended if link.relation.from_finish else self.begun
        if link.relation is Relation.FINISHTOSTART or link.relation is Relation.STARTTOSTART:
            return edges[link.before] + link.min_gap_min if link.before in edges else None
        assert link.relation is Relation.FINISHTOFINISH, "no other link with a least gap in the examples"
        before, after = self.placed[link.before], self.placed[link.after]
        end = self.ended.get(link.before)
        if end is None and link.before in self.begun:  # it ends when it is expected to
            end = self.begun[link.before] + before.finish - before.start
        return None if end is None else end + link.min_gap_min - (after.finish - after.start)

    def _pass(self, name: str) -> None:
        """Let a wait without people run by itself."""
        task = self.tasks[name]
        if task.kind is Kind.WAIT and task.crew is None and name not in self.ended:
            since = self.free_at(name)
            if since is not None:
                self.begun[name] = since or self.placed[name].start
                self.ended[name] = self.begun[name] + self.placed[name].finish - self.placed[name].start

    def asked(self, person: str, now: int) -> str | None:
        """Task of a person: what they are at, else what all of its people are told now; None: they wait."""
        return self.told(now).get(person)

    def told(self, now: int) -> dict[str, str]:
        """Tell tasks in planned order, each to all of its people, as far as none has an earlier one.

        Who is needed by one of whose people somebody has an earlier one, or has not come yet, does meanwhile what ends
        before.
        """
        told = {person: name for name in self.until for person in self.placed[name].people}
        until: dict[str, int] = {}
        left = {person: sorted(self._left(person)) for person in self.snapshot.people}
        coming = self.coming(now)
        for (planned, _), name in sorted({row for rows in left.values() for row in rows}):
            crew = self.placed[name].people
            free = self.free_at(name)
            if free is None or free > now:
                continue
            ends = max(now, planned) + self._length(name)
            if {*told, *coming}.isdisjoint(crew):
                if all(ends <= until.get(person, ends) for person in crew):
                    told.update(dict.fromkeys(crew, name))
                continue
            over = [self._over(told[person], now) for person in crew if person in told]
            over += [coming[person] for person in crew if person in coming]
            for person in set(crew) - set(told):
                until.setdefault(person, max(planned, *over))
        return told

    def coming(self, now: int) -> dict[str, int]:
        """Whose first planned hour of the day is ahead, who has done nothing that day, with that hour."""
        zone = ZoneInfo(self.snapshot.zone)
        today = local_day(to_local(now, zone).date(), zone)
        hours: dict[str, list[int]] = {person: [] for person in self.snapshot.people}
        for name, placement in self.placed.items():
            real = [at for at in (self.begun.get(name), self.ended.get(name)) if at is not None and at <= now]
            if self.tasks[name].repeats is not None:
                real = []
            for person in placement.people:
                hours[person] += [
                    at
                    for at in (*real, *(piece.start for piece in placement.segments))
                    if today.start <= at < today.finish
                ]
        return {person: min(several) for person, several in hours.items() if several and min(several) > now}

    def begins_with(self, person: str) -> str:
        """Task of a person that is planned first of what is left."""
        return min(self._left(person))[1]

    def _length(self, name: str) -> int:
        placement = self.placed[name]
        if self.tasks[name].repeats is None:
            return placement.finish - placement.start
        return placement.segments[self.times.get(name, 0)].minutes

    def _over(self, name: str, now: int) -> int:
        """When something that was told should be over, as planned."""
        if name in self.until and name in self.begun:
            return max(now, self.begun[name] + self._length(name))
        return max(now, self.placed[name].start) + self._length(name)

    def _left(self, person: str) -> Iterator[tuple[tuple[int, int], str]]:
        numbers = {task.id: task.number for task in self.snapshot.tasks}
        for name, placement in self.placed.items():
            if person not in placement.people or name in self.ended or name in self.until:
                continue
            if self.tasks[name].repeats is None:
                yield (placement.start, numbers[name]), name
            elif self.times.get(name, 0) < len(placement.segments):
                yield (placement.segments[self.times.get(name, 0)].start, numbers[name]), name

    def step(self, now: int) -> None:
        """End what is over, and let everybody who is free begin what is theirs."""
        for over in [name for name, end in self.until.items() if end <= now]:
            del self.until[over]
            self._end(over, now)
        for person in self.snapshot.people:
            name = self.asked(person, now)
            if name is None or name in self.until:
                continue
            piece = self.placed[name].segments[self.times.get(name, 0) if self.tasks[name].repeats else 0]
            if piece.start <= now:
                lasting = max(1, round(piece.minutes * self.random.uniform(*self.slow)))
                self.until[name] = now + lasting
                if self.tasks[name].repeats is None and self.tasks[name].kind is not Kind.HOLD_POINT:
                    self.begun[name] = now
                    self.records.append(Begun(at=now, task=name))

    def _end(self, name: str, now: int) -> None:
        task = self.tasks[name]
        if task.repeats is not None:
            self.times[name] = self.times.get(name, 0) + 1
            self.records.append(Done(at=now, task=name, time=self.times[name]))
            self.begun.setdefault(name, now)
            if self.times[name] == len(self.placed[name].segments):
                self.ended[name] = now
            return
        self.ended[name] = now
        self.begun.setdefault(name, now)
        if task.kind is Kind.HOLD_POINT:
            self.records.append(Met(at=now, task=name, by="Ines", reason="replayed"))
        else:
            self.records.append(Done(at=now, task=name))

    def moments(self) -> Iterator[int]:
        """Every moment at which something may change, until the move is settled."""
        now = min(one.start for one in self.placed.values())
        starts = sorted(piece.start for one in self.placed.values() for piece in one.segments)
        while self.last not in self.ended:
            self.step(now)
            yield now
            for task in self.tasks.values():
                self._pass(task.id)
            gaps = [
                edge + (link.min_gap_min or 0)
                for link in self.network.links
                for edge in [(self.ended if link.relation.from_finish else self.begun).get(link.before)]
                if edge is not None
            ]
            ahead = [at for at in (*self.until.values(), *starts, *gaps) if at > now]
            if not ahead:
                return
            now = min(ahead)
