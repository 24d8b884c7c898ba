"""Another day for what is tied to one, with the dates and hires that have to move along."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from moveplan.errors import WayOut
from moveplan.scheduling.impossible.demands_words import Demand
from moveplan.scheduling.impossible.loosen import tag_names
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.ways_out import other_day
from moveplan.scheduling.ways_out.changes import Way, joined, later_finish, longer_hire

Possible = Callable[[SchedulingProblem], Desk | None]
_MOST_ALONG = 6
"""Most other changes that each are tried together with the wanted one. Chosen. [-]"""


def days_along(problem: SchedulingProblem, demands: Sequence[Demand], possible: Possible) -> Iterator[WayOut]:
    """Say on which other day things work if dates and hires move along, each by the least of some amounts that does.

    Parameters
    ----------
    demands : sequence of Demand
        Those that contradict each other; only their tied days are moved.
    possible : callable
        Gives a schedule where one is found.
    """
    others = _others(problem)
    if not others or len(others) > _MOST_ALONG:
        return
    tags = tag_names(problem)
    for tag in dict.fromkeys(tags[demand.index] for demand in demands if demand.kind == "day"):
        for amount in other_day.amounts_of(problem, tag):
            base = other_day.moved(problem, tag, amount)
            if possible(_with(base, others, [len(way.amounts) for way in others])) is not None:
                way = _told(problem, tag, amount, base, others, possible)
                yield from (way,) if way else ()
                break


def _others(problem: SchedulingProblem) -> list[Way]:
    """Dates to be over by, and hours of vehicles."""
    dated = (at for at, task in enumerate(problem.network.tasks) if task.finish_by is not None)
    hired = (at for at, vehicle in enumerate(problem.vehicles) if vehicle.available)
    ways = [*(later_finish(problem, at) for at in dated), *(longer_hire(problem, at) for at in hired)]
    return [way for way in ways if way.amounts]


def _with(base: SchedulingProblem, others: Sequence[Way], steps: Sequence[int]) -> SchedulingProblem:
    """Change a problem by some ways, each by the amount of its step; step 0: not at all."""
    for way, step in zip(others, steps, strict=True):
        base = way.changed(base, way.amounts[step - 1]) if step else base
    return base


def _told(
    problem: SchedulingProblem,
    tag: str,
    amount: int,
    base: SchedulingProblem,
    others: Sequence[Way],
    possible: Possible,
) -> WayOut | None:
    """Take each of the others back as far as goes, one after the other, and say what is left."""
    steps = [len(way.amounts) for way in others]
    for at in range(len(others)):
        low = -1
        while steps[at] - low > 1:
            middle = 0 if low < 0 else (low + steps[at]) // 2
            fewer = [*steps[:at], middle, *steps[at + 1 :]]
            if possible(_with(base, others, fewer)) is None:
                low = middle
            else:
                steps[at] = middle
    desk = possible(_with(base, others, steps))
    if desk is None:
        return None
    parts = [other_day.told(problem, tag, amount, desk)]
    parts += [way.told(way.amounts[step - 1], desk) for way, step in zip(others, steps, strict=True) if step]
    return joined(parts)
