"""The way of every animal, and the greatest gap that its safe time puts into the network."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from graphlib import TopologicalSorter

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.network.link import Link, Relation
from moveplan.network.task import Task
from moveplan.practice.draft import Draft
from moveplan.practice.phases.release import release_subject
from moveplan.practice.phases.road import animals_on_board
from moveplan.practice.project import Moment, Passage, Route, Stop
from moveplan.quantities.durations import CORALS
from moveplan.quantities.facts import GroupFacts, SystemFacts

P90 = 1.2816
"""Standard normal deviate at 90 %. [-]"""


def spread_beyond_likely_min(estimates: Sequence[Estimate]) -> float:
    """P90 of a sum of durations less the sum of their likely values.

    Beta distributions with PERT's mean, independent of each other, and the sum taken as normal.

    Parameters
    ----------
    estimates : sequence of Estimate
        Durations that follow each other. [min]

    Returns
    -------
    float
        At least 0. [min]

    References
    ----------
    Malcolm, Roseboom, Clark and Fazar (1959), Operations Research 7, 646-669 (recalled).

    Examples
    --------
    >>> one = Estimate(30, 60, 150, "min", "")
    >>> round(spread_beyond_likely_min([one]), 1)
    37.4
    """
    shift, variance = 0.0, 0.0
    for one in estimates:
        mean = (one.low + 4 * one.likely + one.high) / 6
        shift += mean - one.likely
        variance += (mean - one.low) * (one.high - mean) / 7
    return max(shift + P90 * math.sqrt(variance), 0.0)


def longest_chain(tasks: Mapping[str, Task], links: Sequence[Link], first: str, last: str) -> list[str]:
    """List the tasks of the longest chain of finish-to-start links between two tasks, both included.

    Parameters
    ----------
    tasks : Mapping of str to Task
        By id. [-]
    links : sequence of Link
        Without a cycle. [-]
    first, last : str
        Ids. [-]
    """
    following: dict[str, list[str]] = {}
    for link in links:
        if link.relation is Relation.FINISHTOSTART:
            following.setdefault(link.before, []).append(link.after)
    best: dict[str, tuple[int, list[str]]] = {}
    for task in TopologicalSorter({first: (), **following}).static_order():  # those that follow come first
        tails = [best[after] for after in following.get(task, ())] if task != last else [(0, [])]
        length, chain = max(tails, key=lambda tail: tail[0], default=(-(10**9), []))
        best[task] = (length + tasks[task].minutes, [task, *chain])
    return best[first][1]


def _ends(move: Draft, facts: SystemFacts, group: GroupFacts) -> tuple[str, str]:
    """First task that takes a group out of its tank, and the task that lets it into the new one."""
    if group.livestock.id in move.ends:
        return move.ends[group.livestock.id]
    if group.kind.group in CORALS:
        first, last = "corals-out", "place-corals"
    elif group.kind.group == "fish":
        release = f"release-fish-{release_subject(facts, group.livestock.temperament)}"
        return move.id(facts.task("catch-fish")), move.id(release)
    else:
        first, last = "invertebrates-out", "release-invertebrates"
    return move.id(facts.task(first)), move.id(facts.task(last))


def add_stays(move: Draft) -> tuple[Problem, ...]:
    """Add the greatest gaps of all animals of the leg to the network, and their passages to the draft.

    Parameters
    ----------
    move : Draft
        With all tasks and links. [-]

    Returns
    -------
    tuple of Problem
        Groups whose safe time is shorter than the work inside it. [-]
    """
    unsafe: list[Problem] = []
    gaps: dict[tuple[str, str], tuple[int, GroupFacts]] = {}
    for facts in move.facts.systems:
        for group in facts.groups:
            first, last = _ends(move, facts, group)
            move.passages.append(_passage(move, facts, group, first, last))
            unsafe += limit_stay(move, group, first, last, gaps)
    add_gaps(move, gaps)
    return tuple(unsafe)


def limit_stay(
    move: Draft,
    group: GroupFacts,
    first: str,
    last: str,
    gaps: dict[tuple[str, str], tuple[int, GroupFacts]],
) -> list[Problem]:
    """Note the greatest gap that a group's safe time leaves, or say why none does.

    Parameters
    ----------
    move : Draft
        With all tasks and links. [-]
    group : GroupFacts
        Who is in a container. [-]
    first, last : str
        Ids of the tasks that close and open it. [-]
    gaps : dict
        Where the gap is noted: the least a pair of tasks. [min]
    """
    allowance = allowance_min(move, first, last)
    chain = longest_chain(move.tasks, move.links, first, last)
    greatest = int(group.packing.safe.estimate.low) - allowance
    needed = sum(move.tasks[task].minutes for task in chain)
    if greatest < needed:
        return [_too_short(move, group, greatest, needed, allowance)]
    if (first, last) not in gaps or greatest < gaps[first, last][0]:
        gaps[first, last] = (greatest, group)
    return []


def allowance_min(move: Draft, first: str, last: str) -> int:
    """Time allowed for delays between two tasks. [min]."""
    chain = longest_chain(move.tasks, move.links, first, last)
    return math.ceil(spread_beyond_likely_min([move.tasks[task].estimate for task in chain]))


def add_gaps(move: Draft, gaps: Mapping[tuple[str, str], tuple[int, GroupFacts]]) -> None:
    """Add the greatest gaps to the network."""
    for (first, last), (greatest, group) in gaps.items():
        if first == last:
            continue
        move.link(
            first,
            last,
            relation=Relation.STARTTOFINISH,
            gap=None,
            at_most=greatest,
            words={
                "name": group.livestock.name,
                "container": group.packing.label,
                "safe": group.packing.safe.estimate.low,
            },
            key="safe-time",
        )


def _too_short(move: Draft, group: GroupFacts, greatest: int, needed: int, allowance: int) -> Problem:
    where = move.plan.where(f"livestock.{group.livestock.id}")
    best = group.packing.safe.extends
    return Problem(
        f"{group.livestock.name} would be {needed / 60:.1f} h in a {group.packing.label}, safe for "
        f"{group.packing.safe.estimate.low / 60:.1f} h at least, less {allowance / 60:.1f} h allowed for delays: "
        f"{(needed - greatest) / 60:.1f} h short; {group.packing.safe.limited_by} ends it",
        where,
        f"longer with {'; '.join(best)}" if best else "thin out the group, or board it for the day",
    )


def _passage(move: Draft, facts: SystemFacts, group: GroupFacts, first: str, last: str) -> Passage:
    old, new = move.facts.old.name, move.facts.new.name
    out, home = Moment(first, "start"), Moment(last, "finish")
    return Passage(
        group.livestock.id,
        group.livestock.name,
        group.count,
        (old, facts.system.name),
        _target(move, facts),
        out,
        home,
        _on_the_way(move, group, (old, new), out, home),
        allowance_min(move, first, last),
    )


def _target(move: Draft, facts: SystemFacts) -> tuple[str, str]:
    """Name where animals go: the new tank apart from the old one where both stand in one home."""
    if move.facts.leg.gives_away:
        return move.phrase("new-keepers"), move.phrase("new-keepers-tank")
    place, name = move.facts.new.name, facts.rebuilt.name
    if move.drives or not facts.standing or name != facts.system.name:
        return place, name
    return place, move.phrase("new-tank-of", name=name)


def _on_the_way(
    move: Draft, group: GroupFacts, places: tuple[str, str], out: Moment, home: Moment
) -> tuple[Stop, ...]:
    safe, label = group.packing.safe, group.packing.label
    old, new = places
    on_board = animals_on_board(move)
    if not on_board:
        return (Stop(old, label, out, home, safe),)
    trip = on_board[0]
    vehicle = next(one for one in move.plan.vehicles if one.id == trip.split(".")[0])
    boarded = Moment(move.id(f"load-animals-{trip}"), "finish")
    arrived = Moment(move.id(f"unload-animals-{trip}"), "start")
    return (
        Stop(old, label, out, boarded, safe),
        Stop(vehicle.name, label, boarded, arrived, safe),
        Stop(new, label, arrived, home, safe),
    )


def routes_of(passages: Sequence[Passage]) -> tuple[Route, ...]:
    """Join the passages of each group to its whole way, without a hole.

    Parameters
    ----------
    passages : sequence of Passage
        Those of one group in order of time. [-]
    """
    by_group: dict[str, list[Passage]] = {}
    for passage in passages:
        by_group.setdefault(passage.livestock, []).append(passage)
    return tuple(_route(several) for several in by_group.values())


def _route(several: Sequence[Passage]) -> Route:
    first, last = several[0], several[-1]
    stops: list[Stop] = []
    since: Moment | None = None
    for one in several:
        stops.append(Stop(*one.origin, since, one.out))
        stops += one.stops
        since = one.home
    stops.append(Stop(*last.target, since, None))
    allowance = max(one.allowance_min for one in several)
    return Route(first.livestock, first.name, first.count, tuple(stops), allowance)
