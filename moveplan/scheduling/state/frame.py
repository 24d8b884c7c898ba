"""What stays the same from one attempt to the next: blocks under greatest gaps, order, urgency."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from moveplan.network.arcs import Arc, Cause
from moveplan.network.passes import PositiveCycleError, early_starts, late_starts
from moveplan.scheduling.state.ends import last_finish
from moveplan.scheduling.state.model import Model
from moveplan.scheduling.state.work import least_length
from moveplan.times import Interval


@dataclass(frozen=True, slots=True)
class Frame:
    """The fixed part of every attempt.

    Parameters
    ----------
    blocks : tuple of tuple of int
        Tasks that bind each other by greatest gaps, placed or taken back as a whole; most have one task.
    block_of : tuple of int
        Block of each task.
    before : tuple of frozenset of int
        Blocks that must be placed before each block.
    after : tuple of tuple of int
        Blocks that wait for each block.
    within : tuple of tuple of int
        For each task, the tasks of its own block that are placed before it.
    urgency : tuple of int
        Latest start of each task from the start on; the least is placed first. [min]
    early : tuple of int
        Earliest start of each task from the start on. [min]
    longest : int
        Length of the longest chain, or of all work for those who can do it: nothing can be over before. [min]
    """

    model: Model
    blocks: tuple[tuple[int, ...], ...]
    block_of: tuple[int, ...]
    before: tuple[frozenset[int], ...]
    after: tuple[tuple[int, ...], ...]
    within: tuple[tuple[int, ...], ...]
    urgency: tuple[int, ...]
    early: tuple[int, ...]
    longest: int


def strong_components(size: int, heads: Sequence[Sequence[int]]) -> list[list[int]]:
    """Strongly connected components, each before those that lead to it (Tarjan 1972)."""
    index: list[int] = [-1] * size
    low: list[int] = [0] * size
    on_stack: list[bool] = [False] * size
    stack: list[int] = []
    found: list[list[int]] = []
    count = 0
    for root in range(size):
        if index[root] >= 0:
            continue
        work: list[tuple[int, int]] = [(root, 0)]
        while work:
            at, step = work.pop()
            if step == 0:
                index[at] = low[at] = count
                count += 1
                stack.append(at)
                on_stack[at] = True
            if step:
                low[at] = min(low[at], low[heads[at][step - 1]])
            step = _next_step(at, step, heads, index, low, on_stack)
            if step >= 0:
                work += [(at, step + 1), (heads[at][step], 0)]
            elif low[at] == index[at]:
                found.append(_popped(stack, on_stack, at))
    return found


def _next_step(
    at: int,
    step: int,
    heads: Sequence[Sequence[int]],
    index: Sequence[int],
    low: list[int],
    on_stack: Sequence[bool],
) -> int:
    """Find the number of the next arc that leads to an unseen position; -1: none is left."""
    for number in range(step, len(heads[at])):
        head = heads[at][number]
        if index[head] < 0:
            return number
        if on_stack[head]:
            low[at] = min(low[at], index[head])
    return -1


def _popped(stack: list[int], on_stack: list[bool], root: int) -> list[int]:
    component = []
    while True:
        top = stack.pop()
        on_stack[top] = False
        component.append(top)
        if top == root:
            return sorted(component)


def _order_within(model: Model, block_of: Sequence[int], early: Sequence[int]) -> list[list[int]]:
    """Who is placed before whom inside a block: along arcs that push forwards in time."""
    before: list[set[int]] = [set() for _ in model.jobs]
    origin = model.graph.origin
    for arc in model.graph.arcs:
        if origin in (arc.tail, arc.head) or arc.tail == arc.head:
            continue
        if block_of[arc.tail] != block_of[arc.head]:
            continue
        level = (early[arc.tail], arc.tail) < (early[arc.head], arc.head)
        if arc.weight > 0 or (arc.weight == 0 and level):
            before[arc.head].add(arc.tail)
    return [sorted(group) for group in before]


def frame_of(model: Model) -> Frame:
    """Work out what every attempt shares.

    Raises
    ------
    PositiveCycleError
        Where the gaps and dates contradict each other.
    """
    size = len(model.jobs)
    heads = [sorted({rule[1] for rule in model.out[at]}) for at in range(size)]
    blocks = strong_components(size, heads)[::-1]
    block_of = [0] * size
    for number, block in enumerate(blocks):
        for at in block:
            block_of[at] = number
    before: list[set[int]] = [set() for _ in blocks]
    after: list[set[int]] = [set() for _ in blocks]
    for tail, head, *_ in model.rules:
        if block_of[tail] != block_of[head]:
            before[block_of[head]].add(block_of[tail])
            after[block_of[tail]].add(block_of[head])
    early = early_starts(model.graph)
    ends = [at + job.span.least for at, job in zip(early, model.jobs, strict=True)]
    return Frame(
        model=model,
        blocks=tuple(tuple(block) for block in blocks),
        block_of=tuple(block_of),
        before=tuple(frozenset(group) for group in before),
        after=tuple(tuple(sorted(group)) for group in after),
        within=tuple(tuple(group) for group in _order_within(model, block_of, early)),
        urgency=_urgency(model),
        early=tuple(early),
        longest=max([0, *ends, least_length(model, early) if model.only_finish else 0]),
    )


def _urgency(model: Model) -> tuple[int, ...]:
    """Latest start of each task by dates, days and hours; by dates alone where those contradict each other."""
    start, span = model.problem.start, model.problem.horizon - model.problem.start
    ends = tuple(
        Arc(at, model.graph.origin, job.span.least - (last_finish(model, job) - start), Cause.FINISH_BY)
        for at, job in enumerate(model.jobs)
    )
    try:
        return tuple(late_starts(replace(model.graph, arcs=model.graph.arcs + ends), span))
    except PositiveCycleError:
        return tuple(late_starts(model.graph, span))


def early_with_days(frame: Frame, days: Sequence[Interval]) -> list[int]:
    """Earliest starts from the start on when each tied day is a given day.

    Raises
    ------
    PositiveCycleError
        Where the gaps and dates contradict these days.
    """
    model = frame.model
    extra = tuple(
        Arc(model.graph.origin, at, days[job.tag].start - model.problem.start, Cause.NOT_BEFORE)
        for at, job in enumerate(model.jobs)
        if job.tag >= 0
    )
    return early_starts(replace(model.graph, arcs=model.graph.arcs + extra))
