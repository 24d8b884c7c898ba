"""Is this a network at all? Unknown and double ids, gaps that exclude each other, rings of waiting."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from moveplan.errors import Lack, Problem, in_key
from moveplan.network.arcs import Arc, ArcGraph, Cause
from moveplan.network.graph import Network
from moveplan.network.link import Link, Relation
from moveplan.network.words import from_end_to_end, listed, named, said

_MOST_TASKS_NAMED = 12
"""Most tasks named in one sentence; more nobody reads. [-]"""
_MOST_TRIED = 100
"""Most arcs of a circle at which it is tried to be opened. Chosen. [-]"""


def check_ids(network: Network) -> tuple[Problem, ...]:
    """Problems with ids: two tasks with one id, links and holds that name no task."""
    problems: list[Problem] = []
    first: dict[str, str] = {}
    for task in network.tasks:
        if task.id in first:
            there = f" (first at {first[task.id]})" if first[task.id] else ""
            problems.append(Problem(f"the task {task.id} stands twice{there}", task.where, "rename one"))
        first.setdefault(task.id, task.where)
    named = [(link.where, end) for link in network.links for end in (link.before, link.after)]
    named += [("", end) for hold in network.holds for end in (hold.from_task, hold.until_task)]
    named += [("", end) for _, end in network.milestones]
    for where, end in named:
        if end not in first:
            problems.append(Problem(f'there is no task "{end}"', where, "name one of the plan's tasks"))
    return tuple(problems)


def check_gaps(network: Network) -> tuple[Problem, ...]:
    """Links whose greatest gap is below their least."""
    return tuple(
        Problem(
            f"{link.after} is to follow {link.before} by at least {said(link.min_gap_min)} and at most"
            f" {said(link.max_gap_min)}",
            link.where,
            f"raise the greatest gap to {said(link.min_gap_min)} or more, or lower the least",
        )
        for link in network.links
        if link.min_gap_min is not None
        and link.max_gap_min is not None
        and link.max_gap_min < link.min_gap_min
    )


def _wheres(graph: ArcGraph, cycle: Sequence[Arc]) -> str:
    for arc in cycle:
        if arc.link is not None and arc.link.where and arc.cause is Cause.GREATEST:
            return arc.link.where
    for arc in cycle:
        if arc.link is not None and arc.link.where:
            return arc.link.where
    lines = [graph.tasks[arc.head].where for arc in cycle if arc.head != graph.origin]
    return next((where for where in lines if where), "")


def _shortest(graph: ArcGraph, cycle: Sequence[Arc]) -> Sequence[Arc]:
    """Find a ring with fewer tasks through one of the arcs of a ring, because fewer are easier to mend."""
    import networkx as nx  # loaded where there is a ring to find, not for every plan

    waits: nx.DiGraph[int] = nx.DiGraph()
    for arc in graph.arcs:
        if arc.cause is Cause.LEAST and not waits.has_edge(arc.tail, arc.head):
            waits.add_edge(arc.tail, arc.head, arc=arc)
    best = cycle
    for closing in cycle[:_MOST_TRIED]:
        path = nx.shortest_path(waits, closing.head, closing.tail)
        ring = (*(waits.edges[pair]["arc"] for pair in pairwise(path)), closing)
        if len(ring) < len(best) and sum(arc.weight for arc in ring) > 0:
            best = ring
    return best


def _ring(graph: ArcGraph, found: Sequence[Arc]) -> Problem:
    cycle = _shortest(graph, found)
    names = [(named(graph.tasks[arc.head]), named(graph.tasks[arc.tail])) for arc in cycle]
    if len(names) == 1:
        return Problem(f"{names[0][0]} waits for itself", _wheres(graph, cycle), "remove that link")
    waits = listed([f"{after} waits for {before}" for after, before in names], _MOST_TASKS_NAMED)
    which = "one of the two" if len(names) == 2 else "one of these links"
    return Problem(f"{waits}", _wheres(graph, cycle), f"remove {which}")


def _between(graph: ArcGraph, link: Link) -> str:
    names = {task.id: named(task) for task in graph.tasks}
    return from_end_to_end(link.relation, names[link.before], names[link.after])


def _plain(link: Link) -> bool:
    return link.relation is Relation.FINISHTOSTART and link.min_gap_min == 0


def _step(graph: ArcGraph, arc: Arc) -> str:
    """One arc as a sum people can follow."""
    if arc.cause is Cause.NOT_BEFORE:
        return f"{named(graph.tasks[arc.head])} not before {said(arc.weight)} after the start"
    if arc.link is None or (arc.cause is Cause.LEAST and _plain(arc.link)):
        return ""
    gap = arc.link.min_gap_min if arc.cause is Cause.LEAST else arc.link.max_gap_min
    word = "at least" if arc.cause is Cause.LEAST else "at most"
    return f"{_between(graph, arc.link)} {word} {said(gap or 0)}"


def _limit(graph: ArcGraph, arc: Arc) -> tuple[str, int]:
    """Say what one greatest gap or finish-by limits, and how much it allows."""
    if arc.link is not None and arc.link.max_gap_min is not None:
        return f"from {_between(graph, arc.link)}", arc.link.max_gap_min
    task = graph.tasks[arc.tail]
    return f"from the start until {named(task)} is finished", (task.finish_by or 0) - graph.start


def counted(graph: ArcGraph, arcs: Sequence[Arc]) -> str:
    """List the tasks on some arcs with their durations, and the gaps that are counted with them."""
    ends = [arc.head for arc in arcs]
    path = [arcs[0].tail, *ends] if arcs[0].tail != arcs[-1].head else ends
    names = [
        f"{named(graph.tasks[at])} ({said(graph.spans[at].least)})"
        for at in dict.fromkeys(path)
        if at != graph.origin
    ]
    steps = [
        text for arc in arcs if arc.weight > 0 or arc.cause is Cause.LEAST if (text := _step(graph, arc))
    ]
    gaps = f"; gaps: {listed(steps, _MOST_TASKS_NAMED)}" if steps else ""
    return f"tasks: {listed(names, _MOST_TASKS_NAMED)}{gaps}"


def _arithmetic(graph: ArcGraph, cycle: Sequence[Arc]) -> Problem:
    limits = [_limit(graph, arc) for arc in cycle if arc.cause in (Cause.GREATEST, Cause.FINISH_BY)]
    allowed = sum(minutes for _, minutes in limits)
    short = sum(arc.weight for arc in cycle)
    where = " and ".join(text for text, _ in limits)
    line = _wheres(graph, cycle)
    return Problem(
        f"{where} {said(allowed + short)} are needed; allowed are {said(allowed)}; {said(short)} short"
        f" ({counted(graph, cycle)})",
        line,
        f"allow {said(short)} more{in_key(line)}, or shorten one of these tasks by as much",
        lack=Lack(
            f"{where} {said(allowed + short)} are needed, but {said(allowed)} are allowed: {said(short)} are missing",
            0,
            allowed,
            allowed + short,
            allowed,
        ),
    )


def explain(graph: ArcGraph, cycle: Sequence[Arc]) -> Problem:
    """Say a positive cycle task by task, with its arithmetic.

    Parameters
    ----------
    graph : ArcGraph
        The arcs it was found in.
    cycle : sequence of Arc
        As :class:`PositiveCycleError` carries it.

    Returns
    -------
    Problem
        A ring of tasks that wait for each other, or gaps that ask for more time than others allow.
    """
    if all(arc.cause is Cause.LEAST for arc in cycle):
        return _ring(graph, cycle)
    return _arithmetic(graph, cycle)
