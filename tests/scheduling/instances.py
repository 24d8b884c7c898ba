"""Invented problems in the shape of a move, of any size; nothing in them is real."""

from __future__ import annotations

import random
from dataclasses import dataclass, field

from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.link import Hold, Link, Relation
from moveplan.network.task import Crew, Kind, LargerCrew, Repeat, Task, Timing
from moveplan.scheduling.problem import Gear, Person, SchedulingProblem, TiedDay, Vehicle
from moveplan.times import Interval

DAY = 1440
WEEKS_OF_LEAD = 4


def day(number: int) -> Interval:
    return Interval(number * DAY, (number + 1) * DAY)


def hours(number: int, begin: int, end: int) -> Interval:
    return Interval(number * DAY + begin * 60, number * DAY + end * 60)


def evenings_and_weekends(days: int, offset: int = 0) -> tuple[Interval, ...]:
    """Weekday evenings and whole weekend days; day 0 is a Monday."""
    return tuple(
        hours(n, 8, 22) if n % 7 >= 5 else hours(n, 17 + offset % 2, 21 + offset % 2) for n in range(days)
    )


@dataclass
class Builder:
    """Collects tasks and links."""

    draw: random.Random
    tasks: list[Task] = field(default_factory=list)
    links: list[Link] = field(default_factory=list)
    holds: list[Hold] = field(default_factory=list)

    def add(self, name: str, minutes: int, **more: object) -> str:
        self.tasks.append(
            Task(id=name, title=name, estimate=exactly(minutes, "min", "invented"), **more)  # type: ignore[arg-type]
        )
        return name

    def link(self, before: str, after: str, most: int | None = None, least: int = 0, **more: object) -> None:
        self.links.append(Link(before, after, min_gap_min=least, max_gap_min=most, **more))  # type: ignore[arg-type]


def _lead(b: Builder, count: int, ready: str) -> None:
    """Lead tasks in short chains before the move, some with waits between, as late as their margin allows."""
    made = 0
    while made < count:
        length = min(count - made, b.draw.randint(2, 4))
        last = ""
        for step in range(length):
            wait = step and b.draw.random() < 0.3
            name = b.add(
                f"lead-{made + step}",
                b.draw.choice([1440, 2880, 4320]) if wait else b.draw.choice([30, 45, 60, 90, 180, 240]),
                kind=Kind.WAIT if wait else Kind.WORK,
                crew=None if wait else Crew(b.draw.choice([1, 1, 1, 2])),
                place="" if wait else b.draw.choice(["old", "old", "new", ""]),
                may_pause=not wait and b.draw.random() < 0.25,
                timing=Timing.LATE,
                margin_min=b.draw.choice([720, DAY, 2 * DAY]) if not wait else 0,
            )
            if last:
                b.link(last, name)
            last = name
        b.link(last, ready)
        made += length


def _groups(b: Builder, count: int, drive: str, arrived: str, done: str) -> None:
    """Groups of animals: caught late, packed in tubs, released in order; out for some hours at most."""
    for number in range(count):
        catch = b.add(
            f"catch-{number}", b.draw.choice([20, 30, 45]), crew=Crew(1, (("animals", 1),)), place="old",
            day="move",
        )  # fmt: skip
        release = b.add(
            f"release-{number}", b.draw.choice([20, 30]), crew=Crew(1, (("animals", 1),)), place="new",
            day="move",
        )  # fmt: skip
        b.link("open-up", catch)
        b.link(catch, drive)
        b.link(arrived, release)
        b.link(catch, release, b.draw.choice([8, 9, 10]) * 60, relation=Relation.FINISHTOFINISH)
        b.link(release, done)
        b.holds.append(Hold("tubs", 2, catch, release))


def _day_work(b: Builder, count: int, drive: str) -> None:
    for number in range(count):
        name = b.add(
            f"pack-{number}", b.draw.choice([15, 20, 30]), crew=Crew(b.draw.choice([1, 1, 2])), place="old",
            day="move", larger_crews=(LargerCrew(3, 10),) if b.draw.random() < 0.2 else (),
        )  # fmt: skip
        b.link("open-up", name)
        b.link(name, drive)


def _after(b: Builder, count: int, done: str) -> None:
    for number in range(count):
        name = b.add(
            f"after-{number}", b.draw.choice([20, 30, 60]), crew=Crew(1), place="new",
            repeats=Repeat(DAY, b.draw.randint(3, 10), 720) if number % 3 == 0 else None,
        )  # fmt: skip
        b.link(done, name, least=b.draw.choice([60, DAY, 2 * DAY]))


def move(size: int, people: int, seed: int) -> SchedulingProblem:
    """A move of about so many tasks by so many people, on one of several weekend days."""
    b = Builder(random.Random(seed))
    groups = max(2, size // 30)
    in_a_day = max(4, min(size // 6, 14))
    ready = b.add("go-ahead", 15, crew=Crew(1), place="old", kind=Kind.HOLD_POINT)
    b.add("open-up", 30, crew=Crew(1), place="old", day="move")
    drive = b.add(
        "drive", 60, kind=Kind.TRAVEL, crew=Crew(2, (("drives", 1),)), vehicles=("van",), place="old",
        place_after="new", day="move",
    )  # fmt: skip
    place = b.add("set-up", 90, crew=Crew(2), place="new", day="move")
    done = b.add("settled", 0, day="move")
    b.link(ready, "open-up", 2 * DAY)
    b.link("open-up", drive)
    b.link(drive, place)
    _groups(b, groups, drive, place, done)
    _day_work(b, in_a_day, drive)
    rest = size - len(b.tasks)
    _after(b, max(2, rest // 4), done)
    _lead(b, size - len(b.tasks), ready)
    span = 70
    return SchedulingProblem(
        network=Network(
            tuple(b.tasks), tuple(b.links), tuple(b.holds), (("ready", ready), ("settled", done))
        ),
        start=0,
        horizon=span * DAY,
        days=tuple(day(n) for n in range(span)),
        people=tuple(
            Person(
                f"p{n}", f"Person {n}", evenings_and_weekends(span, n),
                ("animals", "drives") if n % 2 == 0 else ("lifts",), "old", 1500 if n == people - 1 else 0,
            )
            for n in range(people)
        ),
        vehicles=(Vehicle("van", "Van", tuple(hours(n, 7, 20) for n in range(span)), "old", 9000),),
        gear=(Gear("tubs", "Tubs", 2 * groups),),
        drives=(("old", "new", 45),),
        tied_days=(TiedDay("move", tuple(day(n) for n in range(10, 50) if n % 7 >= 5)),),
        grid_min=5,
    )  # fmt: skip
