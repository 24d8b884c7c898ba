"""Float of each task, and what a minute more of it does to the finish."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from moveplan.network.arcs import Arc, ArcGraph, Cause
from moveplan.network.passes import Passes, PositiveCycleError, early_starts, topological_order


@dataclass(frozen=True, slots=True)
class Floats:
    """How much room one task has.

    Parameters
    ----------
    total_float_min : int
        How far its start may move without moving the finish. [min]
    free_float_min : int
        How far its start may move without moving any other task. [min]
    effect : int or None
        By how many minutes the finish moves if the task takes one minute more: +1, 0 or -1; None where no
        schedule would be left. [min]
    """

    total_float_min: int
    free_float_min: int
    effect: int | None


def free_floats(graph: ArcGraph, found: Passes) -> list[int]:
    """Free float of each task: the least slack of the arcs that leave it, the finish included."""
    early = (*found.early_start, 0)
    room = [found.finish - begin - span.least for begin, span in zip(early, graph.spans, strict=False)]
    for arc in graph.arcs:
        if arc.tail != graph.origin:
            room[arc.tail] = min(room[arc.tail], early[arc.head] - early[arc.tail] - arc.weight)
    return room


def _takes_part(arc: Arc, position: int) -> bool:
    if arc.link is None:
        return arc.cause is Cause.FINISH_BY
    ends_of_before = arc.link.relation.from_finish
    ends_of_after = arc.link.relation.to_finish
    is_before = (arc.tail == position) == (arc.cause is Cause.LEAST)
    return ends_of_before if is_before else ends_of_after


def _could_matter(graph: ArcGraph, found: Passes) -> list[bool]:
    """Tasks whose duration stands in an arc without slack, or that end last."""
    early = (*found.early_start, 0)
    matters = [begin + span.least == found.finish for begin, span in zip(early, graph.spans, strict=False)]
    for arc in graph.arcs:
        if early[arc.head] - early[arc.tail] != arc.weight:
            continue
        for position in (arc.tail, arc.head):
            if position != graph.origin and _takes_part(arc, position):
                matters[position] = True
    return matters


def _longer(arc: Arc, position: int) -> Arc:
    """Give the arc as it is when the task at a position lasts a minute longer."""
    if position not in (arc.tail, arc.head) or not _takes_part(arc, position):
        return arc
    return replace(arc, weight=arc.weight + (arc.tail == position) - (arc.head == position))


def effect(graph: ArcGraph, found: Passes, position: int) -> int | None:
    """Minutes by which the finish moves when the task at a position takes one minute more.

    Float 0 does not answer this: a task may be critical in its start only, or backwards, where gaps are
    counted to finishes or have a greatest value (Elmaghraby and Kamburowski 1992, recalled).
    """
    spans = list(graph.spans)
    spans[position] = replace(spans[position], least=spans[position].least + 1)
    longer = replace(graph, spans=tuple(spans), arcs=tuple(_longer(arc, position) for arc in graph.arcs))
    try:
        early = early_starts(longer)
    except PositiveCycleError:
        return None
    return max(begin + span.least for begin, span in zip(early, spans, strict=True)) - found.finish


def _effects(graph: ArcGraph, found: Passes) -> list[int | None]:
    """Effect of each task; where no arc runs backwards most follow from the arcs at the task alone."""
    near = _arcs_at(graph)
    local = _without_cycles(graph)
    early = (*found.early_start, 0)
    effects: list[int | None] = []
    for position, matters in enumerate(_could_matter(graph, found)):
        if not matters:
            effects.append(0)
        elif local and not _starts_earlier(early, position, near[position]):
            effects.append(int(_pushes(graph, found, position, near[position])))
        else:
            effects.append(effect(graph, found, position))
    return effects


def _arcs_at(graph: ArcGraph) -> list[list[Arc]]:
    near: list[list[Arc]] = [[] for _ in graph.tasks]
    for arc in graph.arcs:
        for position in {arc.tail, arc.head} - {graph.origin}:
            near[position].append(arc)
    return near


def _without_cycles(graph: ArcGraph) -> bool:
    """Whether no arc leads backwards, to an earlier task or to the start."""
    size = len(graph.tasks) + 1
    out: list[list[tuple[int, int, int]]] = [[] for _ in range(size)]
    for number, arc in enumerate(graph.arcs):
        if arc.head == graph.origin:
            return False
        out[arc.tail].append((arc.head, arc.weight, number))
    return len(topological_order(size, out)) == size


def _starts_earlier(early: Sequence[int], position: int, near: Sequence[Arc]) -> bool:
    """Whether the task would start earlier if it lasted a minute longer."""
    longer = [_longer(arc, position) for arc in near if arc.head == position]
    return max([0, *(early[arc.tail] + arc.weight for arc in longer)]) < early[position]


def _pushes(graph: ArcGraph, found: Passes, position: int, near: Sequence[Arc]) -> bool:
    """Whether a minute more makes the finish later, or a task without float."""
    early, late = found.early_start, found.late_start
    if early[position] + graph.spans[position].least == found.finish:
        return True
    return any(
        early[position] + _longer(arc, position).weight > early[arc.head] == late[arc.head]
        for arc in near
        if arc.tail == position
    )


def floats(graph: ArcGraph, found: Passes) -> list[Floats]:
    """Total and free float, and the effect of one minute more, of each task.

    Parameters
    ----------
    graph : ArcGraph
        The arcs.
    found : Passes
        Early and late starts of the same arcs. [min]

    Returns
    -------
    list of Floats
        One a task.
    """
    effects = _effects(graph, found)
    free = free_floats(graph, found)
    return [
        Floats(late - early, free[at], effects[at])
        for at, (early, late) in enumerate(zip(found.early_start, found.late_start, strict=True))
    ]
