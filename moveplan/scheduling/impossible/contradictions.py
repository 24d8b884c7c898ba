"""What speaks against every schedule, as far as it is seen without looking for one."""

from __future__ import annotations

from moveplan.errors import Problem
from moveplan.scheduling.impossible.capacity import check_capacity
from moveplan.scheduling.impossible.checks import check_all, check_names
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.state.model import model_of


def contradictions(problem: SchedulingProblem) -> tuple[Problem, ...]:
    """Ask the cheap questions that a search begins with.

    Returns
    -------
    tuple of Problem
        The reasons that `solve` gives, without ways out, which take a search; none where a search has to tell.
    """
    return check_names(problem) or check_all(problem) or tuple(check_capacity(model_of(problem)))
