"""The one way in: the best schedule there is within an effort, or why there is none."""

from __future__ import annotations

import importlib.util

from moveplan.network.passes import early_starts
from moveplan.scheduling.aims import FINISH, values
from moveplan.scheduling.checks import check_all
from moveplan.scheduling.desk import Desk, Spot
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.frame import Frame, frame_of
from moveplan.scheduling.model import Model, model_of
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Aim, Engine, Placement, Schedule, Status
from moveplan.scheduling.search import Found, search
from moveplan.times import Interval

SERIAL_SHARE = 0.2


def placement_of(model: Model, position: int, spot: Spot) -> Placement:
    """Turn a spot into what leaves the engine."""
    people = model.problem.people
    vehicles = model.problem.vehicles
    job = model.jobs[position]
    crews = tuple(tuple(people[at].id for at in crew) for crew in spot.crews)
    return Placement(
        task=job.task.id,
        start=spot.start,
        finish=spot.finish,
        segments=tuple(Interval(begin, end) for begin, end in spot.segments),
        people=tuple(sorted(people[at].id for at in spot.people())),
        vehicles=tuple(sorted(vehicles[at].id for at in job.vehicles)),
        segment_people=tuple(tuple(sorted(crew)) for crew in crews) if len(crews) > 1 else (),
    )


def schedule_of(desk: Desk, aims: tuple[Aim, ...], engine: Engine, meter: Meter) -> Schedule:
    """Turn a complete desk into a schedule; optimal where every aim is proven."""
    model = desk.model
    spots = [spot for spot in desk.spots if spot is not None]
    makespan = max((spot.finish for spot in spots), default=model.problem.start) - model.problem.start
    bounds = [aim.bound for aim in aims if aim.name == FINISH]
    return Schedule(
        status=Status.OPTIMAL if all(aim.proven for aim in aims) else Status.FEASIBLE,
        engine=engine,
        placements=tuple(placement_of(model, at, spot) for at, spot in enumerate(spots)),
        makespan_min=makespan,
        bound_min=bounds[0] if bounds else 0,
        aims=aims,
        guard_struck=meter.guard_struck,
        interrupted=meter.interrupted,
    )


def serial_aims(model: Model, found: Found) -> tuple[Aim, ...]:
    """Give the serial engine's aims with what is known of them without a search: the critical path."""
    longest = max(
        (early + job.span.least for early, job in zip(early_starts(model.graph), model.jobs, strict=True)),
        default=0,
    )
    bounds = {FINISH: longest}
    return tuple(
        Aim(name, value, bounds.get(name, 0), proven=value == bounds.get(name, 0))
        for name, value in found.values
    )


def exact_is_there() -> bool:
    """Whether the solver of the exact engine is installed."""
    return importlib.util.find_spec("ortools") is not None


def solve(problem: SchedulingProblem, effort: Effort | None = None) -> Schedule:
    """Find the best schedule within an effort.

    Parameters
    ----------
    problem : SchedulingProblem
        The network, and what it may use. [-]
    effort : Effort, optional
        How hard to look, by which engine, and who is told. [-]

    Returns
    -------
    Schedule
        Its status says what is proven; without placements its reasons say why there is none. [-]
    """
    effort = effort or Effort()
    wrong = check_all(problem)
    if wrong:
        return Schedule(Status.INFEASIBLE, Engine.SERIAL, reasons=wrong)
    model = model_of(problem)
    frame = frame_of(model)
    exact = effort.engine == "exact" or (effort.engine == "auto" and exact_is_there())
    meter = Meter(effort, SERIAL_SHARE if exact else 1.0)
    found = search(frame, effort, meter)
    aims = serial_aims(model, found)
    if exact and not meter.interrupted and not (aims and all(aim.proven for aim in aims)):
        return _exactly(frame, found, effort, meter)
    if found.desk is None:
        return Schedule(Status.UNKNOWN, Engine.SERIAL)
    return schedule_of(found.desk, aims, Engine.SERIAL, meter)


def _exactly(frame: Frame, found: Found, effort: Effort, meter: Meter) -> Schedule:
    """Go on from the serial schedule with the exact engine."""
    from moveplan.scheduling.cptasks import Given
    from moveplan.scheduling.exact import Exact

    model = frame.model
    latest = model.problem.horizon
    if found.desk is not None and model.only_finish:
        latest = model.problem.start + dict(found.values)[FINISH]
    if found.desk is not None:
        given = Given(found.days, found.scale, frame.block_of, latest)
    else:
        given = Given(None, 0.0, frame.block_of, latest)
    answer = Exact(model, given, found.desk, effort, effort.seconds * (1 - SERIAL_SHARE)).run()
    meter.guard_struck |= answer.guard_struck
    meter.interrupted |= answer.interrupted
    if answer.infeasible and found.desk is None:
        return Schedule(Status.INFEASIBLE, Engine.EXACT)
    if answer.desk is None:
        return Schedule(Status.UNKNOWN, Engine.EXACT)
    values_now = dict(values(answer.desk))
    reached = {aim.name: aim for aim in answer.aims}
    aims = tuple(reached.get(name, Aim(name, value, 0, value == 0)) for name, value in values_now.items())
    return schedule_of(answer.desk, aims, Engine.EXACT, meter)
