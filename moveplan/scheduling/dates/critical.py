"""Early and late dates, float, and what drives each task, on a schedule with its resource order as links."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from moveplan.network.link import Link
from moveplan.network.reach import reached
from moveplan.network.task import Timing
from moveplan.scheduling.dates.chained import Chained
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.state.calendars import Own
from moveplan.scheduling.state.frame import strong_components


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
        Whether its float is the least before its milestone; without milestones, whether it is zero.
    driver : Driver
        What keeps it from standing earlier than it does.
    effect : int
        Whether a minute more of it makes the milestone that it leads to later (1), earlier (-1) or neither.
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

    def room_min(self, start: int) -> int:
        """How far a task planned for that moment may slip; what is planned late has less than its float. [min]."""
        return max(0, self.late_start - start)


def times(problem: SchedulingProblem, schedule: Schedule) -> dict[str, Times]:
    """Early and late dates, floats, drivers and effects of every task of a schedule.

    Parameters
    ----------
    schedule : Schedule
        A schedule of it, with placements.
    """
    net = Chained(problem, schedule)
    early, late = net.forward(net.own), net.backward()
    group, rings = _groups(net), _rings(net)
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
            driver=driver_of(net, at),
            effect=0 if floats[at] else _effect(net, at, early, floats, group[at], rings),
        )
    return rows


def _groups(net: Chained) -> list[str]:
    """Find the first milestone that each task leads to; empty: only the finish."""
    group = [""] * len(net.tasks)
    for _, name in reversed(net.problem.network.milestones):
        last = net.at[name]
        for at in (last, *reached([last], lambda one: [arc[0] for arc in net.into[one] if arc[4] >= 0])):
            group[at] = name
    return group


def _rings(net: Chained) -> list[int]:
    """Give tasks that hold each other from both sides the same number; 0: a task that is alone."""
    ring = [0] * len(net.tasks)
    heads = [[arc[1] for arc in arcs] for arcs in net.out]
    for number, block in enumerate(strong_components(len(net.tasks), heads), start=1):
        for position in block if len(block) > 1 else ():
            ring[position] = number
    return ring


def _effect(
    net: Chained, position: int, early: Sequence[int], floats: Sequence[int], group: str, rings: Sequence[int]
) -> int:
    """Sign of what a minute more of a task without float does to its milestone, or to the finish.

    Where its start stays, it is enough to see whether its later finish pushes another task without float. Where
    it would start later, as one that no longer fits into its hours, what it pushes is followed; where it would start
    earlier, as a task that others hold by its finish, all dates are computed anew. Tasks that hold each other from
    both sides ask for more: one held by its finish may start earlier once the others do, and one that is pushed may
    have no float only because of how long the first takes now.
    """
    longer = Own(net.problem, net.tasks[position], net.stands[position], net.hours, 1)
    own = [*net.own[:position], longer, *net.own[position + 1 :]]
    first = net.least_start(position, early, longer)
    if first < early[position] or (rings[position] and net.held_by_finish(position, early)):
        return _change(net, early, net.anew(own), own, group)
    if first > early[position]:
        later = [*early[:position], first, *early[position + 1 :]]
        return _change(net, early, net.onwards(own, later, position), own, group)
    finish = longer.finish(early[position])
    if net.tasks[position].id == group or (not group and finish > net.last):
        return 1
    for _, head, from_finish, to_finish, gap in net.out[position]:
        if not from_finish or head == position or floats[head]:
            continue
        if net.pushed(net.own[head], early[head], finish + gap, to_finish) > early[head]:
            if rings[head] and rings[head] == rings[position]:
                return _change(net, early, net.onwards(own, early, position), own, group)
            return 1
    return 0


def _change(net: Chained, early: Sequence[int], moved: Sequence[int], own: Sequence[Own], group: str) -> int:
    """Sign of how far the milestone, or the finish, has moved."""

    def end(starts: Sequence[int], lasting: Sequence[Own]) -> int:
        ends = [one.finish(start) for one, start in zip(lasting, starts, strict=True)]
        return ends[net.at[group]] if group else max(ends)

    change = end(moved, own) - end(early, net.own)
    return (change > 0) - (change < 0)


@dataclass(frozen=True, slots=True)
class Driver:
    """What keeps a task from being earlier.

    Parameters
    ----------
    kind : str
        ``link``, ``person``, ``vehicle``, ``gear``, ``hours`` (nobody of its crew is free earlier),
        ``date`` (its own not-before), ``day`` (its tied day), ``start`` (of the plan), ``margin`` (it is to be
        late) or ``choice`` (an aim is better served so).
    task : str
        Id of the task it waits for, or for which it is late; else empty.
    resource : str
        Id of the person, vehicle or gear that both need; else empty.
    link : Link or None
        The link, where there is one.
    """

    kind: str
    task: str = ""
    resource: str = ""
    link: Link | None = None


def driver_of(net: Chained, position: int) -> Driver:
    """Find what keeps a task from standing earlier: the tightest arc, its hours, a date, or a choice."""
    stands, own, task = net.stands[position], net.own[position], net.tasks[position]
    best: tuple[int, Driver] = (net.floor[position], _dated(net, position))
    for arc, link, order in net.reasons[position]:
        tail, _, from_finish, to_finish, gap = arc
        if tail == position:
            continue
        moment = (net.stands[tail].finish if from_finish else net.stands[tail].start) + gap
        if to_finish:
            moment = own.leading_to(moment)
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


def _dated(net: Chained, position: int) -> Driver:
    task = net.tasks[position]
    if task.day and net.floor[position] > (task.not_before or net.problem.start):
        return Driver("day")
    return Driver("date" if task.not_before is not None and task.not_before > net.problem.start else "start")
