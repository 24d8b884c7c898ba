"""Early and late dates, float, and what drives each task, on a schedule with its resource order as links."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

from moveplan.network.link import Link
from moveplan.network.task import Timing
from moveplan.scheduling.calendars import Own, day_of
from moveplan.scheduling.order import Order, resource_order
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.tracks import NEVER

_ROUNDS_A_TASK = 40


@dataclass(frozen=True, slots=True)
class Driver:
    """What keeps a task from being earlier.

    Parameters
    ----------
    kind : str
        ``link``, ``person``, ``vehicle``, ``gear``, ``hours`` (nobody of its crew is free earlier),
        ``date`` (its own not-before), ``day`` (its tied day), ``start`` (of the plan), ``margin`` (it is to be
        late) or ``choice`` (an aim is better served so). [-]
    task : str
        Id of the task it waits for, or for which it is late; else empty. [-]
    resource : str
        Id of the person, vehicle or gear that both need; else empty. [-]
    link : Link or None
        The link, where there is one. [-]
    """

    kind: str
    task: str = ""
    resource: str = ""
    link: Link | None = None


@dataclass(frozen=True, slots=True)
class Times:
    """What one task may do without harm.

    Parameters
    ----------
    early_start, early_finish, late_start, late_finish : int
        UTC. [min]
    total_float_min : int
        Late start less early start, elapsed. [min]
    free_float_min : int
        How far it may move from its early start without moving the early start of any other. [min]
    critical : bool
        Whether its float is the least before its milestone; without milestones, whether it is zero. [-]
    driver : Driver
        What keeps it from standing earlier than it does. [-]
    effect : int
        Whether a minute more of it makes the milestone that it leads to later (1), earlier (-1) or neither. [-]
    """

    early_start: int
    early_finish: int
    late_start: int
    late_finish: int
    total_float_min: int
    free_float_min: int
    critical: bool
    driver: Driver
    effect: int


Arc = tuple[int, int, bool, bool, int]


class _Net:
    """The network of a schedule: its own links and the order of its resources."""

    def __init__(self, problem: SchedulingProblem, schedule: Schedule) -> None:
        self.problem = problem
        self.tasks = problem.network.tasks
        self.at = {task.id: position for position, task in enumerate(self.tasks)}
        placed = {placement.task: placement for placement in schedule.placements}
        self.stands = [placed[task.id] for task in self.tasks]
        self.orders = resource_order(problem, schedule)
        self.own = [Own(problem, task, stands) for task, stands in zip(self.tasks, self.stands, strict=True)]
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

    def forward(self, own: Sequence[Own], capped: bool = True) -> list[int]:
        """Earliest starts; never later than the schedule's own unless tasks last longer than there."""
        start = [own[at].fit(self.floor[at]) for at in range(len(self.tasks))]
        queue, queued = deque(range(len(self.tasks))), [True] * len(self.tasks)
        rounds = _ROUNDS_A_TASK * (len(self.tasks) + 1)
        while queue and rounds:
            rounds -= 1
            tail = queue.popleft()
            queued[tail] = False
            finish = own[tail].finish(start[tail])
            for _, head, from_finish, to_finish, gap in self.out[tail]:
                moment = self.pushed(
                    own[head], start[head], (finish if from_finish else start[tail]) + gap, to_finish
                )
                if moment > start[head]:
                    start[head] = moment
                    if not queued[head]:
                        queue.append(head)
                        queued[head] = True
        if not capped:
            return start
        return [min(early, stands.start) for early, stands in zip(start, self.stands, strict=True)]

    def pushed(self, own: Own, start: int, moment: int, to_finish: bool) -> int:
        """Earliest start at or after the present one that brings the start, or the finish, to a moment."""
        if not to_finish:
            return own.fit(moment) if moment > start else start
        while own.finish(start) < moment < NEVER:
            later = own.fit(start + max(1, moment - own.finish(start)))
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
        queue, queued = deque(reversed(range(len(self.tasks)))), [True] * len(self.tasks)
        rounds = _ROUNDS_A_TASK * (len(self.tasks) + 1)
        while queue and rounds:
            rounds -= 1
            head = queue.popleft()
            queued[head] = False
            for tail in {arc[0] for arc in self.into[head]}:
                moment = max(self._drawn(tail, start), self.stands[tail].start)
                if moment < start[tail]:
                    start[tail] = moment
                    if not queued[tail]:
                        queue.append(tail)
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


