"""How sure one schedule is beside another: the promise alone, by few runs with the same luck for all."""

from __future__ import annotations

from moveplan.practice.project import Project
from moveplan.risk.promise.values import Promise
from moveplan.scheduling.schedule import Schedule

RUNS = 2000
"""Enough to tell two schedules apart by two points in a hundred: the standard error of a share is 1.1 at most. [-]"""


def promise_of(project: Project, schedule: Schedule, seed: int, runs: int = RUNS) -> Promise | None:
    """Tell how often all that a schedule promises is kept; None where there is no moving day.

    Parameters
    ----------
    seed : int
        The same for all that are compared: durations and mishaps fall alike then.
    """
    from moveplan.risk.prepared.compile import prepare
    from moveplan.risk.register.ranked import register_of
    from moveplan.risk.runs.outcome import Outcome

    outcome = Outcome(prepare(project, schedule, register_of(project, schedule)))
    if not outcome.prepared.days:
        return None
    outcome.glance(runs, seed)
    return outcome.promises.told(outcome.milestones)
