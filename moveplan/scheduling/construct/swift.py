"""Many schedules quickly where only gear is scarce: tasks of fixed length, no hours, dates or greatest gaps.

A population of orders is bred: two orders are joined at two cuts, each child is scheduled in that order, pushed to
the right and back to the left, and the shortest live on (orders and cuts as in Hartmann 1998, Naval Research
Logistics 45, 733-750; pushing both ways as in Valls, Ballestin and Quintanilla 2005, European Journal of Operational
Research 165, 375-386; both recalled).
"""

from __future__ import annotations

import random
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from moveplan.scheduling.construct.mirror import mirrored
from moveplan.scheduling.effort import Meter
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.frame import Frame

_POPULATION = 40
"""Orders of tasks that are kept for crossing. Chosen. [-]"""
_FRESH = 0.3
"""Noise on the urgencies of a fresh order. Chosen. [-]"""
_SWAPS = 0.05
"""Chance that two neighbours of an order are exchanged. Chosen. [-]"""
_ALIKE_FOR = 4
"""Generations in which all are as short as the best, after which the rest is drawn anew; assumed. [-]"""
_STEPS_A_TASK = 0.7
"""Steps of effort that placing one task of plain work takes, against those of the full search. [-]"""
Order = tuple[int, ...]
Ties = list[list[tuple[int, int]]]


@dataclass(frozen=True, slots=True)
class Shop:
    """The problem in plain lists.

    Parameters
    ----------
    lasts : tuple of int
        Duration of each task. [min]
    needs : tuple of tuple of (int, int)
        Kind and count of the gear that each task needs.
    stock : tuple of int
        How much there is of each kind.
    before, after : list of list of (int, int)
        For each task, the tasks that it follows, and those that follow it, with the least distance of the
        starts, or of the finishes seen from the end. [min]
    rank : tuple of int
        Place of each task in an order that keeps all ties.
    """

    lasts: tuple[int, ...]
    needs: tuple[tuple[tuple[int, int], ...], ...]
    stock: tuple[int, ...]
    before: Ties
    after: Ties
    rank: tuple[int, ...]

    def placed(self, order: Sequence[int], ties: Ties) -> list[int]:
        """Start of each task when all are placed in an order, each as early as gear and ties allow."""
        times, free = [0], [list(self.stock)]
        starts = [0] * len(self.lasts)
        for at in order:
            start = 0
            for other, distance in ties[at]:
                if starts[other] + distance > start:
                    start = starts[other] + distance
            if self.needs[at] and self.lasts[at]:
                start = self._booked(at, start, times, free)
            starts[at] = start
        return starts

    def _booked(self, at: int, start: int, times: list[int], free: list[list[int]]) -> int:
        """Find the first moment at which the gear of a task is free long enough, and take it."""
        needs, lasts = self.needs[at], self.lasts[at]
        first = here = bisect_right(times, start) - 1
        while here < len(times) and times[here] < start + lasts:
            row = free[here]
            here += 1
            for kind, count in needs:
                if row[kind] < count:
                    start, first = times[here], here
                    break
        if times[first] != start:
            first += 1
            times.insert(first, start)
            free.insert(first, free[first - 1][:])
        last = bisect_left(times, start + lasts, first)
        if last == len(times) or times[last] != start + lasts:
            times.insert(last, start + lasts)
            free.insert(last, free[last - 1][:])
        for row in free[first:last]:
            for kind, count in needs:
                row[kind] -= count
        return start

    def length(self, starts: Sequence[int]) -> int:
        """When the last task is over."""
        return max(start + lasts for start, lasts in zip(starts, self.lasts, strict=True))

    def pushed(self, order: Sequence[int]) -> tuple[int, list[int]]:
        """Length and starts of a schedule in an order, pushed to the right and back to the left once."""
        size = range(len(self.lasts))
        starts = self.placed(order, self.before)
        ends = [starts[at] + self.lasts[at] for at in size]
        right = self.placed(sorted(size, key=lambda at: (-ends[at], -self.rank[at])), self.after)
        ends = [right[at] + self.lasts[at] for at in size]
        left = self.placed(sorted(size, key=lambda at: (-ends[at], self.rank[at])), self.before)
        best = min(starts, left, key=self.length)
        return self.length(best), best


def shop_of(frame: Frame) -> Shop | None:
    """Write a problem in plain lists; None where it asks for more than these can say.

    Returns
    -------
    Shop or None
        The same tasks, ties and gear.
    """
    jobs, gear = frame.model.jobs, frame.model.problem.gear
    if mirrored(frame) is None or len(frame.blocks) < len(jobs) or not jobs:
        return None
    if any(job.opens or job.task.repeats is not None for job in jobs):
        return None
    lasts = tuple(job.options[0].minutes for job in jobs)
    before: Ties = [[] for _ in jobs]
    after: Ties = [[] for _ in jobs]
    for tail, head, from_finish, to_finish, gap in frame.model.rules:
        ahead = gap + (lasts[tail] if from_finish else 0) - (lasts[head] if to_finish else 0)
        behind = ahead + lasts[head] - lasts[tail]
        if ahead < 0 or behind < 0:
            return None
        before[head].append((tail, ahead))
        after[tail].append((head, behind))
    rank = [0] * len(jobs)
    for place, (at,) in enumerate(frame.blocks):
        rank[at] = place
    stock = tuple(thing.count for thing in gear)
    return Shop(lasts, tuple(job.gear for job in jobs), stock, before, after, tuple(rank))


