"""Tasks that the keeper writes by hand: a plan of nothing else, or added to a move."""

from __future__ import annotations

from collections.abc import Sequence

from moveplan.errors import PlanFileError, Problem
from moveplan.estimate import Estimate, Provenance
from moveplan.network.graph import Network
from moveplan.network.horizon import safe_length_min
from moveplan.network.link import Link, Relation
from moveplan.network.task import Crew, Task
from moveplan.plan.move import Plan
from moveplan.plan.tasks import OwnTask
from moveplan.planfile.problems import unknown
from moveplan.practice.resources import Days, days_of, drives_of, people_of, span_between, vehicles_of
from moveplan.scheduling.problem import Gear, SchedulingProblem

PHASE = "Own tasks"
_CALENDAR_FACTOR = 10
"""Elapsed over worked time that people's hours may cost at most; assumed. [-]"""
_SLACK_MIN = 180 * 1440
"""Days off that are waited for at most; assumed. [min]"""


def own_task(plan: Plan, task: OwnTask) -> Task:
    """Make a network task of a task of the keeper's own."""
    times = task.minutes
    return Task(
        id=task.id,
        title=task.title,
        estimate=Estimate(times.low, times.likely, times.high, "min", "plan file", Provenance.GIVEN),
        phase=PHASE,
        place=task.place,
        crew=Crew(max(task.people_count, len(task.people)), (), task.people)
        if task.people_count or task.people
        else None,
        vehicles=task.vehicles,
        gear=task.gear,
        may_pause=task.may_pause,
        not_before=task.not_before,
        finish_by=task.finish_by,
        steps=task.steps,
        where=plan.where(f"tasks.{task.id}"),
    )


def own_links(plan: Plan) -> tuple[Link, ...]:
    """Make links of what the keeper's own tasks wait for."""
    return tuple(
        Link(
            link.task,
            task.id,
            Relation(link.relation),
            link.gap_min,
            link.at_most_min,
            "plan file",
            f"{plan.file_name}:{link.line} tasks.{task.id}.after",
        )
        for task in plan.tasks
        for link in task.after
    )


def check_links(plan: Plan, network: Network) -> None:
    """Refuse what a task of the keeper's own waits for where the plan has no such task.

    Parameters
    ----------
    network : Network
        All tasks, the keeper's own among them.

    Raises
    ------
    PlanFileError
        With every such link.
    """
    known = {task.id for task in network.tasks}
    wrong = [link for link in own_links(plan) if link.before not in known]
    if wrong:
        raise PlanFileError(tuple(_no_such_task(link, sorted(known)) for link in wrong), plan.file_name)


def _no_such_task(link: Link, known: Sequence[str]) -> Problem:
    message, remedy = unknown("task", link.before, known)
    return Problem(message, link.where, remedy)


def own_network(plan: Plan) -> Network:
    """Make a network of the keeper's own tasks and nothing else."""
    return Network(tuple(own_task(plan, task) for task in plan.tasks), own_links(plan))


def own_problem(plan: Plan) -> SchedulingProblem:
    """State the scheduling problem of a plan of own tasks, kept to the minute.

    Parameters
    ----------
    plan : Plan
        Of purpose ``own-tasks``.
    """
    network = own_network(plan)
    start = plan.start if plan.start is not None else plan.now
    crewed = any(task.crew or task.vehicles for task in network.tasks)
    span = span_between(plan, start, start + _longest(network, start, crewed=crewed))
    return SchedulingProblem(
        network=network,
        start=start,
        horizon=span.finish,
        days=days_of(plan, span) if crewed else (),
        people=people_of(plan, span, Days(())) if crewed else (),
        vehicles=vehicles_of(plan, span) if crewed else (),
        gear=gear_of(plan),
        drives=drives_of(plan),
        grid_min=1,
        where=plan.where("start"),
        zone=plan.zone,
    )


def gear_of(plan: Plan) -> tuple[Gear, ...]:
    """Give the gear of a plan."""
    return tuple(Gear(item.id, item.name, item.count, plan.where(f"gear.{item.id}")) for item in plan.gear)


def _longest(network: Network, start: int, *, crewed: bool) -> int:
    """Reckon how long it takes at most; hours and days off are waited for on top."""
    length = safe_length_min(network, start)
    return _CALENDAR_FACTOR * length + _SLACK_MIN if crewed else length
