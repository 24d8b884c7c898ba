"""A problem with one of its demands left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from moveplan.network.link import Link
from moveplan.network.task import Task
from moveplan.scheduling.demands_words import Demand
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.times import Interval


def with_task(problem: SchedulingProblem, index: int, task: Task) -> SchedulingProblem:
    """Put another task in the place of one."""
    tasks = (*problem.network.tasks[:index], task, *problem.network.tasks[index + 1 :])
    return replace(problem, network=replace(problem.network, tasks=tasks))


def with_link(problem: SchedulingProblem, index: int, link: Link) -> SchedulingProblem:
    """Put another link in the place of one."""
    links = (*problem.network.links[:index], link, *problem.network.links[index + 1 :])
    return replace(problem, network=replace(problem.network, links=links))


def tag_names(problem: SchedulingProblem) -> list[str]:
    """List the tags of tied days in the order in which demands count them."""
    used = (task.day for task in problem.network.tasks if task.day)
    return list(dict.fromkeys([*(tied.tag for tied in problem.tied_days), *used]))


def without(problem: SchedulingProblem, demand: Demand) -> SchedulingProblem | None:
    """Leave one demand out; None where a problem cannot be written without it.

    Parameters
    ----------
    problem : SchedulingProblem
        The problem. [-]
    demand : Demand
        One of its demands. [-]

    Returns
    -------
    SchedulingProblem or None
        The problem that asks for everything else. [-]
    """
    index = demand.index
    if demand.kind in ("least", "most"):
        link = problem.network.links[index]
        loose = replace(link, min_gap_min=None) if demand.kind == "least" else replace(link, max_gap_min=None)
        return with_link(problem, index, loose)
    if demand.kind == "not-before":
        return with_task(problem, index, replace(problem.network.tasks[index], not_before=None))
    if demand.kind == "finish-by":
        return with_task(problem, index, replace(problem.network.tasks[index], finish_by=None))
    return _without_resource(problem, demand)


def _without_resource(problem: SchedulingProblem, demand: Demand) -> SchedulingProblem | None:
    index, always = demand.index, (Interval(problem.start, problem.horizon),)
    if demand.kind == "hours":
        people = list(problem.people)
        people[index] = replace(people[index], available=always)
        return replace(problem, people=tuple(people))
    if demand.kind == "gear":
        gear = list(problem.gear)
        gear[index] = replace(gear[index], count=10**9)
        return replace(problem, gear=tuple(gear))
    if demand.kind == "day":
        name = tag_names(problem)[index]
        tasks = tuple(replace(t, day="") if t.day == name else t for t in problem.network.tasks)
        return replace(problem, network=replace(problem.network, tasks=tasks))
    return None


def concerned(problem: SchedulingProblem, demands: Sequence[Demand], whole: bool) -> SchedulingProblem:
    """Cut down to the tasks that some demands speak of.

    Parameters
    ----------
    problem : SchedulingProblem
        The problem. [-]
    demands : sequence of Demand
        Those in question. [-]
    whole : bool
        Whether all tasks of a tied day and all users of gear count, too. [-]

    Returns
    -------
    SchedulingProblem
        The same demands, asked of fewer tasks. [-]
    """
    network = problem.network
    ids: set[str] = set()
    for demand in demands:
        if demand.kind in ("least", "most"):
            ids |= {network.links[demand.index].before, network.links[demand.index].after}
        elif demand.kind in ("not-before", "finish-by"):
            ids.add(network.tasks[demand.index].id)
        elif whole:
            ids |= _users(problem, demand)
    holds = [hold for hold in network.holds if {hold.from_task, hold.until_task} <= ids]
    return replace(
        problem,
        network=replace(
            network,
            tasks=tuple(task for task in network.tasks if task.id in ids),
            links=tuple(link for link in network.links if {link.before, link.after} <= ids),
            holds=tuple(holds),
            milestones=tuple(row for row in network.milestones if row[1] in ids),
        ),
    )


def _users(problem: SchedulingProblem, demand: Demand) -> set[str]:
    network = problem.network
    if demand.kind == "day":
        name = tag_names(problem)[demand.index]
        return {task.id for task in network.tasks if task.day == name}
    if demand.kind == "gear":
        name = problem.gear[demand.index].id
        held = {
            end for hold in network.holds if hold.gear == name for end in (hold.from_task, hold.until_task)
        }
        return held | {task.id for task in network.tasks if name in dict(task.gear)}
    if demand.kind == "vehicle":
        return {task.id for task in network.tasks if problem.vehicles[demand.index].id in task.vehicles}
    return set()
