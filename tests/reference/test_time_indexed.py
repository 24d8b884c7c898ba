"""Own tasks with scarce gear and gaps against another formulation, solved by another solver.

Time-indexed: one yes-or-no for each task and start (Pritsker, Watters and Wolfe 1969, Management Science 16, 93-108;
recalled), solved by HiGHS through SciPy. Nothing is shared with the program but the instance.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array, lil_array

from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Status
from moveplan.scheduling.solve import solve
from moveplan.scheduling.verify import verify
from tests.scheduling.graded import graded, graded_with_gaps

_INFEASIBLE = 2
"""Status by which scipy.optimize.milp says that there is no solution."""


class _Indexed:
    """Rows over the starts of every task and the finish, which is the last column."""

    def __init__(self, problem: SchedulingProblem, length: int) -> None:
        self.tasks = problem.network.tasks
        self.problem = problem
        self.length = length
        self.columns = len(self.tasks) * length + 1
        self.at = {task.id: number for number, task in enumerate(self.tasks)}
        self.rows: list[tuple[dict[int, float], float, float]] = []

    def start(self, task: int, sign: float = 1.0) -> dict[int, float]:
        return {task * self.length + moment: sign * moment for moment in range(1, self.length)}

    def write(self) -> None:
        for number, task in enumerate(self.tasks):
            first = number * self.length
            last = self.length - task.minutes + 1
            self.rows.append(({first + moment: 1.0 for moment in range(max(last, 0))}, 1, 1))
            for moment in range(max(last, 0), self.length):
                self.rows.append(({first + moment: 1.0}, 0, 0))
            self.rows.append((self.start(number, -1.0) | {self.columns - 1: 1.0}, task.minutes, np.inf))
        self._gaps()
        self._gear()

    def _gaps(self) -> None:
        for link in self.problem.network.links:
            before, after = self.at[link.before], self.at[link.after]
            lasts = self.tasks[before].minutes * link.relation.from_finish
            lasts -= self.tasks[after].minutes * link.relation.to_finish
            least = -np.inf if link.min_gap_min is None else link.min_gap_min + lasts
            most = np.inf if link.max_gap_min is None else link.max_gap_min + lasts
            self.rows.append((self.start(after) | self.start(before, -1.0), least, most))

    def _gear(self) -> None:
        for gear in self.problem.gear:
            for moment in range(self.length):
                row = {
                    number * self.length + start: float(dict(task.gear)[gear.id])
                    for number, task in enumerate(self.tasks)
                    if gear.id in dict(task.gear)
                    for start in range(max(0, moment - task.minutes + 1), moment + 1)
                }
                self.rows.append((row, -np.inf, gear.count))

    def best(self) -> int | None:
        """Earliest finish; None: there is no schedule."""
        self.write()
        matrix = lil_array((len(self.rows), self.columns))
        for number, (row, _, _) in enumerate(self.rows):
            for column, value in row.items():
                matrix[number, column] = value
        limits = LinearConstraint(
            csr_array(matrix), [least for _, least, _ in self.rows], [most for _, _, most in self.rows]
        )
        aim = np.zeros(self.columns)
        aim[-1] = 1.0
        high = np.ones(self.columns)
        high[-1] = self.length
        whole = np.ones(self.columns)
        found = milp(aim, integrality=whole, bounds=Bounds(0, high), constraints=limits)
        if found.status == _INFEASIBLE:
            return None
        assert found.status == 0, found.message
        return round(float(found.fun))


def _agrees(problem: SchedulingProblem) -> str:
    found = solve(problem, Effort(seconds=2.0))
    if not found.placements:
        length = problem.horizon - problem.start
        assert (found.status, _Indexed(problem, length).best()) == (Status.INFEASIBLE, None)
        return "none"
    assert verify(problem, found) == ()
    assert found.status is Status.OPTIMAL
    assert found.bound_min == found.makespan_min == _Indexed(problem, found.makespan_min + 3).best()
    return "best"


@pytest.mark.parametrize("seed", range(4))
def test_scarce_gear_agrees_with_another_solver(seed: int) -> None:
    assert _agrees(graded(10, seed, (1.5, 1.8)[seed % 2], 0.75, (0.1, 0.3)[seed % 2])) == "best"


def test_greatest_gaps_agree_with_another_solver() -> None:
    seen = [
        _agrees(graded_with_gaps(8, seed, 0.75, (0.0, 0.2)[seed % 2], share, slack))
        for seed in range(4)
        for share, slack in ((0.1, 0.3), (0.3, 0.1))
    ]
    assert seen.count("best") >= 2
    assert seen.count("none") >= 2
