"""How the exact engine is used: the finish of somebody's own tasks at once, a move from its heart outwards."""

from __future__ import annotations

from dataclasses import replace

from moveplan.errors import Problem
from moveplan.scheduling.constraints.pace import worth_a_model
from moveplan.scheduling.constraints.tasks import Given
from moveplan.scheduling.construct.search import Fixed, Found, search
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.exact.core import core_problem, core_tasks, cut_out
from moveplan.scheduling.exact.exact import Answer, Exact
from moveplan.scheduling.exact.later import Later
from moveplan.scheduling.exact.outwards import outwards
from moveplan.scheduling.exact.repairs import can_be_repaired, repaired
from moveplan.scheduling.impossible.cores import core, in_terms_of
from moveplan.scheduling.improve.daybreak import begun_early
from moveplan.scheduling.improve.result import choices, schedule_of, serial_aims
from moveplan.scheduling.objective.aims import EXPOSURE, FINISH, LATENESS, better, values
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Aim, Engine, Schedule, Status
from moveplan.scheduling.state.coarse import Coarse, unit_of
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.state.frame import Frame, frame_of
from moveplan.scheduling.state.model import Model, model_of
from moveplan.scheduling.ways_out.conflict import NOT_FOUND, contradiction, not_fitting, not_placed, with_ways
from moveplan.scheduling.ways_out.ways import possible

_CORE_SHARE = 0.5
"""Share of the solver's effort for the heart of the move, the hardest part. Chosen. [-]"""
_AROUND_SHARE = 0.1
"""Share of the solver's effort for placing the rest around the heart. Chosen. [-]"""
_EXPLAIN_SHARE = 0.2
"""Share of the effort for saying why a thing is impossible, where a schedule stands already. Chosen. [-]"""
_LEAST_FOR_PROOF_S = 1.0
"""Least effort for proving that there is no schedule, however little was asked for. Chosen. [s]"""
_WHOLE_SHARE = 0.5
"""Of own tasks with gear: share of the solver on the whole, before it repairs parts. [-]"""
_FEW_MIN = 30
"""Time under greatest gaps that is not worth a dearer schedule, as minutes of several groups and of the day. [min]"""
_IMPROVE_SHARE = 0.5
"""Share of the effort that is kept for making a schedule better that was found at the heart first. [-]"""


def exactly(frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float) -> Schedule:
    """Go on from the serial schedule with the exact engine.

    Parameters
    ----------
    found : Found
        What the serial engine found.
    effort, meter : Effort, Meter
        How hard to look; the meter gathers what ended the search.
    seconds : float
        Effort that is left. [s]

    Returns
    -------
    Schedule
        The best, or why there is none.
    """
    if found.desk is None:
        return _without(frame, found, effort, meter, seconds)
    if frame.model.only_finish:
        if worth_a_model(frame.model):
            return _whole(frame, found, effort, meter, seconds)
        return _by_attempts(frame, found, effort, meter, seconds)
    bounds, spared = _heart(frame, found, effort, meter, seconds * _CORE_SHARE)
    left = seconds * (1 - _CORE_SHARE - _AROUND_SHARE) + spared
    aims = Later(frame, found, effort, meter, left).run(bounds)
    return schedule_of(found.desk, (*choices(frame, found), *aims), Engine.EXACT, meter)


def _by_attempts(frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float) -> Schedule:
    """Go on with the serial engine, by other draws, where one model of all own tasks is too large for the solver."""
    more = Meter(effort, seconds / effort.seconds)
    better = search(frame, replace(effort, seed=effort.seed + 1), more, found)
    meter.guard_struck |= more.guard_struck
    meter.interrupted |= more.interrupted
    assert better.desk is not None  # noqa: S101 - begun with one
    return schedule_of(better.desk, serial_aims(frame, better), Engine.SERIAL, meter)


def _heed(answer: Answer, meter: Meter) -> None:
    meter.guard_struck |= answer.guard_struck
    meter.interrupted |= answer.interrupted