def times(problem: SchedulingProblem, schedule: Schedule) -> dict[str, Times]:
    """Early and late dates, floats, drivers and effects of every task of a schedule.

    Parameters
    ----------
    problem : SchedulingProblem
        The problem. [-]
    schedule : Schedule
        A schedule of it, with placements. [-]

    Returns
    -------
    dict of str to Times
        By task id. [-]
    """
    net = _Net(problem, schedule)
    early, late = net.forward(net.own), net.backward()
    group = _groups(net)
    floats = [max(0, last - first) for first, last in zip(early, late, strict=True)]
    least = {name: min(floats[at] for at in range(len(floats)) if group[at] == name) for name in set(group)}
    if not problem.network.milestones:
        least = dict.fromkeys(least, 0)
    rows = {}
    for at, task in enumerate(net.tasks):
        own = net.own[at]
        rows[task.id] = Times(
            early_start=early[at],
            early_finish=own.finish(early[at]),
            late_start=early[at] + floats[at],
            late_finish=own.finish(early[at] + floats[at]),
            total_float_min=floats[at],
            free_float_min=min(floats[at], net.free(at, early)),
            critical=floats[at] == least[group[at]],
            driver=_driver(net, at),
            effect=_effect(net, at, early, floats, group[at]) if floats[at] == 0 else 0,
        )
    return rows


def _groups(net: _Net) -> list[str]:
    """Find the first milestone that each task leads to; empty: only the finish."""
    group = [""] * len(net.tasks)
    for _, name in reversed(net.problem.network.milestones):
        todo = [net.at[name]]
        seen = set(todo)
        while todo:
            position = todo.pop()
            group[position] = name
            for tail, _, _, _, gap in net.into[position]:
                if tail not in seen and gap >= 0:
                    seen.add(tail)
                    todo.append(tail)
    return group


def _effect(net: _Net, position: int, early: Sequence[int], floats: Sequence[int], group: str) -> int:
    """Sign of what a minute more of a task without float does to its milestone, or to the finish.

    Where its start stays, it is enough to see whether its later finish pushes another task without float. Where
    it would start earlier, as a task that others hold by its finish, all dates are computed anew.
    """
    longer = Own(net.problem, net.tasks[position], net.stands[position], 1)
    if net.least_start(position, early, longer) < early[position]:
        return _effect_anew(net, position, early, longer, group)
    finish = longer.finish(early[position])
    if net.tasks[position].id == group or (not group and finish > net.last):
        return 1
    for _, head, from_finish, to_finish, gap in net.out[position]:
        if not from_finish or head == position or floats[head]:
            continue
        if net.pushed(net.own[head], early[head], finish + gap, to_finish) > early[head]:
            return 1
    return 0


def _effect_anew(net: _Net, position: int, early: Sequence[int], longer: Own, group: str) -> int:
    own = list(net.own)
    own[position] = longer
    moved = net.forward(own, capped=False)

    def end(starts: Sequence[int], lasting: Sequence[Own]) -> int:
        ends = [one.finish(start) for one, start in zip(lasting, starts, strict=True)]
        return ends[net.at[group]] if group else max(ends)

    change = end(moved, own) - end(early, net.own)
    return (change > 0) - (change < 0)


def _driver(net: _Net, position: int) -> Driver:
    """Find what keeps a task from standing earlier: the tightest arc, its hours, a date, or a choice."""
    stands, own, task = net.stands[position], net.own[position], net.tasks[position]
    best: tuple[int, Driver] = (net.floor[position], _dated(net, position))
    for arc, link, order in net.reasons[position]:
        tail, _, from_finish, to_finish, gap = arc
        if tail == position:
            continue
        moment = (net.stands[tail].finish if from_finish else net.stands[tail].start) + gap
        if to_finish:
            moment -= stands.finish - stands.start
        if moment > best[0]:
            kind = order.kind if order else "link"
            resource = order.resource if order else ""
            best = moment, Driver(kind, net.tasks[tail].id, resource, None if order else link)
    moment, driver = best
    if moment >= stands.start:
        return driver
    if own.fit(moment) >= stands.start:
        return Driver("hours", driver.task, min(stands.people, default="")) if own.hours else driver
    if task.timing is Timing.LATE:
        heads = [(net.stands[arc[1]].start, net.tasks[arc[1]].id) for arc in net.out[position] if arc[4] >= 0]
        return Driver("margin", min(heads)[1] if heads else "")
    return Driver("choice")


def _dated(net: _Net, position: int) -> Driver:
    task = net.tasks[position]
    if task.day and net.floor[position] > (task.not_before or net.problem.start):
        return Driver("day")
    return Driver("date" if task.not_before is not None and task.not_before > net.problem.start else "start")
