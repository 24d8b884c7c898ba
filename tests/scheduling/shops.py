"""Invented plans of somebody's own tasks: scarce gear, gaps of either sign; nothing published."""

from __future__ import annotations

import random

from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.link import Link, Relation
from moveplan.network.task import Task
from moveplan.scheduling.problem import Gear, SchedulingProblem


def _tasks(draw: random.Random, size: int, kinds: int, share: float) -> list[Task]:
    return [
        Task(
            id=f"t{n}",
            title=f"t{n}",
            estimate=exactly(draw.randint(1, 10), "min", "invented"),
            gear=tuple((f"g{k}", draw.randint(1, 10)) for k in range(kinds) if draw.random() < share),
        )
        for n in range(size)
    ]


def _gear(tasks: list[Task], kinds: int, strength: float) -> tuple[Gear, ...]:
    """Stocks between the greatest single need and some multiple of it."""
    gear = []
    for k in range(kinds):
        needs = [count for task in tasks for name, count in task.gear if name == f"g{k}"] or [1]
        gear.append(Gear(f"g{k}", f"g{k}", max(needs) + int(strength * (sum(needs) / 3 - max(needs)))))
    return tuple(gear)


def scarce(size: int, seed: int, share: float = 0.75, strength: float = 0.1) -> SchedulingProblem:
    """Tasks in layers with two or so predecessors each, and four kinds of gear."""
    draw = random.Random(seed)
    tasks = _tasks(draw, size, 4, share)
    links = [
        Link(f"t{a}", f"t{b}")
        for b in range(3, size)
        for a in sorted(draw.sample(range(max(0, b - 12), b), k=min(b, draw.choice([1, 2, 2, 3]))))
    ]
    horizon = sum(task.minutes for task in tasks)
    return SchedulingProblem(Network(tuple(tasks), tuple(links)), 0, horizon, gear=_gear(tasks, 4, strength))


def gapped(size: int, seed: int, tightness: float = 0.5, strength: float = 0.15) -> SchedulingProblem:
    """As ``scarce``, with gaps between starts, some of them greatest gaps; some have no schedule."""
    draw = random.Random(seed)
    tasks = _tasks(draw, size, 3, 0.7)
    links = []
    for b in range(2, size):
        for a in sorted(draw.sample(range(max(0, b - 8), b), k=min(b, draw.choice([1, 1, 2])))):
            least = draw.randint(0, 12)
            most = least + draw.randint(0, 25) if draw.random() < tightness else None
            links.append(Link(f"t{a}", f"t{b}", Relation.STARTTOSTART, least, most))
    horizon = sum(max(task.minutes, 12) for task in tasks) + 30
    return SchedulingProblem(Network(tuple(tasks), tuple(links)), 0, horizon, gear=_gear(tasks, 3, strength))
