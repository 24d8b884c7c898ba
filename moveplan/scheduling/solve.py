"""The one way in: the best schedule there is within an effort, or why there is none."""

from __future__ import annotations

import importlib.util

from moveplan.scheduling.checks import check_all
from moveplan.scheduling.desk import Desk, Spot
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.frame import frame_of
from moveplan.scheduling.model import Model, model_of
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Aim, Engine, Placement, Schedule, Status
from moveplan.scheduling.search import Found, search
from moveplan.times import Interval


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


def schedule_of(desk: Desk, found: Found, meter: Meter) -> Schedule:
    """Turn the serial engine's best into a schedule; nothing of it is proven."""
    model = desk.model
    spots = [spot for spot in desk.spots if spot is not None]
    makespan = max((spot.finish for spot in spots), default=model.problem.start) - model.problem.start
    return Schedule(
        status=Status.FEASIBLE,
        engine=Engine.SERIAL,
        placements=tuple(placement_of(model, at, spot) for at, spot in enumerate(spots)),
        makespan_min=makespan,
        bound_min=0,
        aims=tuple(Aim(name, value, 0, proven=value == 0) for name, value in found.values),
        guard_struck=meter.guard_struck,
        interrupted=meter.interrupted,
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
    meter = Meter(effort)
    found = search(frame_of(model), effort, meter)
    if found.desk is None:
        return Schedule(Status.UNKNOWN, Engine.SERIAL)
    return schedule_of(found.desk, found, meter)
