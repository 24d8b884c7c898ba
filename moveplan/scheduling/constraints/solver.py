"""The solver's settings, and a run of it that the keeper can end."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

from moveplan.scheduling.constraints.library import cp_model
from moveplan.scheduling.constraints.pace import OWN_TASKS_A_SECOND
from moveplan.scheduling.effort import Effort

_GUARD_FACTOR = 15.0
"""Wall-clock limit as a multiple of the deterministic time asked for: struck on a very slow machine only. Chosen.
[-]"""
_GUARD_AT_LEAST_S = 30.0
"""Least wall-clock limit, so that short searches end by deterministic time even on a busy machine. Chosen. [s]"""
_POLL_S = 0.1
"""How often an interrupt is looked for while the solver works: as good as at once for a person. [s]"""


class _Watch(cp_model.CpSolverSolutionCallback):
    """Tells of each better schedule."""

    def __init__(self, effort: Effort, goal: str) -> None:
        super().__init__()
        self._effort = effort
        self._goal = goal

    def on_solution_callback(self) -> None:
        """Pass on what the solver has found."""
        self._effort.says(
            f"{self._goal}: {int(self.objective_value)}, bound {int(self.best_objective_bound)}"
        )


def solver_with(
    seconds: float,
    seed: int,
    hinted: bool,
    light: bool,
    presolved: bool = True,
    orders: bool = True,
    rate: float = OWN_TASKS_A_SECOND,
    relaxed: bool = True,
) -> cp_model.CpSolver:
    """Make a solver that gives the same answer each time within an effort.

    Presolving a large move takes many times longer than improving it from a hint, and deterministic time does
    not count it. To find more about orders (``orders``) pays for the finish, and not for how long a stay is. The
    solver's dynamic precedences are left alone: they prove no more, and on a heart that cannot be they end the program.
    A linear relaxation (``relaxed``) tells how long the stays are in all; of a quick question, or of the finish and
    the money of a move, it tells less than it costs: the finish of the small move is proven in 0.002 of the solver's
    own seconds without it, and not in 0.12 with it.
    """
    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = 1
    parameters.use_strong_propagation_in_disjunctive = orders
    parameters.random_seed = seed
    parameters.catch_sigint_signal = False
    parameters.max_deterministic_time = seconds * rate
    parameters.max_time_in_seconds = max(_GUARD_AT_LEAST_S, seconds * _GUARD_FACTOR)
    if hinted:
        parameters.cp_model_probing_level = 0
    if light:
        parameters.max_presolve_iterations = 1
        parameters.symmetry_level = 0
    if not relaxed:
        parameters.linearization_level = 0
    if not presolved:
        parameters.cp_model_presolve = False
    return solver


def run(solver: cp_model.CpSolver, cp: cp_model.CpModel, effort: Effort, goal: str) -> None:
    """Solve, and stop with the best found where the keeper asks for it.

    Python hears of an interrupt only between two steps of its own, so the solver works in a thread beside it.

    Parameters
    ----------
    solver, cp : CpSolver, CpModel
        What to run; the answer stays with the solver.
    effort : Effort
        Knows who is told and who may interrupt.
    goal : str
        Name of the aim, for those who watch.
    """
    with ThreadPoolExecutor(max_workers=1) as pool:
        future = pool.submit(solver.solve, cp, _Watch(effort, goal))
        busy = True
        try:
            while True:
                busy = busy and effort.meanwhile is not None and effort.meanwhile()
                try:
                    future.result(timeout=0.0 if busy else _POLL_S)
                    return
                except TimeoutError:
                    if effort.interrupted is not None and effort.interrupted():
                        solver.stop_search()
        finally:
            solver.stop_search()
