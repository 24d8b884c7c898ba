"""Ways out of a plan that cannot be done, each tried before it is offered."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from moveplan.errors import WayOut
from moveplan.scheduling.construct.search import search
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.impossible.capacity import check_capacity
from moveplan.scheduling.impossible.checks import check_all
from moveplan.scheduling.impossible.demands_words import Demand
from moveplan.scheduling.improve.result import schedule_of
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine, Schedule
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.state.frame import frame_of
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.verify import verify
from moveplan.scheduling.ways_out.along import days_along
from moveplan.scheduling.ways_out.changes import Way, joined, ways_for

_SECONDS_A_TRY = 0.05
"""Effort for each way out that is tried, by the serial search. Chosen. [s]"""
_MOST_TRIES = 40
"""Most changes tried for one reason, so that the answer comes within seconds. Chosen. [-]"""
_MOST_TRIES_ALONG = 48
"""Schedules looked for at most, each alone and with what has to move along, in a plan of so many tasks: [-]"""
_TASKS_A_TRY = 120
"""... of larger ones fewer, so that ways out take no longer than they do there; assumed. [-]"""
_MOST_PAIRS = 6
"""Most pairs of changes tried where none helps alone. Chosen. [-]"""
MOST_TASKS_TRIED = 2_000
"""Largest plan in which ways out are tried; each try schedules all of it. Chosen. [-]"""


class Trials:
    """Counts what is tried.

    Parameters
    ----------
    problem : SchedulingProblem
        The larger it is, the longer a try takes.
    most : int
        How many at most.
    """

    def __init__(self, problem: SchedulingProblem, effort: Effort, most: int = _MOST_TRIES) -> None:
        self.effort = effort
        self.left = min(most, most * _TASKS_A_TRY // max(len(problem.network.tasks), 1))

    def possible(self, problem: SchedulingProblem) -> Desk | None:
        """Give a schedule where one is found, and None where not or where enough has been tried."""
        if self.left <= 0 or (self.effort.interrupted is not None and self.effort.interrupted()):
            return None
        self.left -= 1
        return possible(problem, self.effort)


def tried(problem: SchedulingProblem, demands: Sequence[Demand], effort: Effort) -> list[WayOut]:
    """Try the ways out of a contradiction with the serial engine, and say those that work.

    Parameters
    ----------
    problem : SchedulingProblem
        The problem as it stands.
    demands : sequence of Demand
        Those that contradict each other.

    Returns
    -------
    list of WayOut
        What to do, each alone enough; where nothing alone is, another day with what has to move along.
    """
    if len(problem.network.tasks) > MOST_TASKS_TRIED:
        return []
    trials = Trials(problem, effort)
    found = [out for way in ways_for(problem, demands) if (out := alone(problem, way, trials))]
    return found or list(days_along(problem, demands, Trials(problem, effort, _MOST_TRIES_ALONG).possible))


def two_at_once(problem: SchedulingProblem, demands: Sequence[Demand], effort: Effort) -> list[WayOut]:
    """Try two changes together where none alone does, and say the first pair that works."""
    if len(problem.network.tasks) > MOST_TASKS_TRIED:
        return []
    return list(_together(problem, demands, Trials(problem, effort)))[:1]


def alone(problem: SchedulingProblem, way: Way, trials: Trials) -> WayOut | None:
    """Try one way, the least amount first; None where none is seen to do."""
    low = 0
    for step, amount in enumerate(way.amounts):
        desk = trials.possible(way.changed(problem, amount))
        if desk is not None:
            best, desk = _least(problem, way, low, amount, desk, trials) if step else (amount, desk)
            return way.told(best, desk)
        low = amount
    return None


def _least(
    problem: SchedulingProblem, way: Way, low: int, high: int, desk: Desk, trials: Trials
) -> tuple[int, Desk]:
    """Narrow an amount that works down towards one that does not."""
    for _ in range(3):
        middle = (low + high) // 2
        if middle in (low, high):
            break
        other = trials.possible(way.changed(problem, middle))
        if other is None:
            low = middle
        else:
            high, desk = middle, other
    return high, desk


def _together(problem: SchedulingProblem, demands: Sequence[Demand], trials: Trials) -> Iterator[WayOut]:
    """Try two ways at once: both as far as they go, then each as little as does."""
    ways = [way for way in ways_for(problem, demands) if way.amounts]
    for one, other in list(combinations(ways, 2))[:_MOST_PAIRS]:
        most = other.changed(problem, other.amounts[-1])
        if trials.possible(one.changed(most, one.amounts[-1])) is None:
            continue
        first = next((a for a in one.amounts if trials.possible(one.changed(most, a))), one.amounts[-1])
        less = one.changed(problem, first)
        for amount in other.amounts:
            desk = trials.possible(other.changed(less, amount))
            if desk is not None:
                yield joined((one.told(first, desk), other.told(amount, desk)))
                break


def possible(problem: SchedulingProblem, effort: Effort) -> Desk | None:
    """Give a schedule if the serial engine finds one quickly; one that breaks a limit is none."""
    if check_all(problem):
        return None
    model = model_of(problem)
    if check_capacity(model):
        return None
    short = Effort(_SECONDS_A_TRY, effort.seed, "serial", effort.interrupted)
    meter = Meter(short)
    desk = search(frame_of(model), short, meter, first_only=True).desk
    if desk is None or verify(problem, schedule_of(desk, (), Engine.SERIAL, meter)):
        return None
    return desk


def quickly(problem: SchedulingProblem, effort: Effort) -> Schedule | None:
    """Give a schedule that is seen at once, by the serial engine alone; None where none is."""
    desk = possible(problem, effort)
    return None if desk is None else schedule_of(desk, (), Engine.SERIAL, Meter(effort))
