"""The same problem in the largest unit of time that divides all of its data.

Where every duration, gap, date and hour is a multiple of a unit, so are the starts of a best schedule: rounding
every start down to a multiple keeps each gap, each order and each hour. The solver branches on single moments, so
minutes cost it much where hours would do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from math import gcd

from moveplan.estimate import exactly
from moveplan.network.link import Link
from moveplan.network.task import Task, Timing
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.model import Model, model_of
from moveplan.times import Interval


def unit_of(model: Model) -> int:
    """Give the largest unit in which a plan of own tasks may be told.

    Returns
    -------
    int
        1 where there is none, or where work pauses or recurs or wants to be late. [min]
    """
    if not model.only_finish or model.tags or any(map(_steps, model.problem.network.tasks)):
        return 1
    return max(1, gcd(*_data(model.problem)))


def _steps(task: Task) -> bool:
    pauses = task.may_pause and bool(task.crew or task.vehicles)
    return pauses or task.repeats is not None or task.timing is Timing.LATE


def _data(problem: SchedulingProblem) -> Iterator[int]:
    """Every minute that a start may depend on, counted from the start of the problem."""
    yield problem.grid_min if problem.grid_min > 1 else 0
    for task in problem.network.tasks:
        yield task.minutes
        yield from (larger.minutes for larger in task.larger_crews)
        dates = (task.not_before, task.finish_by, task.due)
        yield from (date - problem.start for date in dates if date is not None)
    for link in problem.network.links:
        yield from (gap for gap in (link.min_gap_min, link.max_gap_min) if gap is not None)
    available = [person.available for person in problem.people]
    available += [vehicle.available for vehicle in problem.vehicles]
    for hours in (stretch for own in available for stretch in own):
        yield hours.start - problem.start
        yield hours.finish - problem.start if hours.finish != problem.horizon else 0
    yield from (minutes for _, _, minutes in problem.drives)


class Coarse:
    """A problem told in a larger unit, from zero on; with a unit of 1 it is left as it is.

    Parameters
    ----------
    model : Model
        The problem in minutes.
    unit : int
        As :func:`unit_of` gives it. [min]
    """

    def __init__(self, model: Model, unit: int) -> None:
        self.fine = model
        self.unit = unit
        self.zero = model.problem.start if unit > 1 else 0
        self.model = model_of(self._problem(model.problem)) if unit > 1 else model

    def desk(self, fine: Desk) -> Desk:
        """Tell a complete schedule in the unit."""
        return _told(fine, self.model, self.number)

    def back(self, coarse: Desk) -> Desk:
        """Tell a complete schedule in minutes again."""
        return _told(coarse, self.fine, lambda number: self.zero + number * self.unit)

    def number(self, moment: int) -> int:
        """Give the number of whole units to a moment."""
        return (moment - self.zero) // self.unit

    def _problem(self, problem: SchedulingProblem) -> SchedulingProblem:
        network = problem.network
        return replace(
            problem,
            network=replace(
                network,
                tasks=tuple(self._task(task) for task in network.tasks),
                links=tuple(self._link(link) for link in network.links),
            ),
            start=0,
            horizon=self.number(problem.horizon),
            days=(),
            people=tuple(replace(p, available=self._hours(p.available)) for p in problem.people),
            vehicles=tuple(replace(v, available=self._hours(v.available)) for v in problem.vehicles),
            drives=tuple((one, other, minutes // self.unit) for one, other, minutes in problem.drives),
            grid_min=max(1, problem.grid_min // self.unit),
        )

    def _task(self, task: Task) -> Task:
        return replace(
            task,
            estimate=exactly(task.minutes // self.unit, "units", "told in a larger unit"),
            larger_crews=tuple(replace(one, minutes=one.minutes // self.unit) for one in task.larger_crews),
            not_before=None if task.not_before is None else self.number(task.not_before),
            finish_by=None if task.finish_by is None else self.number(task.finish_by),
            due=None if task.due is None else self.number(task.due),
        )

    def _link(self, link: Link) -> Link:
        least, greatest = link.min_gap_min, link.max_gap_min
        return replace(
            link,
            min_gap_min=None if least is None else least // self.unit,
            max_gap_min=None if greatest is None else greatest // self.unit,
        )

    def _hours(self, hours: Sequence[Interval]) -> tuple[Interval, ...]:
        return tuple(Interval(self.number(one.start), self.number(one.finish)) for one in hours)


def _told(desk: Desk, model: Model, moment: Callable[[int], int]) -> Desk:
    """Write a complete schedule down for the same problem in another unit."""
    other = Desk(model)
    for position, spot in enumerate(desk.spots):
        if spot is not None:
            segments = tuple((moment(begin), moment(end)) for begin, end in spot.segments)
            other.put(position, Spot(moment(spot.start), moment(spot.finish), segments, spot.crews))
    return other
