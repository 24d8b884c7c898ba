"""A schedule as a network: its own links, and the order of its resources, under the hours of its crews."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from heapq import heappop, heappush

from moveplan.network.link import Link
from moveplan.scheduling.dates.order import Order, resource_order
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.state.calendars import Own, Together, day_of
from moveplan.scheduling.state.tracks import NEVER

_ROUNDS_A_TASK = 40
"""Most passes over the chain for each task, before it counts as one that never settles. Chosen; a few are usual.
[-]"""

Arc = tuple[int, int, bool, bool, int]


class Chained:
    """The network of a schedule: its own links and the order of its resources."""

    def __init__(self, problem: SchedulingProblem, schedule: Schedule) -> None:
        self.problem = problem
        self.tasks = problem.network.tasks
        self.at = {task.id: position for position, task in enumerate(self.tasks)}
        placed = {placement.task: placement for placement in schedule.placements}
        self.stands = [placed[task.id] for task in self.tasks]
        rank = sorted(
            range(len(self.tasks)), key=lambda at: (self.stands[at].start, self.stands[at].finish, at)
        )
        self.place = [0] * len(rank)
        for number, position in enumerate(rank):
            self.place[position] = number
        self.orders = resource_order(problem, schedule)
        self.hours = Together(problem)
        self.own = [
            Own(problem, task, stands, self.hours)
            for task, stands in zip(self.tasks, self.stands, strict=True)
        ]
        self.arcs: list[tuple[Arc, Link, Order | None]] = []
        for link in problem.network.links:
            self._add(link, None)
        for order in self.orders:
            self._add(order.link, order)
        self.into: list[list[Arc]] = [[] for _ in self.tasks]
        self.out: list[list[Arc]] = [[] for _ in self.tasks]
        self.reasons: list[list[tuple[Arc, Link, Order | None]]] = [[] for _ in self.tasks]
        for reason in self.arcs:
            arc = reason[0]
            self.into[arc[1]].append(arc)
            self.out[arc[0]].append(arc)
            self.reasons[arc[1]].append(reason)
        self.last = max((stands.finish for stands in self.stands), default=problem.start)
        self.floor = [self._floor(position) for position in range(len(self.tasks))]

    def _add(self, link: Link, order: Order | None) -> None:
        before, after, relation = self.at[link.before], self.at[link.after], link.relation
        if link.min_gap_min is not None:
            arc = (before, after, relation.from_finish, relation.to_finish, link.min_gap_min)
            self.arcs.append((arc, link, order))
        if link.max_gap_min is not None:
            back = (after, before, relation.to_finish, relation.from_finish, -link.max_gap_min)
            self.arcs.append((back, link, order))

    def _floor(self, position: int) -> int:
        """Earliest start that dates and days of a task allow."""
        task = self.tasks[position]
        floor = max(self.problem.start, task.not_before or self.problem.start)
        if task.day:
            floor = max(floor, day_of(self.problem, self.stands[position].start).start)
        return floor

    def forward(self, own: Sequence[Own]) -> list[int]:
        """Earliest starts, never later than the schedule's own."""
        start = self.anew(own)
        return [min(early, stands.start) for early, stands in zip(start, self.stands, strict=True)]

    def anew(self, own: Sequence[Own]) -> list[int]:
        """Earliest starts of tasks that may last longer than they stand."""
        start = [own[at].fit(self.floor[at]) for at in range(len(self.tasks))]
        return self._pushed_on(own, start, range(len(self.tasks)))

    def onwards(self, own: Sequence[Own], early: Sequence[int], position: int) -> list[int]:
        """Earliest starts, none before the present ones, when one task lasts longer."""
        return self._pushed_on(own, list(early), (position,))

    def _pushed_on(self, own: Sequence[Own], start: list[int], first: Iterable[int]) -> list[int]:
        """Push on what tasks push, those that stand first in the schedule first, so that most are met once."""
        queue = sorted((self.place[position], position) for position in first)
        queued = {position for _, position in queue}
        rounds = _ROUNDS_A_TASK * (len(self.tasks) + 1)
        while queue and rounds:
            rounds -= 1
            _, tail = heappop(queue)
            queued.discard(tail)
            finish = own[tail].finish(start[tail])
            for _, head, from_finish, to_finish, gap in self.out[tail]:
                moment = self.pushed(
                    own[head], start[head], (finish if from_finish else start[tail]) + gap, to_finish
                )
                if moment > start[head]:
                    start[head] = moment
                    if head not in queued:
                        heappush(queue, (self.place[head], head))
                        queued.add(head)
        return start

    def pushed(self, own: Own, start: int, moment: int, to_finish: bool) -> int:
        """Earliest start at or after the present one that brings the start, or the finish, to a moment."""
        if not to_finish:
            return own.fit(moment) if moment > start else start
        while own.finish(start) < moment < NEVER:
            later = own.fit(max(start + 1, own.leading_to(moment)))
            if later >= NEVER:
                return start
            start = later
        return start

    def least_start(self, position: int, early: Sequence[int], own: Own) -> int:
        """Earliest start of one task, lasting as given, after the early dates of all others."""
        start = own.fit(self.floor[position])
        for tail, _, from_finish, to_finish, gap in self.into[position]:
            if tail != position:
                moment = (self.own[tail].finish(early[tail]) if from_finish else early[tail]) + gap
                start = max(start, self.pushed(own, start, moment, to_finish))
        return start

    def held_by_finish(self, position: int, early: Sequence[int]) -> bool:
        """Whether a task might start earlier if its finish had not to wait for others."""
        for tail, _, from_finish, to_finish, gap in self.into[position]:
            if to_finish and tail != position:
                moment = (self.own[tail].finish(early[tail]) if from_finish else early[tail]) + gap
                if self.own[position].leading_to(moment) > self.floor[position]:
                    return True
        return False

    def ceiling(self, position: int) -> int:
        """Latest finish that dates, days and milestones allow a task."""
        task, stands = self.tasks[position], self.stands[position]
        ends = [self.last, task.finish_by or self.last]
        if task.day:
            ends.append(day_of(self.problem, stands.start).finish)
        if any(name == task.id for _, name in self.problem.network.milestones):
            ends.append(stands.finish)
        return max(stands.finish, min(ends))

    def backward(self) -> list[int]:
        """Latest starts that leave the milestones and the finish where they are."""
        start = [self.own[at].latest(NEVER, self.ceiling(at)) for at in range(len(self.tasks))]
        start = [max(late, stands.start) for late, stands in zip(start, self.stands, strict=True)]
        queue = sorted((-self.place[position], position) for position in range(len(self.tasks)))
        queued = [True] * len(self.tasks)
        rounds = _ROUNDS_A_TASK * (len(self.tasks) + 1)
        while queue and rounds:
            rounds -= 1
            _, head = heappop(queue)
            queued[head] = False
            for tail in {arc[0] for arc in self.into[head]}:
                moment = max(self._drawn(tail, start), self.stands[tail].start)
                if moment < start[tail]:
                    start[tail] = moment
                    if not queued[tail]:
                        heappush(queue, (-self.place[tail], tail))
                        queued[tail] = True
        return start if not queue else [stands.start for stands in self.stands]

    def _drawn(self, tail: int, start: Sequence[int], early: bool = False) -> int:
        """Latest start of a task that its successors, at given starts, leave."""
        latest, last = start[tail], self.own[tail].finish(start[tail])
        if early:
            latest, last = NEVER, self.ceiling(tail)
        for _, head, from_finish, to_finish, gap in self.out[tail]:
            if head == tail:
                continue
            moment = (self.own[head].finish(start[head]) if to_finish else start[head]) - gap
            if from_finish:
                last = min(last, moment)
            else:
                latest = min(latest, moment)
        return self.own[tail].latest(latest, last)

    def free(self, position: int, early: Sequence[int]) -> int:
        """Free float of a task from its early start."""
        return max(0, self._drawn(position, early, early=True) - early[position])
