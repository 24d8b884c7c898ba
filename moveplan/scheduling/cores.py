"""A set of demands that contradict each other and from which none can be left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from moveplan.scheduling.demands import Demands
from moveplan.scheduling.demands_words import Demand
from moveplan.scheduling.model import Model

_GUARD_FACTOR = 10.0
_FILTER_SHARE = 0.25


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

    def ask(self, chosen: Sequence[int], share: float) -> tuple[object, list[int]]:
        """Ask whether some demands can hold together; where not, also which of them contradict."""
        cp, literals = self.demands.cp, self.demands.literals
        cp.clear_assumptions()
        cp.add_assumptions([literals[at] for at in chosen])
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.num_workers = 1
        parameters.cp_model_presolve = False
        parameters.random_seed = self.seed
        parameters.max_deterministic_time = self.seconds * share
        parameters.max_time_in_seconds = max(10.0, self.seconds * share * _GUARD_FACTOR)
        status = solver.solve(cp)
        if status != cp_model.INFEASIBLE:
            return status, []
        numbers = {literals[at].index: at for at in chosen}
        found = [
            numbers[index] for index in solver.sufficient_assumptions_for_infeasibility() if index in numbers
        ]
        return status, sorted(found) or list(chosen)


def core(model: Model, seconds: float, seed: int = 1) -> Core | None:
    """Find demands that contradict each other.

    Parameters
    ----------
    model : Model
        A problem for which no schedule was found. [-]
    seconds : float
        Effort, counted deterministically. [s]
    seed : int
        Of the solver. [-]

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
    chosen, irreducible = _filtered(asker, chosen)
    return Core(tuple(demands.demands[at] for at in chosen), irreducible)


def _filtered(asker: _Asker, chosen: list[int]) -> tuple[list[int], bool]:
    """Leave out one demand after the other and keep those without which the rest can hold."""
    irreducible = True
    needed: list[int] = []
    rest = list(chosen)
    while rest:
        one = rest.pop(0)
        status, smaller = asker.ask([*needed, *rest], _FILTER_SHARE)
        if status == cp_model.INFEASIBLE:
            rest = [at for at in rest if at in smaller]
            needed = [at for at in needed if at in smaller]
        else:
            needed.append(one)
            irreducible &= status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return sorted(needed), irreducible
