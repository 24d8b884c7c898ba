"""Invented plans of somebody's own tasks, graded by how tangled the order and how scarce the gear is.

The measures are those of the published generators: arcs a task, share of the kinds of gear that a task needs, and
stock between the greatest single need (0) and the most in use when everything begins as early as it can (1)
(Kolisch, Sprecher and Drexl 1995, Management Science 41, 1693-1703; with greatest gaps Kolisch, Schwindt and Sprecher
1999; both recalled). The instances are our own.
"""

from __future__ import annotations

import random
from itertools import product

from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.link import Link, Relation
from moveplan.network.task import Task
from moveplan.scheduling.problem import Gear, SchedulingProblem

_KINDS = 4
COMPLEXITY, FACTOR, STRENGTH = (1.5, 1.8, 2.1), (0.25, 0.5, 0.75, 1.0), (0.2, 0.5, 0.7, 1.0)
GRADES = tuple(product(COMPLEXITY, FACTOR, STRENGTH))
Arcs = list[tuple[int, int]]


class _Order:
    """Arcs from earlier to later tasks, none of them implied by others."""

    def __init__(self, size: int) -> None:
        self.after: list[set[int]] = [set() for _ in range(size)]
        self.arcs: Arcs = []

    def reach(self, at: int) -> set[int]:
        seen, todo = {at}, [at]
        while todo:
            for other in self.after[todo.pop()] - seen:
                seen.add(other)
                todo.append(other)
        return seen

    def add(self, tail: int, head: int) -> None:
        if head not in self.reach(tail) and not self._implies(tail, head):
            self.after[tail].add(head)
            self.arcs.append((tail, head))

    def _implies(self, tail: int, head: int) -> bool:
        before = {at for at in range(len(self.after)) if tail in self.reach(at)}
        behind = self.reach(head)
        return any(a in before and b in behind for a, b in self.arcs)


def _arcs(draw: random.Random, size: int, complexity: float) -> Arcs:
    """So many arcs a task on the average; three tasks wait for nothing, three are waited for by none."""
    order = _Order(size)
    for head in range(3, size):
        order.add(draw.randrange(max(0, head - 10), head), head)
    for tail in range(size - 3):
        if not order.after[tail]:
            order.add(tail, draw.randrange(max(3, tail + 1), min(size, max(4, tail + 11))))
    for _ in range(40 * size):
        if len(order.arcs) >= complexity * (size + 2) - 6:
            break
        tail, head = sorted(draw.sample(range(size), 2))
        if head >= 3 and tail < size - 3:
            order.add(tail, head)
    return order.arcs


def _needs(draw: random.Random, size: int, factor: float) -> list[list[int]]:
    rows = [[0] * _KINDS for _ in range(size)]
    cells = [(at, kind) for at in range(size) for kind in range(_KINDS)]
    must = [(at, draw.randrange(_KINDS)) for at in range(size)]
    rest = [cell for cell in cells if cell not in set(must)]
    draw.shuffle(rest)
    for at, kind in must + rest[: max(0, round(factor * len(cells)) - size)]:
        rows[at][kind] = draw.randint(1, 10)
    return rows


def _stocks(starts: list[int], lasts: list[int], needs: list[list[int]], strength: float) -> list[int]:
    stocks = []
    for kind in range(_KINDS):
        least = max(row[kind] for row in needs)
        peak = max(
            sum(needs[at][kind] for at, start in enumerate(starts) if start <= moment < start + lasts[at])
            for moment in starts
        )
        stocks.append(max(1, least, round(least + strength * (peak - least))))
    return stocks


def _problem(
    lasts: list[int], needs: list[list[int]], stocks: list[int], links: list[Link], scale: int
) -> SchedulingProblem:
    tasks = tuple(
        Task(
            id=f"t{at}",
            title=f"t{at}",
            estimate=exactly(minutes * scale, "min", "invented"),
            gear=tuple((f"g{kind}", count) for kind, count in enumerate(needs[at]) if count),
        )
        for at, minutes in enumerate(lasts)
    )
    longest = {at: minutes * scale for at, minutes in enumerate(lasts)}
    for link in links:
        at = int(link.before[1:])
        longest[at] = max(longest[at], link.min_gap_min or 0)
    gear = tuple(Gear(f"g{kind}", f"g{kind}", count) for kind, count in enumerate(stocks))
    return SchedulingProblem(Network(tasks, tuple(links)), 0, sum(longest.values()), gear=gear)


def graded(
    size: int, seed: int, complexity: float, factor: float, strength: float, scale: int = 1
) -> SchedulingProblem:
    """Tasks that follow each other without gaps."""
    draw = random.Random(f"{size} {seed} {complexity} {factor} {strength}")
    lasts = [draw.randint(1, 10) for _ in range(size)]
    arcs = _arcs(draw, size, complexity)
    starts = [0] * size
    for tail, head in sorted(arcs):
        starts[head] = max(starts[head], starts[tail] + lasts[tail])
    needs = _needs(draw, size, factor)
    stocks = _stocks(starts, lasts, needs, strength)
    links = [Link(f"t{tail}", f"t{head}") for tail, head in arcs]
    return _problem(lasts, needs, stocks, links, scale)


def graded_with_gaps(
    size: int, seed: int, factor: float, strength: float, share: float = 0.15, slack: float = 0.25
) -> SchedulingProblem:
    """Tasks with gaps between starts, some of them greatest gaps; none contradict each other without gear."""
    draw = random.Random(f"gaps {size} {seed} {factor} {strength} {share} {slack}")
    lasts = [draw.randint(1, 10) for _ in range(size)]
    arcs = _arcs(draw, size, 1.6)
    gaps = {arc: draw.randint(0, round(1.5 * lasts[arc[0]])) for arc in arcs}
    starts = [0] * size
    for tail, head in sorted(arcs):
        starts[head] = max(starts[head], starts[tail] + gaps[tail, head])
    links = [Link(f"t{tail}", f"t{head}", Relation.STARTTOSTART, gaps[tail, head]) for tail, head in arcs]
    for _ in range(max(1, round(share * len(arcs)))):
        tail = draw.randrange(size - 2)
        far = _from(tail, arcs, gaps, size)
        near = [at for at, way in enumerate(far) if at != tail and way is not None and way > 0]
        if near:
            head = draw.choice(near)
            most = round((far[head] or 0) * (1 + draw.uniform(0, 2 * slack)))
            links.append(Link(f"t{tail}", f"t{head}", Relation.STARTTOSTART, None, most))
    needs = _needs(draw, size, factor)
    stocks = _stocks(starts, lasts, needs, strength)
    return _problem(lasts, needs, stocks, links, 1)


def _from(tail: int, arcs: Arcs, gaps: dict[tuple[int, int], int], size: int) -> list[int | None]:
    far: list[int | None] = [None] * size
    far[tail] = 0
    for one, other in sorted(arcs):
        way = far[one]
        if way is not None:
            far[other] = max(far[other] or 0, way + gaps[one, other])
    return far
