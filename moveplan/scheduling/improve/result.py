"""From the engines' own state to the schedule that leaves them."""

from __future__ import annotations

from moveplan.scheduling.construct.search import Found
from moveplan.scheduling.effort import Meter
from moveplan.scheduling.improve.thrift import least_cost
from moveplan.scheduling.objective.aims import DAYS, FINISH, MARGINS, MONEY
from moveplan.scheduling.schedule import Aim, Engine, Placement, Schedule, Status
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.frame import Frame
from moveplan.scheduling.state.margins import given_up
from moveplan.scheduling.state.model import Model
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


def serial_aims(frame: Frame, found: Found) -> tuple[Aim, ...]:
    """Give the serial engine's aims with what is known of them without a search: the critical path, the least cost."""
    bounds = known(frame)
    rows = [
        Aim(name, value, bounds.get(name, 0), proven=value == bounds.get(name, 0))
        for name, value in found.values
    ]
    return (*choices(frame, found), *rows)


def known(frame: Frame) -> dict[str, int]:
    """Give bounds of aims that need no search: the critical path, and the cheapest hands."""
    return {FINISH: frame.longest, MONEY: least_cost(frame.model)}


def choices(frame: Frame, found: Found) -> tuple[Aim, ...]:
    """Give what is settled before the aims: how much of the wished margins is kept, and the tied days."""
    model = frame.model
    rows = []
    if found.desk is not None and any(job.late for job in model.jobs):
        rows.append((MARGINS, given_up(model, found.margins)))
    if found.desk is not None and model.tags:
        rows.append((DAYS, sum(days.index(day) for days, day in zip(model.tags, found.days, strict=True))))
    return tuple(Aim(name, value, 0, proven=value == 0) for name, value in rows)
