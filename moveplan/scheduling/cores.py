"""A set of demands that contradict each other and from which none can be left out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from moveplan.scheduling.demands import Demands
from moveplan.scheduling.demands_words import Demand
from moveplan.scheduling.loosen import concerned, without
from moveplan.scheduling.model import Model, model_of
from moveplan.scheduling.problem import SchedulingProblem

_GUARD_FACTOR = 10.0
_FILTER_SHARES = (0.1, 0.4)
_DETERMINISTIC_A_SECOND = 2.0
_FILTER_SECONDS = 1.5


@dataclass(frozen=True, slots=True)
class Core:
    """Demands that cannot all hold.

    Parameters
    ----------
    demands : tuple of Demand
        The set. [-]
    irreducible : bool
        Whether it is shown that the rest can hold when any one is left out. [-]
    """

    demands: tuple[Demand, ...]
    irreducible: bool


class _Asker:
    def __init__(self, demands: Demands, seconds: float, seed: int) -> None:
        self.demands = demands
        self.seconds = seconds
        self.seed = seed
        self.left = seconds * _FILTER_SECONDS

    def ask(self, chosen: Sequence[int], share: float) -> tuple[object, list[int]]:
        """Ask whether some demands can hold together; where not, also which of them contradict."""
        cp, literals = self.demands.cp, self.demands.literals
        cp.clear_assumptions()
        wanted = set(chosen)
        cp.add_assumptions([lit if at in wanted else lit.negated() for at, lit in enumerate(literals)])
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.num_workers = 1
        parameters.cp_model_presolve = False
        parameters.random_seed = self.seed
        parameters.max_deterministic_time = self.seconds * share * _DETERMINISTIC_A_SECOND
        parameters.max_time_in_seconds = max(20.0, self.seconds * share * _GUARD_FACTOR)
        status = solver.solve(cp)
        self.left -= solver.response_proto.deterministic_time / _DETERMINISTIC_A_SECOND
        if status != cp_model.INFEASIBLE:
            return status, []
        numbers = {literals[at].index: at for at in chosen}
        found = [
            numbers[index] for index in solver.sufficient_assumptions_for_infeasibility() if index in numbers
        ]
        return status, sorted(found) or list(chosen)


def core(
    model: Model, seconds: float, seed: int = 1, possible: Callable[[SchedulingProblem], bool] | None = None
) -> Core | None:
    """Find demands that contradict each other.

    Parameters
    ----------
    model : Model
        A problem for which no schedule was found. [-]
    seconds : float
        Effort, counted deterministically. [s]
    seed : int
        Of the solver. [-]
    possible : callable or None
        Another way to see that a problem has a schedule, quicker than the solver's. [-]

    Returns
    -------
    Core or None
        None: no contradiction was proven. [-]
    """
    demands = Demands(model)
    asker = _Asker(demands, seconds, seed)
    status, chosen = asker.ask(range(len(demands.literals)), 1.0)
    if status != cp_model.INFEASIBLE:
        return None
    for whole in (False, True):
        part = concerned(model.problem, [demands.demands[at] for at in chosen], whole)
        if len(part.network.tasks) < len(model.jobs):
            smaller = core(model_of(part), seconds, seed, possible)
            if smaller is not None:
                return smaller
    chosen, irreducible = _Filter(model, asker, possible).filtered(chosen)
    return Core(tuple(demands.demands[at] for at in chosen), irreducible)


class _Filter:
    """Leaves out one demand after the other, and keeps those without which the rest can hold."""

    def __init__(
        self, model: Model, asker: _Asker, possible: Callable[[SchedulingProblem], bool] | None
    ) -> None:
        self.model = model
        self.asker = asker
        self.possible = possible

    def filtered(self, chosen: list[int]) -> tuple[list[int], bool]:
        """Give what is left, and whether each of it is shown to be needed."""
        irreducible = True
        needed: list[int] = []
        rest = list(chosen)
        while rest:
            one = rest.pop(0)
            holds, smaller = self._hold(one, [*needed, *rest])
            if holds is False:
                rest = [at for at in rest if at in smaller]
            else:
                needed.append(one)
                irreducible &= holds is True
        return sorted(needed), irreducible

    def _hold(self, one: int, others: list[int]) -> tuple[bool | None, list[int]]:
        """Whether some demands can hold together once one more is left out; None: not known."""
        for share in _FILTER_SHARES:
            if self.asker.left <= 0:
                return (True, []) if self._seen(one) else (None, [])
            status, smaller = self.asker.ask(others, share)
            if status == cp_model.INFEASIBLE:
                return False, smaller
            if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                return True, []
            if share == _FILTER_SHARES[0] and self._seen(one):
                return True, []
        return None, []

    def _seen(self, one: int) -> bool:
        """Whether the whole problem has a schedule once one demand is left out."""
        if self.possible is None:
            return False
        loose = without(self.model.problem, self.asker.demands.demands[one])
        return loose is not None and self.possible(loose)
