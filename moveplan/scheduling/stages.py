"""How the exact engine is used: the finish of somebody's own tasks at once, a move from its heart outwards."""

from __future__ import annotations

from dataclasses import replace

from moveplan.errors import Problem
from moveplan.scheduling.aims import EXPOSURE, FINISH, LATENESS, LEAD, better, values
from moveplan.scheduling.coarse import Coarse, unit_of
from moveplan.scheduling.conflict import contradiction, not_placed, with_ways
from moveplan.scheduling.core import core_problem, core_tasks
from moveplan.scheduling.cores import core
from moveplan.scheduling.cpaims import size_of
from moveplan.scheduling.cptasks import Given
from moveplan.scheduling.desk import Desk
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.exact import Answer, Exact
from moveplan.scheduling.frame import Frame, frame_of
from moveplan.scheduling.improve import lead_tasks_late
from moveplan.scheduling.model import model_of
from moveplan.scheduling.result import choices, schedule_of
from moveplan.scheduling.schedule import Aim, Engine, Schedule, Status
from moveplan.scheduling.search import Found, search
from moveplan.scheduling.serial import Attempt, Scheme
from moveplan.scheduling.ways import possible

_CORE_SHARE = 0.5
_AROUND_SHARE = 0.15
_EXPLAIN_SHARE = 0.2
_LEAST_FOR_PROOF_S = 1.0
_LARGEST = 12_000
_PRESOLVED = 5_000


def exactly(frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float) -> Schedule:
    """Go on from the serial schedule with the exact engine.

    Parameters
    ----------
    frame : Frame
        The problem. [-]
    found : Found
        What the serial engine found. [-]
    effort, meter : Effort, Meter
        How hard to look; the meter gathers what ended the search. [-]
    seconds : float
        Effort that is left. [s]

    Returns
    -------
    Schedule
        The best, or why there is none. [-]
    """
    if found.desk is None:
        return _without(frame, found, effort, meter, seconds)
    if frame.model.only_finish:
        return _whole(frame, found, effort, meter, seconds)
    bounds = _heart(frame, found, effort, meter, seconds)
    aims = _rest(frame, found, effort, meter, seconds * (1 - _CORE_SHARE - _AROUND_SHARE), bounds)
    return schedule_of(found.desk, (*choices(frame, found), *aims), Engine.EXACT, meter)


def _heed(answer: Answer, meter: Meter) -> None:
    meter.guard_struck |= answer.guard_struck
    meter.interrupted |= answer.interrupted


def _without(frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float) -> Schedule:
    """Go on where the serial engine found nothing: explain why, or find a schedule after all.

    Own tasks are decided as a whole first, which is quicker than to find a contradicting set; a move is too large
    for that.
    """
    schedule = _whole(frame, found, effort, meter, seconds) if frame.model.only_finish else None
    if schedule is None or schedule.status is Status.INFEASIBLE:
        enough = max(seconds, _LEAST_FOR_PROOF_S) if schedule is None else seconds * _EXPLAIN_SHARE
        reason = _contradiction(frame, effort, enough)
        if reason is not None:
            return Schedule(Status.INFEASIBLE, Engine.EXACT, reasons=(reason,))
    schedule = schedule or _whole(frame, found, effort, meter, seconds)
    if schedule.placements:
        return schedule
    reason = not_placed(frame, found.stuck)
    if schedule.status is Status.INFEASIBLE:
        reason = with_ways(frame.model.problem, (_proven(reason),), effort)[0]
    return replace(
        schedule, reasons=(reason,), interrupted=meter.interrupted, guard_struck=meter.guard_struck
    )


def _contradiction(frame: Frame, effort: Effort, seconds: float) -> Problem | None:
    """Find demands that contradict each other and tell them; None: none were found within the effort."""
    model = frame.model
    proof = core(model, seconds, effort.seed, lambda other: possible(other, effort) is not None)
    return None if proof is None else contradiction(model.problem, proof.demands, proof.irreducible, effort)


def _proven(reason: Problem) -> Problem:
    """Say of what could not be placed that the solver has shown it."""
    proven = reason.message.replace(
        "no schedule found within the effort; not shown to be impossible",
        "shown by the solver to be impossible",
    )
    return replace(reason, message=proven)


