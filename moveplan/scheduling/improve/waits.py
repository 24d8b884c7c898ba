"""Lets waits begin when what they wait for is over, and has what they lead to judged at once.

Glue does not begin to cure days after it was applied; and whether a filter is ripe is better known while there is time
to wait once more.
"""

from __future__ import annotations

from moveplan.network.task import Kind
from moveplan.scheduling.construct.improve import move_to_first
from moveplan.scheduling.construct.search import Found
from moveplan.scheduling.improve.even import scheme_of, valued
from moveplan.scheduling.state.frame import Frame
from moveplan.scheduling.state.model import Job, Model


def begin_waits(frame: Frame, found: Found) -> None:
    """Move every wait that takes up nobody and nothing, and the hold points behind them, to their earliest starts.

    Nothing else moves. What is won is room behind them, where it is least sure how long they take or how they end.
    Those of a tied day stay: how long that day and what it exposes last is settled by then.

    Parameters
    ----------
    found : Found
        Its schedule, and the values of its aims; both are replaced.
    """
    if found.desk is None:
        return
    scheme = scheme_of(frame, found, found.desk)
    starts = {at: spot.start for at, spot in enumerate(found.desk.spots) if spot is not None}
    for position in sorted(starts, key=lambda at: (starts[at], at)):
        job = scheme.model.jobs[position]
        if job.tag < 0 and (_just_waits(job) or _judges_a_wait(scheme.model, position)):
            move_to_first(scheme, position, (scheme.model.problem.start,))
    found.desk, found.values = scheme.desk, valued(found, scheme.desk)


def _just_waits(job: Job) -> bool:
    free = not (job.pool or job.vehicles or job.gear or job.opens or job.closes)
    return job.task.kind is Kind.WAIT and free and not job.task.repeats


def _judges_a_wait(model: Model, position: int) -> bool:
    behind = (tail for tail, _, from_finish, _, gap in model.into[position] if from_finish and gap >= 0)
    waited = any(model.jobs[tail].task.kind is Kind.WAIT for tail in behind)
    return model.jobs[position].task.kind is Kind.HOLD_POINT and waited