def _without(frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float) -> Schedule:
    """Go on where the serial engine found nothing: explain why, or find a schedule after all.

    Own tasks are decided as a whole first, which is quicker than to find a contradicting set; of a move the heart
    is, which is small. A move as a whole is too large for that.
    """
    inside = [] if frame.model.only_finish else core_tasks(frame)
    if inside and len(inside) < len(frame.model.jobs):
        return _from_heart(frame, found, effort, meter, seconds, inside)
    schedule = _whole(frame, found, effort, meter, seconds) if frame.model.only_finish else None
    if schedule is None or schedule.status is Status.INFEASIBLE:
        enough = max(seconds, _LEAST_FOR_PROOF_S) if schedule is None else seconds * _EXPLAIN_SHARE
        reason = _contradiction(frame.model.problem, frame.model.problem, effort, enough)
        if reason is not None:
            return Schedule(Status.INFEASIBLE, Engine.EXACT, reasons=(reason,))
    schedule = schedule or _whole(frame, found, effort, meter, seconds)
    if schedule.placements:
        return schedule
    return _unplaced(frame, found, effort, meter, schedule.status)


def _from_heart(
    frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float, inside: list[int]
) -> Schedule:
    """Begin with the heart of a move where the serial engine found no schedule of the whole."""
    begun = outwards(frame, inside, effort, meter, seconds)
    if begun.found is not None:
        return exactly(frame, begun.found, effort, meter, max(begun.left, _IMPROVE_SHARE * seconds))
    problem = frame.model.problem
    part = cut_out(frame, begun.inside) if begun.impossible else problem
    reason = _contradiction(problem, part, effort, max(seconds, _LEAST_FOR_PROOF_S), whole=begun.impossible)
    if reason is not None:
        return Schedule(Status.INFEASIBLE, Engine.EXACT, reasons=(reason,))
    if begun.impossible:
        reasons = with_ways(problem, (not_fitting(frame, begun.inside),), effort)
        return Schedule(
            Status.INFEASIBLE,
            Engine.EXACT,
            reasons=reasons,
            interrupted=meter.interrupted,
            guard_struck=meter.guard_struck,
        )
    return _unplaced(frame, found, effort, meter, Status.UNKNOWN)


def _unplaced(frame: Frame, found: Found, effort: Effort, meter: Meter, status: Status) -> Schedule:
    """Say what found no place, and whether that is proven."""
    reason = not_placed(frame, found.stuck)
    if status is Status.INFEASIBLE:
        reason = with_ways(frame.model.problem, (_proven(reason),), effort)[0]
    return Schedule(
        status,
        Engine.EXACT,
        reasons=(reason,),
        interrupted=meter.interrupted,
        guard_struck=meter.guard_struck,
    )


def _contradiction(
    problem: SchedulingProblem,
    part: SchedulingProblem,
    effort: Effort,
    seconds: float,
    *,
    whole: bool = False,
) -> Problem | None:
    """Find demands that contradict each other in a part, and tell them; None: none were found within the effort.

    Where a plainer reason is known, only a set is told from which nothing can be left out (``whole``).
    """
    proof = core(model_of(part), effort, seconds, lambda other: possible(other, effort) is not None)
    if proof is None or (whole and not proof.irreducible):
        return None
    demands = proof.demands if part is problem else in_terms_of(problem, part, proof).demands
    return contradiction(problem, demands, proof.irreducible, effort)


def _proven(reason: Problem) -> Problem:
    """Say of what could not be placed that the solver has shown it."""
    return replace(reason, message=reason.message.replace(NOT_FOUND, "shown by the solver to be impossible"))


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
        _aim(name, value, max(reached.get(name, 0), frame.longest if name == FINISH else 0))
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
    given = Given(days, () if desk is None else found.margins, frame.block_of, latest)
    repairs = desk is not None and can_be_repaired(model)
    exact = Exact(model, given, desk, effort, seconds * (_WHOLE_SHARE if repairs else 1.0))
    answer = exact.run()
    if repairs:
        _repair(model, frame, answer, effort, seconds * (1 - _WHOLE_SHARE) + exact.left)
    answer.desk = None if answer.desk is None else coarse.back(answer.desk)
    answer.aims = [replace(aim, value=aim.value * unit, bound=aim.bound * unit) for aim in answer.aims]
    return answer


