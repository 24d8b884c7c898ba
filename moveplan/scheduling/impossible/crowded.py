"""More work than hands within a block: tasks that greatest gaps keep so near each other that nobody could do them all.

Every task of a block stands within some minutes before or after any one of its tasks, the anchor. Where the
work that must be done within such a stretch is more than all hands could do in it, there is no schedule.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence

from moveplan.errors import Lack, Problem
from moveplan.network.arcs import Arc
from moveplan.network.words import listed, named, said, worked
from moveplan.scheduling.state.frame import strong_components
from moveplan.scheduling.state.model import Model
from moveplan.scheduling.state.work import Crowd, Labour, Shortage, groups, tightest

_MOST_IN_BLOCK = 120
"""Most tasks of a block that is examined; the examination grows with their square. Chosen. [-]"""
_ANCHORS = 6
"""Tasks with most ties around which a block is examined. Chosen. [-]"""


def check_crowded(model: Model) -> Iterator[Problem]:
    """Compare the work of each block with the hands there are, around some of its tasks.

    Parameters
    ----------
    model : Model
        Gaps without contradiction.

    Yields
    ------
    Problem
        The first overload: a proof.
    """
    if not model.people:
        return
    labour = Labour(model)
    heads = [sorted({rule[1] for rule in model.out[at]}) for at in range(len(model.jobs))]
    for block in strong_components(len(model.jobs), heads):
        if not 2 < len(block) <= _MOST_IN_BLOCK or not any(model.jobs[at].pool for at in block):
            continue
        found = _in_block(model, block, labour)
        if found is not None:
            yield found
            return


def _in_block(model: Model, block: Sequence[int], labour: Labour) -> Problem | None:
    inside = set(block)
    arcs = [arc for arc in model.graph.arcs if arc.tail in inside and arc.head in inside]
    degree = dict.fromkeys(block, 0)
    for arc in arcs:
        degree[arc.tail] += 1
        degree[arc.head] += 1
    anchors = sorted(block, key=lambda at: (-degree[at], at))[:_ANCHORS]
    for anchor in anchors:
        windows = _windows(model, block, arcs, anchor)
        for group in groups(model, at_most=8):
            taken = labour.of(group)
            work = [(*windows[at], taken[at], at) for at in windows if at in taken]
            found = tightest(work, Crowd(len(group))) if work else None
            if found is not None:
                return _told(model, anchor, group, found)
    return None


def _windows(
    model: Model, block: Sequence[int], arcs: Sequence[Arc], anchor: int
) -> dict[int, tuple[int, int]]:
    """First start and last finish of each task of a block, counted from the start of the anchor."""
    ahead = _longest(anchor, [(arc.tail, arc.head, arc.weight) for arc in arcs])
    back = _longest(anchor, [(arc.head, arc.tail, arc.weight) for arc in arcs])
    found = {}
    for at in block:
        greatest = model.jobs[at].span.greatest
        if at in ahead and at in back and greatest is not None:
            found[at] = ahead[at], greatest - back[at]
    return found


def _longest(begin: int, ends: Sequence[tuple[int, int, int]]) -> dict[int, int]:
    out: dict[int, list[tuple[int, int]]] = {}
    for tail, head, weight in ends:
        out.setdefault(tail, []).append((head, weight))
    reached = {begin: 0}
    queue = deque([begin])
    while queue:
        tail = queue.popleft()
        for head, weight in out.get(tail, ()):
            moment = reached[tail] + weight
            if head not in reached or moment > reached[head]:
                reached[head] = moment
                queue.append(head)
    return reached


def _told(model: Model, anchor: int, group: Sequence[int], found: Shortage) -> Problem:
    begin, end, tasks, total, there = found
    names = listed([model.problem.people[at].name or model.problem.people[at].id for at in group])
    ids = {model.jobs[at].task.id for at in tasks}
    links = {
        (link.before, link.after): link
        for link in model.problem.network.links
        if link.max_gap_min is not None and {link.before, link.after} & ids
    }
    where = next((link.where for link in links.values() if link.where), "")
    return Problem(
        f"{listed([named(model.jobs[at].task) for at in tasks])} must lie within {said(end - begin)} "
        f"{_around(named(model.jobs[anchor].task), begin, end)}, because nothing may wait longer; that takes "
        f"{worked(total)} of {names}, who "
        f"{'has' if len(group) == 1 else 'have'} {worked(there)} in that time; {worked(total - there)} short",
        where,
        f"find {worked(total - there)} more: allow longer gaps, or get one more person",
        lack=Lack(
            f"{names} {'has' if len(group) == 1 else 'have'} {worked(there)} around {named(model.jobs[anchor].task)}, "
            f"where nothing may wait longer, but {worked(total)} of work: {worked(total - there)} are missing",
            begin,
            end,
            total,
            there,
        ),
    )


def _around(name: str, begin: int, end: int) -> str:
    if end <= 0:
        return f"before {name} starts"
    return f"after {name} starts" if begin >= 0 else f"around the start of {name}"
