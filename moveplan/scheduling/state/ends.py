"""The last moment by which a task is over, by its own dates, day and hours."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.scheduling.state.clock import day_name
from moveplan.scheduling.state.model import Job, Model


def last_finish(model: Model, job: Job) -> int:
    """Last moment by which a task is over in any schedule, by its own dates, day and hours."""
    return min(moment for moment, _, _ in ends_of(model, job))


def ends_of(model: Model, job: Job) -> Iterator[tuple[int, str, str]]:
    """Every last moment of a task by itself, what sets it, and where that stands."""
    problem = model.problem
    yield problem.horizon, "the plan ends then", problem.where
    if job.task.finish_by is not None:
        yield job.task.finish_by, "its date", job.task.where
    if job.tag >= 0:
        where = next((tied.where for tied in problem.tied_days if tied.tag == job.task.day), "")
        last = max((day.finish for day in model.tags[job.tag]), default=problem.start)
        yield last, f"the {day_name(job.task.day)} ends then", where
    if job.task.repeats is not None or not job.options[0].minutes:
        return
    for vehicle in job.vehicles:
        wheels = problem.vehicles[vehicle]
        why = f"{wheels.name or wheels.id} has to be back by then"
        yield max(model.vehicles[vehicle].finishes, default=problem.start), why, wheels.where
    if job.pool:
        there = (max(model.people[at].finishes, default=problem.start) for at in job.pool)
        count = min(len(job.pool), max(1, min(option.count for option in job.options)))
        yield sorted(there, reverse=True)[count - 1], "the hours of its people end then", ""