class Breed:
    """A population of orders, the shortest schedules first.

    Parameters
    ----------
    frame : Frame
        Knows how urgent each task is.
    """

    def __init__(self, shop: Shop, frame: Frame, meter: Meter, seed: int) -> None:
        self.shop = shop
        self.frame = frame
        self.meter = meter
        self.draw = random.Random(seed)  # noqa: S311 - repeatable, nothing secret
        self.known: dict[Order, int] = {}
        self.best: tuple[int, list[int]] | None = None

    def run(self) -> list[int] | None:
        """Breed until the effort is spent or nothing can be shorter; starts of the best schedule."""
        self._many(self._drawn(number) for number in range(_POPULATION))
        stale = 0
        while not self._done():
            parents = sorted(self.known, key=lambda order: (self.known[order], order))[:_POPULATION]
            self.known = {order: self.known[order] for order in parents}
            lengths = [self.known[order] for order in parents]
            stale = stale + 1 if lengths[0] == lengths[-1] else 0
            if stale > _ALIKE_FOR:
                self.known, stale = {parents[0]: lengths[0]}, 0
                self._many(self._drawn(number) for number in range(1, _POPULATION))
                continue
            self._many(self._child(parents) for _ in range(_POPULATION))
        return None if self.best is None else self.best[1]

    def _many(self, orders: Iterable[Sequence[int]]) -> None:
        for order in orders:
            if self._done():
                break
            self._born(order)

    def _done(self) -> bool:
        return self.meter.over() or (self.best is not None and self.best[0] <= self.frame.longest)

    def _born(self, order: Sequence[int]) -> None:
        """Schedule in an order; what lives on is the order of the starts that came of it."""
        length, starts = self.shop.pushed(order)
        self.meter.left -= int(_STEPS_A_TASK * len(order)) + 1
        self.known[self._by_start(starts)] = length
        if self.best is None or length < self.best[0]:
            self.best = length, starts

    def _by_start(self, starts: Sequence[int]) -> Order:
        return tuple(sorted(range(len(starts)), key=lambda at: (starts[at], self.shop.rank[at])))

    def _drawn(self, number: int) -> list[int]:
        """Draw an order in which the urgent tend to come first; the first is the plain one."""
        urgency, noise = self.frame.urgency, _FRESH if number else 0.0
        spread = noise * (max(urgency) - min(urgency) + 1)
        wish = [value + self.draw.uniform(-spread, spread) for value in urgency]
        return self._legal(sorted(range(len(wish)), key=lambda at: (wish[at], self.shop.rank[at])))

    def _legal(self, order: Sequence[int]) -> list[int]:
        """Move tasks behind those that they follow."""
        placed, found = [False] * len(order), []
        for begin in order:
            todo = [begin]
            while todo:
                at = todo[-1]
                missing = [other for other, _ in self.shop.before[at] if not placed[other]]
                if missing and not placed[at]:
                    todo += missing
                    continue
                todo.pop()
                if not placed[at]:
                    placed[at] = True
                    found.append(at)
        return found

    def _child(self, parents: Sequence[Order]) -> list[int]:
        """Take the middle from one parent, and what is left, on both sides, in the order of the other."""
        mother, father = self.draw.sample(parents, 2) if len(parents) > 1 else (parents[0], parents[0])
        low, high = sorted((self.draw.randrange(len(mother)), self.draw.randrange(len(mother))))
        child = list(mother[:low])
        taken = set(child)
        for source, until in ((father, high), (mother, len(mother))):
            for at in source:
                if len(child) >= until:
                    break
                if at not in taken:
                    taken.add(at)
                    child.append(at)
        for at in range(len(child) - 1):
            if self.draw.random() < _SWAPS and all(
                other != child[at] for other, _ in self.shop.before[child[at + 1]]
            ):
                child[at], child[at + 1] = child[at + 1], child[at]
        return child


def swift(frame: Frame, meter: Meter, seed: int) -> Desk | None:
    """Breed a short schedule of a problem in which only gear is scarce.

    Returns
    -------
    Desk or None
        A complete schedule; None where the problem is of another kind, or its horizon too near.
    """
    shop = shop_of(frame)
    starts = None if shop is None else Breed(shop, frame, meter, seed).run()
    if shop is None or starts is None:
        return None
    problem, desk = frame.model.problem, Desk(frame.model)
    if problem.start + shop.length(starts) > problem.horizon:
        return None
    for at, start in enumerate(starts):
        begin, end = problem.start + start, problem.start + start + shop.lasts[at]
        desk.put(at, Spot(begin, end, ((begin, end),)))
    return desk
