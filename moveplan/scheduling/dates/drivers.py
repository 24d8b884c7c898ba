"""What keeps each task of a schedule from standing earlier."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.network.link import Link
from moveplan.network.task import Timing
from moveplan.scheduling.dates.chained import Chained


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
