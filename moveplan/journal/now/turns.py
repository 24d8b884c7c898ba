"""Whose turn it is: what everybody is at, or is to do next, each task told to all of its people at once.

Tasks are gone through in planned order, before them what lets animals out too late as it goes, the least time left
first: on a day that is in time the order is the planned one.  One that may begin, and all of whose people are free, is
theirs. Where one of them is at something else, or has something earlier to do, the others are kept for it: meanwhile
they are told only what is planned to end before it could begin, so that nobody who was to wait a moment keeps two
people waiting for long (in batch scheduling: backfilling behind a reservation).  Whose day has not begun is at nothing
before it does.

References
----------
Mu'alem and Feitelson (2001), IEEE Transactions on Parallel and Distributed Systems 12, 529-543 (recalled).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from moveplan.journal.file.snapshot import PlannedTask
from moveplan.journal.now.held_up import Stuck
from moveplan.journal.now.standing import Standing, Wait
from moveplan.network.task import Kind
from moveplan.times import Interval, local_day, to_local

FOREVER = 1 << 40
"""Time left of animals that do not press. [min]"""
FOLLOW = 3
"""How many tasks of a person are named after the one that is theirs now. [-]"""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to do.

    Parameters
    ----------
    task : PlannedTask
        As it was accepted.
    span : Interval
        When it is expected, UTC; of what runs: since when, and when it should be over. [min]
    time : int
        Which time of recurring care; 0: it does not recur.
    """

    task: PlannedTask
    span: Interval
    time: int = 0

    @property
    def lasting_min(self) -> int:
        """How long it is planned to take. [min]."""
        return self.span.minutes if self.time else self.task.finish - self.task.start

    @property
    def planned(self) -> int:
        """When it is planned to begin, UTC. [min]."""
        return self.span.start if self.time else self.task.start


@dataclass(frozen=True, slots=True)
class Turn:
    """One thing to do of one person.

    Parameters
    ----------
    person, name : str
        Id, and what to print.
    item : Item
        The task.
    runs : bool
        Whether it has begun.
    waits : tuple of Wait
        What is not through yet; none: it may begin.
    without : tuple of (str, PlannedTask)
        Others of its crew who are at something else, or first have to do something else: name and task.
    held : Stuck or None
        What failed, where that holds it up or what it waits for.
    """

    person: str
    name: str
    item: Item
    runs: bool
    waits: tuple[Wait, ...]
    without: tuple[tuple[str, PlannedTask], ...]
    held: Stuck | None = None

    @property
    def through(self) -> bool:
        """Whether all that it waits for is through, and no failure holds it up."""
        return not self.waits and not self.held

    @property
    def holding(self) -> tuple[Wait, ...]:
        """What it waits for, without what is known to be through before it is planned to begin."""
        return tuple(wait for wait in self.waits if wait.until is None or wait.until > self.item.planned)

    @property
    def ready(self) -> bool:
        """Whether it may begin, or goes on, and none of its people is at something else."""
        return self.through and (self.runs or not self.without)


def turns_of(
    people: Mapping[str, str],
    items: Sequence[Item],
    found: Standing,
    held: Mapping[str, Stuck],
    pressing: Mapping[str, int],
    coming: Mapping[str, int],
) -> tuple[Turn, ...]:
    """List of each person what is theirs now, then what follows in planned order.

    Parameters
    ----------
    people : Mapping of str to str
        Names by id.
    items : sequence of Item
        What is open, in planned order.
    held : Mapping of str to Stuck
        Tasks that a failure holds up.
    pressing : Mapping of str to int
        Tasks that let animals out too late as it goes, each with the time that these have left. [min]
    coming : Mapping of str to int
        When the day of those begins who are not there yet, UTC. [min]
    """
    return _Turns(people, items, found, held, pressing, coming).turns()


def coming_to(people: Iterable[str], found: Standing, zone: ZoneInfo) -> Mapping[str, int]:
    """Tell whose day has not begun, and when it does: with the first that was planned for them, UTC. [min].

    Who has begun something of today is there.
    """
    day = local_day(to_local(found.now, zone).date(), zone)
    there = {
        person
        for name, at in (*found.begun.items(), *found.ended.items())
        if day.start <= at <= found.now and found.tasks[name].times == 1
        for person in found.tasks[name].people
    }
    first: dict[str, int] = {}
    for task in found.tasks.values():
        starts = [piece.start for piece in task.segments if day.start <= piece.start < day.finish]
        for person in task.people if starts else ():
            first[person] = min(first.get(person, starts[0]), *starts)
    return {
        person: first[person] for person in people if person not in there and first.get(person, 0) > found.now
    }


