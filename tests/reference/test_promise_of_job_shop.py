"""A published job shop whose optimal timetable is kept as told starts, with operations that run over, by enumeration.

ft06: Fisher and Thompson (1963), optimum 55 (the figures stand in the data beside). Every machine keeps the order of
an optimal schedule, nothing begins before its time in it, and five operations of 8 and more may take up to four
minutes longer; all 1,024 combinations are counted. How long they run over is our own choice.
"""

from __future__ import annotations

from functools import cache
from itertools import groupby, pairwise

import pytest

from moveplan.scheduling.effort import Effort
from moveplan.scheduling.solve import solve
from tests.reference.enumerated import RUNS, Discrete
from tests.reference.test_job_shop import SECONDS, problem_of

OPTIMUM = 55
OVER_MIN = (0, 1, 2, 4)
"""Beyond the published time. [min]"""
UNSURE = 5
"""How many operations, the longest of all. [-]"""


@cache
def shop() -> tuple[Discrete, tuple[float, ...]]:
    """The operations in the order of their planned starts, and these starts."""
    problem = problem_of("ft06")
    found = solve(problem, Effort(seconds=SECONDS["ft06"]))
    assert max(one.finish for one in found.placements) == OPTIMUM
    machine = {task.id: task.gear[0][0] for task in problem.network.tasks}
    order = sorted(found.placements, key=lambda one: (one.start, one.finish, one.task))
    at = {one.task: number for number, one in enumerate(order)}
    by_machine = sorted(order, key=lambda one: (machine[one.task], one.start))
    on_machine = [
        (at[one.task], at[other.task])
        for _, row in groupby(by_machine, key=lambda one: machine[one.task])
        for one, other in pairwise(row)
    ]
    in_job = [(at[link.before], at[link.after]) for link in problem.network.links]
    minutes = [one.finish - one.start for one in order]
    unsure = sorted(range(len(order)), key=lambda number: -minutes[number])[:UNSURE]
    values = tuple(
        tuple(last + over for over in OVER_MIN) if number in unsure else (last,)
        for number, last in enumerate(minutes)
    )
    return Discrete(values, tuple(in_job + on_machine)), tuple(float(one.start) for one in order)


@pytest.mark.parametrize("late_min", [0, 2, 4])
def test_a_published_timetable_is_kept_as_often_as_the_combinations_say(late_min: int) -> None:
    net, starts = shop()
    every = {number: float(OPTIMUM + late_min) for number in range(len(starts))}
    counted = net.counted(starts, every)
    assert 0.02 < counted < 0.98
    error = 3 * (counted * (1 - counted) / RUNS) ** 0.5
    assert abs(net.simulated(starts, every) - counted) <= error
