"""A set of demands that contradict each other and from which none can be left out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from moveplan.scheduling.constraints.library import cp_model
from moveplan.scheduling.constraints.pace import OWN_TASKS_A_SECOND
from moveplan.scheduling.constraints.solver import run, solver_with
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.impossible.checks import check_all
from moveplan.scheduling.impossible.demands import Demands
from moveplan.scheduling.impossible.demands_words import Demand
from moveplan.scheduling.impossible.loosen import concerned, only, tag_names
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.state.model import Model, model_of

_FILTER_SHARES = (0.1, 0.4)
"""Shares of the effort for one question; the second where the first was not enough. Chosen. [-]"""
_MORE = 2.0
"""How many times its share of the effort a question may take: one without an answer is of no use. [-]"""
_FILTER_SECONDS = 1.5
"""Effort for making a set of contradicting demands smaller, for each second of the search. Chosen. [-]"""
_MOST_SETTLED = 3
"""Most times that the contradicting demands are asked alone, to need fewer of them. Chosen. [-]"""
_EARLY = {"one-at-a-time": 0, "hours": 1, "vehicle": 2, "gear": 3, "day": 4}


@dataclass(frozen=True, slots=True)
class Core:
    """Demands that cannot all hold.

    Parameters
    ----------
    irreducible : bool
        Whether it is shown that the rest can hold when any one is left out.
    """

    demands: tuple[Demand, ...]
    irreducible: bool


class _Asker:
    def __init__(self, demands: Demands, effort: Effort, seconds: float) -> None:
        self.demands = demands
        self.effort = effort
        self.seconds = seconds
        self.left = seconds * _FILTER_SECONDS

    def ask(self, chosen: Sequence[int], share: float) -> tuple[object, list[int]]:
        """Ask whether some demands can hold together; where not, also which of them contradict."""
        cp, literals = self.demands.cp, self.demands.literals
        cp.clear_assumptions()
        wanted = set(chosen)
        cp.add_assumptions([lit if at in wanted else lit.negated() for at, lit in enumerate(literals)])
        solver = solver_with(
            self.seconds * share * _MORE, self.effort.seed, hinted=False, light=False, presolved=False
        )
        run(solver, cp, self.effort, "contradiction")
        status = solver.response_proto.status
        self.left -= solver.response_proto.deterministic_time / (OWN_TASKS_A_SECOND * _MORE)
        if status != cp_model.INFEASIBLE:
            return status, []
        numbers = {literals[at].index: at for at in chosen}
        found = [
            numbers[index] for index in solver.sufficient_assumptions_for_infeasibility() if index in numbers
        ]
        return status, sorted(found) or list(chosen)


def core(
    model: Model,
    effort: Effort,
    seconds: float,
    possible: Callable[[SchedulingProblem], bool] | None = None,
) -> Core | None:
    """Find demands that contradict each other.

    Parameters
    ----------
    model : Model
        A problem for which no schedule was found.
    seconds : float
        Part of the effort that it may take. [s]
    possible : callable or None
        Another way to see that a problem has a schedule, quicker than the solver's.

    Returns
    -------
    Core or None
        None: no contradiction was proven.
    """
    demands = Demands(model)
    asker = _Asker(demands, effort, seconds)
    status, chosen = asker.ask(range(len(demands.literals)), 1.0)
    if status != cp_model.INFEASIBLE:
        return None
    for whole in (False, True):
        part = concerned(model.problem, [demands.demands[at] for at in chosen], whole)
        if len(part.network.tasks) < len(model.jobs):
            smaller = core(model_of(part), effort, seconds, possible)
            if smaller is not None:
                return in_terms_of(model.problem, part, smaller)
    chosen, irreducible = _Filter(model, asker, possible).filtered(_settled(asker, chosen))
    return Core(tuple(demands.demands[at] for at in chosen), irreducible)


def _settled(asker: _Asker, chosen: list[int]) -> list[int]:
    """Ask the contradicting demands alone, as long as the solver then needs fewer of them."""
    for _ in range(_MOST_SETTLED):
        status, smaller = asker.ask(chosen, _FILTER_SHARES[0])
        if status != cp_model.INFEASIBLE or len(smaller) == len(chosen):
            break
        chosen = smaller
    return chosen


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
        rest = self._last_in_doubt(chosen)
        while rest:
            one = rest.pop(0)
            holds, smaller = self._hold([*needed, *rest])
            if holds is False:
                rest = [at for at in rest if at in smaller]
            else:
                needed.append(one)
                irreducible &= holds is True
        return sorted(needed), irreducible

    def _last_in_doubt(self, chosen: list[int]) -> list[int]:
        """Put resources first, and of these people: what can be left out of them makes the rest easy to test."""
        demands = self.asker.demands.demands
        return sorted(chosen, key=lambda at: (_EARLY.get(demands[at].kind, len(_EARLY)), at))

    def _hold(self, others: list[int]) -> tuple[bool | None, list[int]]:
        """Whether some demands can hold together; where not, which of them contradict; None: not known."""
        if self._seen(others):
            return True, []
        if self._shown(others):
            return False, others
        for share in _FILTER_SHARES:
            if self.asker.left <= 0:
                break
            status, smaller = self.asker.ask(others, share)
            if status == cp_model.INFEASIBLE:
                return False, smaller
            if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                return True, []
        return None, []

    def _seen(self, others: list[int]) -> bool:
        """Whether the serial engine finds a schedule that keeps these demands."""
        if self.possible is None:
            return False
        demands = self.asker.demands.demands
        return self.possible(only(self.model.problem, [demands[at] for at in others]))

    def _shown(self, others: list[int]) -> bool:
        """Whether the checks that need no solver show that these demands contradict each other."""
        demands = [self.asker.demands.demands[at] for at in others]
        if any(demand.kind in ("hours", "one-at-a-time", "vehicle") for demand in demands):
            return False
        return bool(check_all(only(self.model.problem, demands)))


def in_terms_of(problem: SchedulingProblem, part: SchedulingProblem, found: Core) -> Core:
    """Count links and tasks of a part as the whole problem does.

    Parameters
    ----------
    part : SchedulingProblem
        Some tasks of it.
    found : Core
        A contradiction in the part.

    Returns
    -------
    Core
        The same in the whole.
    """
    links = {link: at for at, link in reversed(list(enumerate(problem.network.links)))}
    tasks = {task.id: at for at, task in enumerate(problem.network.tasks)}
    tags, names = tag_names(problem), tag_names(part)

    def placed(demand: Demand) -> Demand:
        if demand.kind in ("least", "most"):
            return replace(demand, index=links[part.network.links[demand.index]])
        if demand.kind in ("not-before", "finish-by"):
            return replace(demand, index=tasks[part.network.tasks[demand.index].id])
        return replace(demand, index=tags.index(names[demand.index])) if demand.kind == "day" else demand

    return Core(tuple(map(placed, found.demands)), found.irreducible)
