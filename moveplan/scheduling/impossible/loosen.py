"""A problem with one of its demands left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from moveplan.network.link import Link
from moveplan.network.task import Task
from moveplan.scheduling.impossible.demands_words import Demand
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


def only(problem: SchedulingProblem, demands: Sequence[Demand]) -> SchedulingProblem:
    """Ask for some demands alone; where nobody's hours are among them, the tasks need nobody.

    A schedule of it keeps all these demands. There may be none although they can hold: who is in a crew and
    busy with one thing at a time is kept as soon as any demand speaks of people.
    """
    kept: dict[str, set[int]] = {}
    for demand in demands:
        kept.setdefault(demand.kind, set()).add(demand.index)
    network = problem.network
    people = bool(kept.get("hours", set()) | kept.get("one-at-a-time", set()))
    vehicles = {problem.vehicles[at].id for at in kept.get("vehicle", ())}
    gear = {problem.gear[at].id for at in kept.get("gear", ())}
    days = {name for at, name in enumerate(tag_names(problem)) if at in kept.get("day", ())}
    tasks = (
        replace(
            task,
            not_before=task.not_before if at in kept.get("not-before", ()) else None,
            finish_by=task.finish_by if at in kept.get("finish-by", ()) else None,
            day=task.day if task.day in days else "",
            crew=task.crew if people else None,
            larger_crews=task.larger_crews if people else (),
            vehicles=tuple(name for name in task.vehicles if name in vehicles),
            gear=tuple(use for use in task.gear if use[0] in gear),
        )
        for at, task in enumerate(network.tasks)
    )
    links = (
        replace(
            link,
            min_gap_min=link.min_gap_min if at in kept.get("least", ()) else None,
            max_gap_min=link.max_gap_min if at in kept.get("most", ()) else None,
        )
        for at, link in enumerate(network.links)
    )
    always = (Interval(problem.start, problem.horizon),)
    crowd = (
        person if at in kept.get("hours", ()) else replace(person, available=always)
        for at, person in enumerate(problem.people)
    )
    holds = tuple(hold for hold in network.holds if hold.gear in gear)
    whole = replace(network, tasks=tuple(tasks), links=tuple(links), holds=holds)
    return replace(problem, network=whole, people=tuple(crowd))


def concerned(problem: SchedulingProblem, demands: Sequence[Demand], whole: bool) -> SchedulingProblem:
    """Cut down to the tasks that some demands speak of.

    Parameters
    ----------
    whole : bool
        Whether all tasks of a tied day and all users of gear count, too.

    Returns
    -------
    SchedulingProblem
        The same demands, asked of fewer tasks.
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
