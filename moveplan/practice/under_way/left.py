"""People, vehicles and days that are left: free from now on, where they are now, without what keeps them busy."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TypeVar

from moveplan.hours import without
from moveplan.network.graph import Network
from moveplan.network.task import Task
from moveplan.scheduling.problem import Person, SchedulingProblem, TiedDay, Vehicle
from moveplan.scheduling.schedule import Placement
from moveplan.times import Interval

AnyOne = TypeVar("AnyOne", Person, Vehicle)
LATEST_AFTER_MIN = 720
"""How long after the moving day has run over its tasks may still be done; assumed. [min]"""


def what_is_left(
    problem: SchedulingProblem, rest: Network, network: Network, real: Mapping[str, Placement], now: int
) -> SchedulingProblem:
    """Give people, vehicles and days from now on.

    Parameters
    ----------
    problem : SchedulingProblem
        From the beginning.
    rest : Network
        What is left to do.
    network : Network
        The tasks as they were planned, with their places.
    real : Mapping of str to Placement
        What is done or runs.
    now : int
        UTC. [min]
    """
    tasks = {task.id: task for task in network.tasks}
    stands = sorted(real.values(), key=lambda one: (one.finish, one.start, one.task))

    def left(one: AnyOne, own: list[Placement]) -> AnyOne:
        return replace(one, available=_free(one.available, own, now), home=_whereabouts(own, tasks, one.home))

    late = 0 if problem.days else max(0, now - problem.start)
    return replace(
        problem,
        network=rest,
        horizon=problem.horizon + late,  # reckoned from the start, where nobody's hours end it
        people=tuple(left(one, [at for at in stands if one.id in at.people]) for one in problem.people),
        vehicles=tuple(left(one, [at for at in stands if one.id in at.vehicles]) for one in problem.vehicles),
        tied_days=tuple(_day(tied, network, real, now) for tied in problem.tied_days),
    )


def _free(hours: tuple[Interval, ...], own: Iterable[Placement], now: int) -> tuple[Interval, ...]:
    """Give the hours from now on without what runs."""
    busy = [Interval(now, one.finish) for one in own if one.finish > now]
    return without((Interval(max(one.start, now), one.finish) for one in hours if one.finish > now), busy)


def _whereabouts(own: list[Placement], tasks: Mapping[str, Task], home: str) -> str:
    places = [tasks[one.task].ends_at for one in own if tasks[one.task].ends_at]
    return places[-1] if places else home


def _day(tied: TiedDay, network: Network, real: Mapping[str, Placement], now: int) -> TiedDay:
    """Keep a day that has begun where it is, and let it run over."""
    begun = [real[task.id].start for task in network.tasks if task.day == tied.tag and task.id in real]
    if not begun:
        return tied
    day = next((one for one in tied.days if one.start <= min(begun) < one.finish), None)
    start, finish = (day.start, day.finish) if day else (min(begun), min(begun))
    return replace(tied, days=(Interval(start, max(finish, now + LATEST_AFTER_MIN)),))
