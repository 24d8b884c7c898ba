"""When a task with its crew and vehicles could start and finish if nothing else were booked."""

from __future__ import annotations

from bisect import bisect_right
from functools import reduce

from moveplan.network.task import Task
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Placement
from moveplan.scheduling.state.tracks import NEVER, Windows
from moveplan.times import Interval


class Own:
    """The hours of one task as it stands in a schedule: its crew and vehicles are kept.

    Parameters
    ----------
    problem : SchedulingProblem
        Knows the hours.
    hours : Together
        The hours of whoever does it.
    more : int
        Minutes by which it lasts longer than it stands. [min]
    """

    def __init__(
        self, problem: SchedulingProblem, task: Task, stands: Placement, hours: Together, more: int = 0
    ) -> None:
        self.grid = problem.grid_min
        self.start = problem.start
        self.pauses = task.may_pause and task.repeats is None
        self.rigid = stands.finish - stands.start + more
        self.work = sum(piece.minutes for piece in stands.segments) + more
        self.first = stands.segments[0].minutes + more
        self.hours = hours.of(stands)

    def fit(self, moment: int) -> int:
        """Earliest start of the grid not before a moment."""
        while True:
            moment = moment + (self.start - moment) % self.grid
            if self.hours is None:
                return moment
            lasts = min(self.work, 1) if self.pauses else self.first
            later = self.hours.fit(moment, lasts)
            if later in (moment, NEVER):
                return later
            moment = later

    def finish(self, start: int) -> int:
        """Finish of a start."""
        if not self.pauses or self.hours is None:
            return start + self.rigid
        work = self.hours.walk(start, self.work)
        return work[-1][1] if work else NEVER

    def leading_to(self, finish: int) -> int:
        """Moment from which on every start ends at or after a finish."""
        if not self.pauses:
            return finish - self.rigid
        before = self.latest(NEVER, finish - 1)
        return before + self.grid if self.finish(before) < finish else self.start

    def latest(self, start: int, finish: int) -> int:
        """Latest start not after one moment whose finish is not after another; the least there is else."""
        low, high = self.start, min(start, finish)
        if self.hours is None:
            high = min(start, finish - self.rigid)
            return high - (high - self.start) % self.grid
        high = min(high, self._back(finish) if self.pauses else finish - self.rigid)
        return max(low, self._within(high))

    def _within(self, high: int) -> int:
        """Latest start of the grid up to a moment that lies within the hours."""
        if self.hours is None:
            return high
        lasts = min(self.work, 1) if self.pauses else self.first
        at = bisect_right(self.hours.starts, high) - 1
        while at >= 0:
            moment = min(high, self.hours.finishes[at] - lasts)
            moment -= (moment - self.start) % self.grid
            if moment >= self.hours.starts[at]:
                return moment
            at -= 1
        return self.start

    def _back(self, finish: int) -> int:
        """Latest start from which work that pauses is done by a moment."""
        if self.hours is None:
            return finish - self.work
        left = self.work
        at = bisect_right(self.hours.starts, finish) - 1
        while at >= 0:
            end = min(finish, self.hours.finishes[at])
            if end - self.hours.starts[at] >= left:
                return end - left
            left -= max(0, end - self.hours.starts[at])
            at -= 1
        return self.start


class Together:
    """Hours that those of a crew and its vehicles have in common, worked out once for each of them.

    Parameters
    ----------
    problem : SchedulingProblem
        Knows the hours.
    """

    def __init__(self, problem: SchedulingProblem) -> None:
        self._problem = problem
        self._known: dict[tuple[tuple[str, ...], tuple[str, ...]], Windows | None] = {}

    def of(self, stands: Placement) -> Windows | None:
        """Give the hours of a placement; None where it needs nobody."""
        names = stands.segment_people[0] if stands.segment_people else stands.people
        key = names, stands.vehicles
        if key not in self._known:
            self._known[key] = self._shared(names, stands.vehicles)
        return self._known[key]

    def _shared(self, names: tuple[str, ...], vehicles: tuple[str, ...]) -> Windows | None:
        hours = [person.available for person in self._problem.people if person.id in names]
        hours += [vehicle.available for vehicle in self._problem.vehicles if vehicle.id in vehicles]
        return reduce(Windows.common, map(Windows, hours)) if hours else None


def day_of(problem: SchedulingProblem, moment: int) -> Interval:
    """Give the local day in which a moment lies; the whole time where days are not told."""
    for day in problem.days:
        if day.start <= moment < day.finish:
            return day
    return Interval(problem.start, problem.horizon)
