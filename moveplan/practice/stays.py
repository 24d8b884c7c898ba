"""The way of every animal, and the greatest gap that its safe time puts into the network."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.network.link import Link, Relation
from moveplan.network.task import Task
from moveplan.practice.draft import Draft
from moveplan.practice.phases.release import release_subject
from moveplan.practice.phases.road import animals_on_board
from moveplan.practice.project import Moment, Route, Stop
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
    38.0
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

    def ahead(task: str) -> tuple[int, list[str]]:
        if task == last:
            return tasks[task].minutes, [task]
        if task not in best:
            tails = [ahead(after) for after in following.get(task, ())]
            length, chain = max(tails, key=lambda tail: tail[0], default=(-(10**9), []))
            best[task] = (length + tasks[task].minutes, [task, *chain])
        return best[task]

    return ahead(first)[1]


def _ends(facts: SystemFacts, group: GroupFacts) -> tuple[str, str]:
    """First task that takes a group out of its tank, and the task that lets it into the new one."""
    if group.kind.group in CORALS:
        return facts.task("corals-out"), facts.task("place-corals")
    if group.kind.group == "fish":
        release = f"release-fish-{release_subject(facts, group.livestock.temperament)}"
        return facts.task("catch-fish"), release
    return facts.task("invertebrates-out"), facts.task("release-invertebrates")


def add_stays(move: Draft) -> tuple[tuple[Route, ...], tuple[Problem, ...]]:
    """Add the greatest gaps of all animals to the network and describe their ways.

    Parameters
    ----------
    move : Draft
        With all tasks and links. [-]

    Returns
    -------
    tuple of Route
        One a group. [-]
    tuple of Problem
        Groups whose safe time is shorter than the work inside it. [-]
    """
    routes: list[Route] = []
    unsafe: list[Problem] = []
    on_board = animals_on_board(move)
    gaps: dict[tuple[str, str], tuple[int, GroupFacts]] = {}
    for facts in move.facts.systems:
        for group in facts.groups:
            first, last = _ends(facts, group)
            chain = longest_chain(move.tasks, move.links, first, last)
            allowance = math.ceil(spread_beyond_likely_min([move.tasks[task].estimate for task in chain]))
            routes.append(_route(move, facts, group, on_board[0], allowance))
            greatest = int(group.packing.safe.estimate.low) - allowance
            needed = sum(move.tasks[task].minutes for task in chain)
            if greatest < needed:
                unsafe.append(_too_short(move, group, greatest, needed, allowance))
                continue
            if (first, last) not in gaps or greatest < gaps[first, last][0]:
                gaps[first, last] = (greatest, group)
    for (first, last), (greatest, group) in gaps.items():
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
    return tuple(routes), tuple(unsafe)


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


def _route(move: Draft, facts: SystemFacts, group: GroupFacts, trip: str, allowance: int) -> Route:
    first, last = _ends(facts, group)
    old, new = move.facts.old.name, move.facts.new.name
    vehicle = next(one for one in move.plan.vehicles if one.id == trip.split(".")[0])
    safe, label = group.packing.safe, group.packing.label
    out, boarded = Moment(first, "start"), Moment(f"load-animals-{trip}", "finish")
    arrived, home = Moment(f"unload-animals-{trip}", "start"), Moment(last, "finish")
    stops = (
        Stop(old, facts.system.name, None, out),
        Stop(old, label, out, boarded, safe),
        Stop(vehicle.name, label, boarded, arrived, safe),
        Stop(new, label, arrived, home, safe),
        Stop(new, facts.system.name, home, None),
    )
    return Route(group.livestock.id, group.livestock.name, group.count, stops, allowance)
