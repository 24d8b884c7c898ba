"""The heart of a move by itself: tasks that short greatest gaps, tied days and soft dates bind together.

Everything else only gives these tasks room, so the least lateness and the least time under greatest gaps of
the heart alone is a true bound for the whole, and it is found quickly. The rest is then placed around it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from moveplan.network.graph import Network
from moveplan.network.passes import PositiveCycleError
from moveplan.scheduling.objective.aims import exposed
from moveplan.scheduling.problem import SchedulingProblem, TiedDay
from moveplan.scheduling.state.frame import Frame, early_with_days
from moveplan.scheduling.state.model import Model
from moveplan.times import Interval


def core_tasks(frame: Frame) -> list[int]:
    """Find the tasks of the heart, and those between them.

    Parameters
    ----------
    frame : Frame
        Knows the blocks.

    Returns
    -------
    list of int
        Positions, in order.
    """
    model = frame.model
    at = {job.task.id: position for position, job in enumerate(model.jobs)}
    inside = {at for at, job in enumerate(model.jobs) if job.tag >= 0 or job.task.due is not None}
    for link in model.problem.network.links:
        if exposed(link):
            inside |= {at[link.before], at[link.after]}
    return closed(model, inside)


def closed(model: Model, inside: set[int]) -> list[int]:
    """Add what lies between some tasks, so that nothing outside them both waits for one and is waited for by another.

    Parameters
    ----------
    inside : set of int
        Positions of tasks.
    """
    between = model.reach(inside, forwards=False) & model.reach(inside, forwards=True)
    return sorted(inside | {at for at in between if model.jobs[at].task.repeats is None})


def cut_out(frame: Frame, inside: Sequence[int]) -> SchedulingProblem:
    """Cut the heart out of a problem and ask nothing of it but what is its own.

    Parameters
    ----------
    inside : sequence of int
        The tasks of the heart.

    Returns
    -------
    SchedulingProblem
        What contradicts itself in it does so in the whole.
    """
    problem = frame.model.problem
    ids = {frame.model.jobs[at].task.id for at in inside}
    network = problem.network
    return replace(
        problem,
        network=Network(
            tuple(frame.model.jobs[at].task for at in inside),
            tuple(link for link in network.links if link.before in ids and link.after in ids),
            tuple(hold for hold in network.holds if hold.from_task in ids and hold.until_task in ids),
            tuple(row for row in network.milestones if row[1] in ids),
        ),
    )


def with_room(frame: Frame, inside: Sequence[int], early: Sequence[int]) -> SchedulingProblem:
    """Cut the heart out of a problem; what comes before it is left as the time that it needs.

    Parameters
    ----------
    inside : sequence of int
        The tasks of the heart.
    early : sequence of int
        Earliest start of every task of the whole. [min]

    Returns
    -------
    SchedulingProblem
        It has a schedule wherever the whole has one.
    """
    problem, heart = frame.model.problem, cut_out(frame, inside)
    tasks = tuple(
        replace(task, not_before=max(problem.start + early[at], task.not_before or problem.start))
        for at, task in zip(inside, heart.network.tasks, strict=True)
    )
    return replace(heart, network=replace(heart.network, tasks=tasks))


def core_problem(frame: Frame, days: Sequence[Interval], inside: Sequence[int]) -> SchedulingProblem | None:
    """Cut the heart out of a problem, on settled days.

    Parameters
    ----------
    days : sequence of Interval
        The day of each tag. [min]
    inside : sequence of int
        The tasks of the heart.

    Returns
    -------
    SchedulingProblem or None
        None: the days are impossible.
    """
    try:
        early = early_with_days(frame, days)
    except PositiveCycleError:
        return None
    tied = (TiedDay(tag, (day,)) for tag, day in zip(tags(frame.model), days, strict=True))
    return replace(with_room(frame, inside, early), tied_days=tuple(tied))


def tags(model: Model) -> list[str]:
    """Name the tied days of a model in its order."""
    found = {job.tag: job.task.day for job in model.jobs if job.tag >= 0}
    stated = [tied.tag for tied in model.problem.tied_days]
    return [found.get(tag, stated[tag] if tag < len(stated) else "") for tag in range(len(model.tags))]
