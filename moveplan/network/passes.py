"""Early and late starts: longest paths in one sweep, or by label correcting where an arc runs backwards.

A set of gaps that contradicts itself is found as a cycle of positive length and handed over arc by arc.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence

from moveplan.network.arcs import Arc, ArcGraph, Cause

Out = list[list[tuple[int, int, int]]]


class PositiveCycleError(Exception):
    """Gaps that contradict each other; its arcs in order, head to tail, ending where they began."""

    def __init__(self, cycle: tuple[Arc, ...]) -> None:
        super().__init__(f"{sum(arc.weight for arc in cycle)} min too long: {len(cycle)} arcs")
        self.cycle = cycle


def arcs_out(graph: ArcGraph) -> Out:
    """List the arcs that lead away from each task, and last from the start: head, weight, number of the arc."""
    return _outgoing(len(graph.tasks) + 1, [(arc.tail, arc.head, arc.weight) for arc in graph.arcs])


def _outgoing(size: int, ends: Sequence[tuple[int, int, int]]) -> Out:
    out: Out = [[] for _ in range(size)]
    for number, (tail, head, weight) in enumerate(ends):
        out[tail].append((head, weight, number))
    return out


def topological_order(size: int, out: Out) -> list[int]:
    """Positions in an order that respects the arcs; shorter than ``size`` where arcs form a cycle."""
    waiting = [0] * size
    for arcs in out:
        for head, _, _ in arcs:
            waiting[head] += 1
    order = [position for position in range(size) if not waiting[position]]
    for position in order:
        for head, _, _ in out[position]:
            waiting[head] -= 1
            if not waiting[head]:
                order.append(head)
    return order


def _sweep(order: Sequence[int], out: Out, labels: list[int]) -> None:
    for tail in order:
        reached = labels[tail]
        for head, weight, _ in out[tail]:
            if reached + weight > labels[head]:
                labels[head] = reached + weight


def _loop_through(parents: Sequence[int], tails: Sequence[int], begin: int) -> list[int] | None:
    """Arc numbers of a cycle among the parent pointers that lead back from a position, in order."""
    place: dict[int, int] = {}
    taken: list[int] = []
    position = begin
    while parents[position] >= 0 and position not in place:
        place[position] = len(taken)
        taken.append(parents[position])
        position = tails[parents[position]]
    return taken[place[position] :][::-1] if position in place else None


def _any_loop(parents: Sequence[int], tails: Sequence[int]) -> list[int] | None:
    """Find a cycle among all parent pointers, looking at each position once."""
    seen = [-1] * len(parents)
    for begin in range(len(parents)):
        position = begin
        while seen[position] < 0 and parents[position] >= 0:
            seen[position] = begin
            position = tails[parents[position]]
        if seen[position] == begin and parents[position] >= 0:
            return _loop_through(parents, tails, position)
    return None


def _correct(size: int, out: Out, tails: Sequence[int], labels: list[int], fixed: int) -> list[int] | None:
    """Label correcting; returns the numbers of the arcs of a positive cycle, or None.

    The label of ``fixed`` must not rise: an arc that would raise it closes a cycle through it.
    """
    parents = [-1] * size
    order = topological_order(size, out)
    placed = set(order)
    queue = deque(order + [position for position in range(size) if position not in placed])
    queued = [True] * size
    since = 0
    while queue:
        tail = queue.popleft()
        queued[tail] = False
        reached = labels[tail]
        for head, weight, number in out[tail]:
            if reached + weight <= labels[head]:
                continue
            labels[head] = reached + weight
            parents[head] = number
            since += 1
            if head == fixed:
                return _loop_through(parents, tails, fixed) or _back_to_root(parents, tails, fixed)
            if not queued[head]:
                queue.append(head)
                queued[head] = True
        if since >= size:
            since = 0
            loop = _any_loop(parents, tails)
            if loop:
                return loop
    return None


def _back_to_root(parents: Sequence[int], tails: Sequence[int], begin: int) -> list[int]:
    taken = []
    position = begin
    while parents[position] >= 0:
        taken.append(parents[position])
        position = tails[parents[position]]
    return taken[::-1]


def _closed(graph: ArcGraph, loop: Sequence[int]) -> tuple[Arc, ...]:
    """Turn arc numbers into arcs; a path that hangs on the start of everything is closed by it."""
    arcs = tuple(graph.arcs[number] for number in loop)
    if arcs[0].tail == arcs[-1].head:
        return arcs
    return (Arc(graph.origin, arcs[0].tail, 0, Cause.START), *arcs)


def early_starts(graph: ArcGraph) -> list[int]:
    """Earliest start of each task, counted from the start of everything.

    Returns
    -------
    list of int
        One a task. [min]

    Raises
    ------
    PositiveCycleError
        Where the gaps and dates contradict each other.
    """
    size = len(graph.tasks) + 1
    ends = [(arc.tail, arc.head, arc.weight) for arc in graph.arcs]
    return _longest(graph, size, ends, [0] * size)[:-1]


def late_starts(graph: ArcGraph, finish: int) -> list[int]:
    """Latest start of each task for everything to be over by ``finish`` and every greatest gap kept.

    Parameters
    ----------
    graph : ArcGraph
        Arcs without a positive cycle.
    finish : int
        Counted from the start of everything, like the result. [min]

    Returns
    -------
    list of int
        One a task. [min]
    """
    size = len(graph.tasks) + 1
    ends = [(arc.head, arc.tail, arc.weight) for arc in graph.arcs if arc.tail != graph.origin]
    labels = [span.least - finish for span in graph.spans] + [0]
    return [-label for label in _longest(graph, size, ends, labels)[:-1]]


def _longest(graph: ArcGraph, size: int, ends: list[tuple[int, int, int]], labels: list[int]) -> list[int]:
    out = _outgoing(size, ends)
    order = topological_order(size, out)
    if len(order) == size:
        reached = labels.copy()
        _sweep(order, out, reached)
        if reached[graph.origin] <= 0:
            return reached
    loop = _correct(size, out, [tail for tail, _, _ in ends], labels, graph.origin)
    if loop:
        raise PositiveCycleError(_closed(graph, loop))
    return labels


def distances_from(graph: ArcGraph, position: int, out: Out | None = None) -> list[int | None]:
    """Least distance from the start of one task to the start of each other; None: nothing binds them.

    Parameters
    ----------
    graph : ArcGraph
        Without a positive cycle.
    position : int
        Of the task.
    out : list, optional
        Its arcs by :func:`arcs_out`, for who asks from many tasks.
    """
    out = arcs_out(graph) if out is None else out
    reached: list[int | None] = [None] * len(out)
    reached[position] = 0
    queue = deque([position])
    while queue:
        tail = queue.popleft()
        here = reached[tail] or 0
        for head, weight, _ in out[tail]:
            before, now = reached[head], here + weight
            if before is None or now > before:
                reached[head] = now
                queue.append(head)
    return reached[:-1]