def _repair(model: Model, frame: Frame, answer: Answer, effort: Effort, seconds: float) -> None:
    """Go on with repairs where the solver has not proven the finish of the whole."""
    if answer.desk is None or answer.interrupted or answer.guard_struck or all(a.proven for a in answer.aims):
        return
    least = max((aim.bound for aim in answer.aims), default=0)
    done = repaired(model, answer.desk, frame.block_of, effort, seconds, least)
    answer.desk = done.desk
    answer.guard_struck |= done.guard_struck
    answer.interrupted |= done.interrupted


def _aim(name: str, value: int, bound: int) -> Aim:
    return Aim(name, value, min(bound, value), value <= bound)


def _heart(
    frame: Frame, found: Found, effort: Effort, meter: Meter, seconds: float
) -> tuple[dict[str, int], float]:
    """Find the best heart of a move, place the rest around it; what is proven of the first aims, and effort left."""
    inside = core_tasks(frame)
    problem = core_problem(frame, found.days, inside)
    if problem is None or found.desk is None or not inside:
        return {}, seconds
    model = model_of(problem)
    heart = frame_of(model)
    desk = Desk(model)
    for at, position in enumerate(inside):
        spot = found.desk.spots[position]
        if spot is not None:
            desk.put(at, spot)
    given = Given(found.days, (), heart.block_of, problem.horizon)
    exact = Exact(model, given, desk, effort, seconds, (LATENESS, EXPOSURE))
    answer = exact.run()
    _heed(answer, meter)
    if answer.desk is not None and _worth_placing(values(answer.desk), values(desk)):
        spots = zip(inside, begun_early(heart, answer.desk).spots, strict=True)
        _around(frame, found, effort, tuple((at, spot) for at, spot in spots if spot is not None))
    return {} if answer.restricted else {aim.name: aim.bound for aim in answer.aims}, exact.left


def _around(frame: Frame, found: Found, effort: Effort, heart: Fixed) -> None:
    """Place the rest around a better heart: all of it as it is, or its tied days alone, or with less margin."""
    tied = tuple((at, spot) for at, spot in heart if frame.model.jobs[at].tag >= 0)
    for begin, fixed in ((replace(found), heart), (replace(found), tied), (Found(days=found.days), tied)):
        other = search(frame, effort, Meter(effort, _AROUND_SHARE), begin, fixed)
        if _worth(found, other):
            found.desk, found.values, found.margins = other.desk, other.values, other.margins
            return


def _worth_placing(new: tuple[tuple[str, int], ...], old: tuple[tuple[str, int], ...]) -> bool:
    """Whether a heart is so much better than the one known that the rest may be placed around it once more."""
    late, exposed = (dict(old).get(name, 0) - dict(new).get(name, 0) for name in (LATENESS, EXPOSURE))
    return late > 0 or (late == 0 and exposed >= _FEW_MIN)


def _worth(old: Found, new: Found) -> bool:
    """Whether a schedule is better, and that not for a few minutes of exposure or at the price of a later evening."""
    if old.desk is None or new.desk is None or not better(new.values, old.values):
        return False
    spared = dict(old.values).get(EXPOSURE, 0) - dict(new.values).get(EXPOSURE, 0)
    alike = [
        (name, value + spared if name == EXPOSURE and 0 < spared < _FEW_MIN else value)
        for name, value in new.values
    ]
    later = _evening(new.desk) - _evening(old.desk)
    return better(tuple(alike), old.values) and later <= max(0, spared)


def _evening(desk: Desk) -> int:
    """End of the last task of a tied day."""
    spots = zip(desk.model.jobs, desk.spots, strict=True)
    return max((spot.finish for job, spot in spots if job.tag >= 0 and spot is not None), default=0)