def _whole(frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float) -> Schedule:
    """Solve the whole problem in one model."""
    answer = _told_coarsely(frame, found, effort, seconds)
    _heed(answer, meter)
    if answer.infeasible and found.desk is None:
        return Schedule(Status.INFEASIBLE, Engine.EXACT)
    if answer.desk is None:
        return Schedule(Status.UNKNOWN, Engine.EXACT)
    reached = {aim.name: aim.bound for aim in answer.aims}
    aims = tuple(
        _aim(name, value, max(reached.get(name, 0), _least(frame, name)))
        for name, value in values(answer.desk)
    )
    return schedule_of(answer.desk, aims, Engine.EXACT, meter)


def _told_coarsely(frame: Frame, found: Found, effort: Effort, seconds: float) -> Answer:
    """Solve the whole in the largest unit of time that divides it, and tell the answer in minutes."""
    coarse = Coarse(frame.model, unit_of(frame.model))
    model, unit = coarse.model, coarse.unit
    desk = None if found.desk is None else coarse.desk(found.desk)
    latest = model.problem.horizon
    if desk is not None and [name for name, _ in found.values] == [FINISH]:
        latest = max((spot.finish for spot in desk.spots if spot is not None), default=model.problem.start)
    days = None if desk is None else found.days
    given = Given(days, 0.0 if desk is None else found.scale, frame.block_of, latest)
    answer = Exact(model, given, desk, effort, seconds).run()
    answer.desk = None if answer.desk is None else coarse.back(answer.desk)
    answer.aims = [replace(aim, value=aim.value * unit, bound=aim.bound * unit) for aim in answer.aims]
    return answer


def _aim(name: str, value: int, bound: int) -> Aim:
    return Aim(name, value, min(bound, value), value <= bound)


def _least(frame: Frame, name: str) -> int:
    return frame.longest if name == FINISH else 0


def _heart(frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float) -> dict[str, int]:
    """Find the best heart of a move, place the rest around it, and give what is proven of the first aims."""
    inside = core_tasks(frame)
    problem = core_problem(frame, found.days, inside)
    if problem is None or found.desk is None or not inside:
        return {}
    model = model_of(problem)
    heart = frame_of(model)
    desk = Desk(model)
    for at, position in enumerate(inside):
        spot = found.desk.spots[position]
        if spot is not None:
            desk.put(at, spot)
    given = Given(found.days, 0.0, heart.block_of, problem.horizon)
    answer = Exact(model, given, desk, effort, seconds * _CORE_SHARE, (LATENESS, EXPOSURE)).run()
    _heed(answer, meter)
    if answer.desk is not None and better(values(answer.desk)[: len(answer.aims)], values(desk)):
        spots = zip(inside, answer.desk.spots, strict=True)
        fixed = tuple((position, spot) for position, spot in spots if spot is not None)
        search(frame, effort, Meter(effort, _AROUND_SHARE), found, fixed)
    return {} if answer.restricted else {aim.name: aim.bound for aim in answer.aims}


def _rest(
    frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float, bounds: dict[str, int]
) -> tuple[Aim, ...]:
    """Improve the later aims of the whole with the first ones held, where the model is not too large."""
    model = frame.model
    reached: dict[str, Aim] = {}
    size = size_of(model)
    if found.desk is not None and not meter.interrupted and size <= _LARGEST:
        given = Given(found.days, found.scale, frame.block_of, model.problem.horizon)
        held = {name: value for name, value in found.values if name in (LATENESS, EXPOSURE)}
        simple = size <= _PRESOLVED
        answer = Exact(model, given, found.desk, effort, seconds, (), held, (LEAD,), presolved=simple).run()
        _heed(answer, meter)
        if answer.desk is not None:
            _polish(frame, found, answer.desk)
            reached = {aim.name: aim for aim in answer.aims}
    rows = []
    for name, value in found.values:
        bound = max(bounds.get(name, 0), _least(frame, name))
        if name in reached:
            bound = max(bound, reached[name].bound)
        rows.append(_aim(name, value, bound))
    return tuple(rows)


def _polish(frame: Frame, found: Found, desk: Desk) -> None:
    """Move late tasks to where they belong again, and keep the schedule where it is the better one."""
    attempt = Attempt(tuple(map(float, frame.urgency)), found.days, (), found.scale)
    scheme = Scheme(frame, attempt, Meter(Effort()))
    for position, spot in enumerate(desk.spots):
        if spot is not None:
            scheme.desk.put(position, spot)
    lead_tasks_late(scheme)
    now = values(scheme.desk)
    names = [name for name, _ in now]
    if better(now, tuple((name, value) for name, value in found.values if name in names)):
        found.desk, found.values = scheme.desk, now
