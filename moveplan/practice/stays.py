"""The way of every animal, and the greatest gap that its safe time puts into the network."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from moveplan.errors import Problem
from moveplan.network.link import Relation
from moveplan.plan.move import Plan
from moveplan.practice.drafting.chains import Chains
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.touch import taken_out
from moveplan.practice.ledger.pour_words import listing
from moveplan.practice.ledger.pouring import filled_early
from moveplan.practice.phases.day.release import release_subject
from moveplan.practice.phases.day.teardown import filled_by
from moveplan.practice.phases.day.trips import trips_of
from moveplan.practice.project import Moment, Passage, Route, Stop
from moveplan.quantities.containers.vessels import Use, Vessel
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.safe_time.safe_time import SafeTime
from moveplan.quantities.trade_groups import CORALS
from moveplan.units import show_duration, show_within


def ends_of(move: Draft, facts: SystemFacts, group: GroupFacts) -> tuple[str, str]:
    """First task that takes a group out of its tank, and the task that lets it into the new one."""
    if group.livestock.id in move.ends:
        return move.ends[group.livestock.id]
    last = facts.task("place-corals" if group.kind.group in CORALS else "release-invertebrates")
    if group.kind.group == "fish":
        last = f"release-fish-{release_subject(facts, group.livestock.temperament)}"
    return move.id(facts.task(taken_out(group))), move.id(last)


def add_stays(move: Draft) -> tuple[Problem, ...]:
    """Add the greatest gaps of all animals of the leg to the network, and their passages to the draft.

    Parameters
    ----------
    move : Draft
        With all tasks and links.

    Returns
    -------
    tuple of Problem
        Groups whose safe time is shorter than the work inside it.
    """
    unsafe: list[Problem] = []
    gaps: dict[tuple[str, str], tuple[int, GroupFacts]] = {}
    chains = Chains(move.tasks, move.links)
    for facts in move.facts.systems:
        for group in facts.groups:
            first, last = ends_of(move, facts, group)
            seal = facts.task("seal-fish")
            sealed = move.id(seal) if move.has_own(seal) else first
            move.passages.append(_passage(move, chains, facts, group, (first, sealed, last)))
            if group.packing.waiting:
                waiting = replace(group, packing=group.packing.waiting)
                unsafe += limit_stay(move, chains, waiting, first, sealed, gaps)
                first = sealed
            unsafe += limit_stay(move, chains, group, first, last, gaps)
    add_gaps(move, gaps)
    return tuple(unsafe)


def filling_of(move: Draft, facts: SystemFacts, group: GroupFacts, first: str) -> str:
    """Id of the task that fills the first container of a group: the one that takes it out, where none is before it."""
    own = (vessel for vessel in facts.vessels if group.livestock.id in vessel.livestock)
    fills = {filled_by(move, facts, vessel) for vessel in own if filled_early(facts, vessel)}
    return next((move.id(fill) for fill in sorted(fills) if move.has_own(fill)), first)


def limit_stay(
    move: Draft,
    chains: Chains,
    group: GroupFacts,
    first: str,
    last: str,
    gaps: dict[tuple[str, str], tuple[int, GroupFacts]],
) -> list[Problem]:
    """Note the greatest gap that a group's safe time leaves, or say why none does.

    Parameters
    ----------
    move : Draft
        For its lines.
    chains : Chains
        Of all its tasks and links.
    group : GroupFacts
        Who is in a container.
    first, last : str
        Ids of the tasks that close and open it.
    gaps : dict
        Where the gap is noted: the least a pair of tasks. [min]
    """
    allowance, needed = chains.allowance_min(first, last), chains.likely_min(first, last)
    greatest = int(group.packing.safe.estimate.low) - allowance
    if greatest < needed:
        own, packing = group.livestock, group.packing
        shut = Shut(own.id, own.name, group.count, packing.label, packing.safe)
        return [too_short(move.plan, shut, needed, needed - greatest, allowance)]
    if (first, last) not in gaps or greatest < gaps[first, last][0]:
        gaps[first, last] = (greatest, group)
    return []


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


@dataclass(frozen=True, slots=True)
class Shut:
    """Animals in a container.

    Parameters
    ----------
    livestock, name : str
        Id in the plan, and what to print.
    container : str
        In words.
    safe : SafeTime
        How long they may be in it.
    """

    livestock: str
    name: str
    count: int
    container: str
    safe: SafeTime


def _longer(plan: Plan, shut: Shut, hours: int) -> str:
    """Say what makes a stay of so many hours possible: pumps that last, what was tried of the container, or fewer."""
    safe = shut.safe
    if safe.limited_by == "battery":
        pumps = [item for item in plan.gear if item.kind == "air-pump" and 0 < item.battery_h < hours]
        writes = " and ".join(f'write "gear.{item.id}.battery: {hours} h"' for item in pumps)
        return f"get air pumps, or cells, that last for {hours} h{f': {writes}' if writes else ''}"
    return (
        f"longer with {'; '.join(safe.extends)}"
        if safe.extends
        else f"{'thin out the group, or ' if shut.count > 1 else ''}board it for the day"
    )


def too_short(plan: Plan, shut: Shut, needed: int, short: int, allowance: int) -> Problem:
    """Say that animals would be shut in for longer than is safe.

    Parameters
    ----------
    needed, short, allowance : int
        How long they are in it, by how much that is too long, and what is taken off the safe time for delays. [min]
    """
    return Problem(
        f"{shut.name} would be shut in for {show_duration(needed)} in {shut.container}, safe for "
        f"{show_within(shut.safe.estimate.low)} at least, less {show_duration(allowance)} allowed for "
        f"delays: {show_duration(short)} short; {shut.safe.limited_by} ends it",
        plan.where(f"livestock.{shut.livestock}"),
        _longer(plan, shut, math.ceil((needed + allowance) / 60)),
    )


def _passage(
    move: Draft, chains: Chains, facts: SystemFacts, group: GroupFacts, ends: tuple[str, str, str]
) -> Passage:
    """Say where a group is from its catch, over its sealing where it waits to be bagged, to its release."""
    old = move.facts.old.name
    first, sealed, last = ends
    out, home = Moment(first, "start"), Moment(last, "finish")
    packing = group.packing
    packed = Moment(sealed, "start") if packing.waiting else out
    waits = (stop_in(facts.vessels, group, old, (out, packed), waiting=True),) if packing.waiting else ()
    return Passage(
        group.livestock.id,
        group.livestock.name,
        group.count,
        (old, facts.system.name),
        _target(move, facts),
        out,
        home,
        (*waits, *_on_the_way(move, facts, group, (packed, home))),
        chains.allowance_min(packed.task, last),
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
    move: Draft, facts: SystemFacts, group: GroupFacts, ends: tuple[Moment, Moment]
) -> tuple[Stop, ...]:
    out, home = ends
    old, new = move.facts.old.name, move.facts.new.name
    trips = trips_of(move, group.livestock.id)
    if not trips:
        return (stop_in(facts.vessels, group, old, ends),)
    used = {trip.split(".")[0] for trip in trips}
    vehicles = listing([one.name for one in move.plan.vehicles if one.id in used])
    boarded = Moment(move.id(f"load-animals-{trips[0]}"), "finish")
    arrived = Moment(move.id(f"unload-animals-{trips[-1]}"), "start")
    ways = ((old, (out, boarded)), (vehicles, (boarded, arrived)), (new, (arrived, home)))
    return tuple(stop_in(facts.vessels, group, where, edges) for where, edges in ways)


def stop_in(
    vessels: Iterable[Vessel],
    group: GroupFacts,
    where: str,
    edges: tuple[Moment, Moment],
    *,
    waiting: bool = False,
) -> Stop:
    """Name the containers of a group in one place: how many are its own or shared, and their numbers.

    Parameters
    ----------
    vessels : iterable of Vessel
        Those of the leg.
    where : str
        Place or vehicle.
    edges : tuple of (Moment, Moment)
        When it begins and ends.
    waiting : bool
        Whether these are the containers in which it waits to be bagged.
    """
    packing = (group.packing.waiting if waiting else None) or group.packing
    numbers = tuple(
        one.number
        for one in vessels
        if group.livestock.id in one.livestock and (one.use is Use.WAITING) == waiting
    )
    label = f"{len(numbers)} × {packing.label.partition(' × ')[2]}" if numbers else packing.label
    return Stop(where, label, *edges, packing.safe, numbers)


def routes_of(passages: Sequence[Passage]) -> tuple[Route, ...]:
    """Join the passages of each group to its whole way, without a hole.

    Parameters
    ----------
    passages : sequence of Passage
        Those of one group in order of time.
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