class _Turns:
    """Everybody's turns, told together."""

    def __init__(
        self,
        people: Mapping[str, str],
        items: Sequence[Item],
        found: Standing,
        held: Mapping[str, Stuck],
        pressing: Mapping[str, int],
        coming: Mapping[str, int],
    ) -> None:
        self._names = people
        self._items = items
        self._found = found
        self._held = held
        self._coming = coming
        self._waits = dict(self._all_waits())
        self._told = sorted(items, key=lambda item: pressing.get(item.task.id, FOREVER))
        """In the order in which they are told: what presses first, then as planned."""
        self._theirs: dict[str, Item] = {}
        """What somebody is at, or is to do now."""
        self._kept: dict[str, tuple[Item, int]] = {}
        """What somebody else is needed for, and when that one should be free, UTC. [min]"""

    def turns(self) -> tuple[Turn, ...]:
        self._tell()
        return tuple(turn for person in self._names for turn in self._of(person))

    def _all_waits(self) -> Iterator[tuple[tuple[str, str], tuple[Wait, ...]]]:
        """Give by task and person what is not through yet: nobody is at the other end before their drive."""
        drives: dict[str, PlannedTask] = {}
        for item in self._items:
            name = item.task.id
            waits = () if self._found.runs(name) else self._found.waits(name)
            for person in item.task.people:
                drive = drives.get(person)
                passes = drive is not None and not self._found.runs(name)
                if drive and passes and all(wait.before is not drive for wait in waits):
                    yield (name, person), (*waits, Wait(drive))
                else:
                    yield (name, person), waits
                if item.task.kind is Kind.TRAVEL:
                    drives.setdefault(person, item.task)

    def _may_begin(self, item: Item) -> bool:
        name = item.task.id
        return name not in self._held and not any(self._waits[name, one] for one in item.task.people)

    def _tell(self) -> None:
        for item in self._items:
            if self._found.runs(item.task.id):
                for person in item.task.people:
                    self._theirs.setdefault(person, item)
        for item in self._told:
            if not self._found.runs(item.task.id) and self._may_begin(item):
                self._tell_one(item)

    def _tell_one(self, item: Item) -> None:
        """Tell a task to all of its people, or keep those who are free until the others should be."""
        crew = item.task.people
        free = [self._end(self._theirs[one]) for one in crew if one in self._theirs]
        free += [self._coming[one] for one in crew if one in self._coming]
        if free:
            for person in crew:
                if person not in self._theirs:
                    self._kept.setdefault(person, (item, max(item.planned, *free)))
        elif all(self._end(item) <= self._kept[one][1] for one in crew if one in self._kept):
            self._theirs.update(dict.fromkeys(crew, item))

    def _end(self, item: Item) -> int:
        """When it should be over, as it is planned; what runs for longer may end at any moment, UTC. [min]."""
        now, name = self._found.now, item.task.id
        start = self._found.begun[name] if self._found.runs(name) else max(item.planned, now)
        return max(start + item.lasting_min, now)

    def _of(self, person: str) -> list[Turn]:
        own = [self._turn(person, item) for item in self._own(person)]
        first = self._first(person)
        own.sort(key=lambda turn: turn.item is not first)
        return own[: 1 + FOLLOW]

    def _own(self, person: str) -> Iterator[Item]:
        return (item for item in self._items if person in item.task.people)

    def _first(self, person: str) -> Item | None:
        """Name what somebody is at, is to do now or first today, else is kept for, else could begin but for others."""
        if person in self._coming and person not in self._theirs:
            return next(self._own(person), None)
        if person in self._theirs or person not in self._kept:
            return self._theirs.get(person) or next(
                (item for item in self._told if person in item.task.people and self._may_begin(item)), None
            )
        return self._kept[person][0]

    def _turn(self, person: str, item: Item) -> Turn:
        name = item.task.id
        return Turn(
            person,
            self._names[person],
            item,
            self._found.runs(name),
            self._waits[name, person],
            tuple(self._elsewhere(person, item)),
            self._held.get(name),
        )

    def _elsewhere(self, person: str, item: Item) -> Iterator[tuple[str, PlannedTask]]:
        for one in item.task.people:
            other = self._first(one) if one != person else None
            if (
                other is not None
                and other is not item
                and (self._may_begin(item) or self._found.runs(other.task.id))
            ):
                yield self._names.get(one, one), other.task
