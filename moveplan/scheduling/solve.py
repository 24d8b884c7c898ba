"""The one way in: the best schedule there is within an effort, or why there is none."""

from __future__ import annotations

import importlib.util

from moveplan.scheduling.construct.search import search
from moveplan.scheduling.effort import A_SEARCH_S, Effort, Meter
from moveplan.scheduling.impossible.capacity import check_capacity
from moveplan.scheduling.impossible.checks import check_all, check_names
from moveplan.scheduling.improve.even import evened
from moveplan.scheduling.improve.fewer_dates import fewer_dates
from moveplan.scheduling.improve.result import schedule_of, serial_aims
from moveplan.scheduling.improve.thrift import cheaper_hands
from moveplan.scheduling.improve.waits import begin_waits
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine, Schedule, Status
from moveplan.scheduling.state.frame import Frame, frame_of
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.ways_out.conflict import cycle_demands, not_placed, with_ways

SERIAL_SHARE = 0.2
"""Share of the effort for the serial engine before the solver begins. Chosen. [-]"""
SERIAL_SHARE_FINISH_ONLY = 0.3
"""Of own tasks: with 2 s, eight hard plans of 60 and of 120 tasks end 1.3 and 2.7 % earlier in all than at 0.04. [-]"""


def exact_is_there() -> bool:
    """Whether the solver of the exact engine is installed."""
    return importlib.util.find_spec("ortools") is not None


def solve(problem: SchedulingProblem, effort: Effort | None = None) -> Schedule:
    """Find the best schedule within an effort.

    Parameters
    ----------
    effort : Effort, optional
        How hard to look, by which engine, and who is told.

    Returns
    -------
    Schedule
        Its status says what is proven; without placements its reasons say why there is none.
    """
    effort = effort or Effort()
    if effort.allowance is not None:
        effort.allowance.pay(A_SEARCH_S * len(problem.network.tasks))
    names = check_names(problem)
    if names:
        return Schedule(Status.INFEASIBLE, Engine.SERIAL, reasons=names)
    wrong = check_all(problem)
    if wrong:
        reasons = with_ways(problem, wrong, effort, cycle_demands(problem))
        return Schedule(Status.INFEASIBLE, Engine.SERIAL, reasons=reasons)
    frame = frame_of(model_of(problem))
    overload = check_capacity(frame.model)
    if overload:
        return Schedule(Status.INFEASIBLE, Engine.SERIAL, reasons=with_ways(problem, overload, effort))
    return _searched(frame, effort)


def _searched(frame: Frame, effort: Effort) -> Schedule:
    """Search for a schedule of a problem that nothing simple speaks against."""
    exact = effort.engine == "exact" or (effort.engine == "auto" and exact_is_there())
    share = SERIAL_SHARE_FINISH_ONLY if frame.model.only_finish else SERIAL_SHARE
    meter = Meter(effort, share if exact else 1.0)
    found = search(frame, effort, meter)
    if effort.allowance is not None:
        effort.allowance.pay(meter.used_s)
    if not exact and effort.previous is None:
        cheaper_hands(frame, found)
        if effort.fewer_dates:
            fewer_dates(frame, found)
        evened(frame, found)
    if not exact:
        begin_waits(frame, found)
    aims = serial_aims(frame, found)
    if exact and not meter.interrupted and not (aims and all(aim.proven for aim in aims)):
        from moveplan.scheduling.exact.stages import exactly

        return exactly(frame, found, effort, meter, effort.seconds * (1 - share))
    if found.desk is None:
        reasons = (not_placed(frame, found.stuck),)
        return Schedule(
            Status.UNKNOWN,
            Engine.SERIAL,
            reasons=reasons,
            guard_struck=meter.guard_struck,
            interrupted=meter.interrupted,
        )
    return schedule_of(found.desk, aims, Engine.SERIAL, meter)
