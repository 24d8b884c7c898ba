"""The cheapest layers of "it cannot be done": what no order of tasks could mend."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from moveplan.errors import Lack, Problem
from moveplan.network.arcs import Arc, Cause
from moveplan.network.checks import check_gaps, check_ids, explain
from moveplan.network.passes import PositiveCycleError, distances_from, early_starts
from moveplan.network.task import Task
from moveplan.network.words import listed, named
from moveplan.scheduling.impossible.alone import check_alone
from moveplan.scheduling.impossible.held import check_held
from moveplan.scheduling.impossible.reach import check_reach, laid
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.state.model import Job, Model


def _unknown(task: Task, kind: str, asked: tuple[str, ...], known: set[str]) -> list[Problem]:
    return [
        Problem(
            f'{named(task)} names {kind} "{name}", which there is not', task.where, f"name a {kind} there is"
        )
        for name in asked
        if name not in known
    ]


def check_names(problem: SchedulingProblem) -> tuple[Problem, ...]:
    """Problems with ids and gaps: nothing may be compiled before these are mended."""
    network = problem.network
    wrong = list(check_ids(network) + check_gaps(network))
    people = {person.id for person in problem.people}
    vehicles = {vehicle.id for vehicle in problem.vehicles}
    gear = {thing.id for thing in problem.gear}
    for task in network.tasks:
        wrong += _unknown(task, "person", task.crew.named if task.crew else (), people)
        wrong += _unknown(task, "vehicle", task.vehicles, vehicles)
        wrong += _unknown(task, "kind of gear", tuple(name for name, _ in task.gear), gear)
    wrong += [
        Problem(f'gear "{hold.gear}" is held from {hold.from_task} on, but there is none', "", "add it")
        for hold in network.holds
        if hold.gear not in gear
    ]
    return tuple(wrong)


def check_supply(model: Model) -> tuple[Problem, ...]:
    """Tasks that need more people, skills or gear than there are."""
    found = [
        fault for job in model.jobs for fault in (*_too_few_people(model, job), *_too_little_gear(model, job))
    ]
    return (*found, *_missing_skills(model))


def _too_few_people(model: Model, job: Job) -> list[Problem]:
    crew, there = job.task.crew, len(model.problem.people)
    if crew is None or crew.count <= there:
        return []
    words = f"{named(job.task)} needs {crew.count} people; there {_is(there)}"
    return [Problem(words, job.task.where, "add people to the plan")]


def _missing_skills(model: Model) -> list[Problem]:
    """Say of each skill once who lacks it for what, however many tasks need it."""
    needed: dict[tuple[str, int], list[Task]] = {}
    for job in model.jobs:
        for skill, number in job.task.crew.skills if job.task.crew else ():
            if number > len(_able(model, skill)):
                needed.setdefault((skill, number), []).append(job.task)
    return [_missing(model, skill, number, tasks) for (skill, number), tasks in needed.items()]


def _able(model: Model, skill: str) -> list[str]:
    rows = zip(model.problem.people, model.skills, strict=True)
    return [person.id for person, skills in rows if skill in skills]


def _missing(model: Model, skill: str, number: int, tasks: list[Task]) -> Problem:
    people, able = model.problem.people, _able(model, skill)
    names = f" ({listed(able)})" if able else ""
    verb = "needs" if len(tasks) == 1 else "need"
    others = [person.id for person in people if person.id not in able]
    return Problem(
        f'{listed([named(task) for task in tasks])} {verb} {number} with "{skill}: yes"; '
        f"there {_is(len(able))}{names}",
        next((task.where for task in tasks if task.where), people[0].where if people else ""),
        f'write "{skill}: yes" for one of {listed(others)}, or add somebody who has it'
        if others
        else f'add somebody with "{skill}: yes"',
    )


def _surely_lasts(model: Model, job: Job, until: int) -> bool:
    """Whether gear held from a task on is held for some time in every schedule."""
    position = model.jobs.index(job)
    least = distances_from(model.graph, position)[until]
    return least is not None and least + model.jobs[until].span.least > 0


def _is(number: int) -> str:
    return "is none" if number == 0 else f"is {number}" if number == 1 else f"are {number}"


def _too_little_gear(model: Model, job: Job) -> list[Problem]:
    needed = dict(job.gear) if job.options[0].minutes else {}
    for gear, count, until in job.opens:
        if _surely_lasts(model, job, until):
            needed[gear] = needed.get(gear, 0) + count
    return [
        Problem(
            f"{named(job.task)} needs {number} {model.problem.gear[at].name or model.problem.gear[at].id}; there "
            f"{_is(model.problem.gear[at].count)}",
            job.task.where or model.problem.gear[at].where,
            f"provide {number - model.problem.gear[at].count} more",
        )
        for at, number in needed.items()
        if number > model.problem.gear[at].count
    ]


def check_cycle(model: Model) -> tuple[Problem, ...]:
    """Gaps and hard dates that contradict each other, task by task."""
    try:
        early_starts(model.graph)
    except PositiveCycleError as error:
        told = explain(model.graph, error.cycle)
        return (replace(told, lack=_dated(model, error.cycle) or told.lack),)
    return ()


def _dated(model: Model, cycle: Sequence[Arc]) -> Lack | None:
    """Lay the tasks between a hard date to begin and one to be over by on the clock; None: it is about other limits."""
    origin = model.graph.origin
    turn = next((at for at, arc in enumerate(cycle) if arc.tail == origin), None)
    if turn is None:
        return None
    first, *chain, last = (*cycle[turn:], *cycle[:turn])
    if last.cause is not Cause.FINISH_BY or any(arc.cause is not Cause.LEAST for arc in chain):
        return None
    end = model.jobs[last.tail].task.finish_by
    begin = model.problem.start + first.weight
    return None if end is None else laid(model, chain, last.tail, begin, end, "its date")


def check_all(problem: SchedulingProblem) -> tuple[Problem, ...]:
    """Everything that is wrong without trying an order: each finding is a proof.

    Returns
    -------
    tuple of Problem
        Empty where nothing is found.
    """
    from moveplan.scheduling.state.model import model_of

    names = check_names(problem)
    if names:
        return names
    model = model_of(problem)
    return (
        check_cycle(model)
        or check_supply(model)
        or check_alone(model)
        or check_reach(model)
        or check_held(model)
    )
