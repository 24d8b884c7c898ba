"""The release, in order: hardy clean-up crew, corals, timid fish before territorial ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from moveplan.estimate import Estimate
from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import hands, usual
from moveplan.practice.drafting.touch import under_water
from moveplan.practice.ledger.pour_words import listing, runs
from moveplan.practice.ledger.pouring import emptied, exchanged, spare_accounts, topped_up
from moveplan.practice.phases.day.teardown import count_of, filled_by, holding, names
from moveplan.quantities.containers.vessels import Use, Vessel
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.handling import together
from moveplan.quantities.leg.refill import ramped
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.quantities.water.ramps import Ramp

Longer = tuple[float, float]
"""Share of the likely time, and time beyond it, for which spare water makes up. [-], [min]"""
RANK = {"timid": 0, "peaceful": 1, "territorial": 2, "predator": 3}
"""Order of release by temperament; common practice, no source."""


def release_order(groups: tuple[GroupFacts, ...]) -> tuple[GroupFacts, ...]:
    """Sort fish for release: timid before territorial, small before large."""
    return tuple(sorted(groups, key=lambda group: (RANK[group.livestock.temperament], group.mass_g.likely)))


def add_release(move: Draft, facts: SystemFacts) -> None:
    """Add the release of one system's animals and the watch of the evening."""
    move.phase("release")
    matched = facts.task("water-matched")
    done = [matched]
    longer = spare_beyond(_all_ramps(facts), _spare_l(move, facts))
    if facts.invertebrates():
        done.append(_add_invertebrates(move, facts, longer))
    if facts.of_group(*CORALS):
        done.append(_add_corals(move, facts, longer))
    if facts.of_group(*FISH):
        done.append(_add_fish(move, facts, done, longer))
    move.add(
        "watch-evening",
        usual(60, 60, 90, "an hour in the dark"),
        crew=hands(1, "cares"),
        words={
            "company": count_of(facts.of_group(*FISH)),
            "air_h": _battery_h(move),
            "looks": move.looks_in(),
        },
        pours=topped_up(move, facts),
        **_day(move, facts),
    )
    last = facts.task("watch-evening")
    for task in done[1:] or done:
        move.link(task, last)
    if move.has_own(facts.task("mount-rest")):
        move.link(facts.task("mount-rest"), last)
    move.last_watches[facts.system.id + move.suffix] = move.id(last)


def _battery_h(move: Draft) -> float:
    """How long a battery air pump of the plan runs; 0 where none is known. [h]."""
    return max((item.battery_h for item in move.plan.gear if item.kind == "air-pump"), default=0.0)


def _day(move: Draft, facts: SystemFacts) -> dict[str, Any]:
    return {"system": facts, "place": move.facts.new.id, "day": move.day}


def _add_invertebrates(move: Draft, facts: SystemFacts, longer: Longer) -> str:
    groups = facts.invertebrates()
    words: dict[str, object] = {"animals": names(groups), "wet": under_water(groups)}
    count, day = count_of(groups), _day(move, facts)
    crew = move.care_crew(count)
    tubs = holding(facts, groups)
    dripped = _add_ramp(move, facts, "drip", groups, tubs, longer)
    task = move.add(
        "release-invertebrates",
        move.handling.work("invertebrate-out", count, crew.count),
        crew=crew,
        words=words,
        handled=groups,
        pours=emptied(move, tubs),
        **day,
    )
    _put_back(move, facts, tubs, task)
    move.link(dripped, task)
    return task


def _add_ramp(
    move: Draft,
    facts: SystemFacts,
    key: str,
    groups: tuple[GroupFacts, ...],
    vessels: tuple[Vessel, ...],
    longer: Longer,
) -> str:
    """Let water of the tank run to animals until the readings match; the task of waiting for that."""
    day, time = _day(move, facts), ramp_time(groups)
    rows = _rows(facts, vessels)
    words: dict[str, object] = {
        "opened_at_once": facts.standing,
        "minutes": time.likely,
        "covered": covered_min([ramp for _, ramp in rows], longer),
        "rows": _alike(rows),
        "apart_k": max((abs(ramp.apart_k) for _, ramp in rows), default=0.0),
        "farthest_k": max((ramp.farthest_k for _, ramp in rows), default=0.0),
        "steep": any(ramp.steep for _, ramp in rows),
        "bags": any(group.packing.bagged for group in groups),
        "floats_l": sum(one.water_l for one in vessels if one.kind == "bag"),
        "afloat": max((_afloat_min(group) for group in groups), default=0.0),
        "opened": runs(number for number, ramp in rows if ramp.afloat_min),
    }
    start = {"drip": "start-drip", "ramp-corals": "start-ramp-corals", "fish-warm": "float-fish"}[key]
    setting = together(usual(3, 5, 10, "a tube and a valve"), move.handling.work("unit-valve", len(rows)))
    swap = exchanged(move, facts, vessels)
    move.add(start, setting, crew=hands(1, "cares"), words=words, **day)
    wait = move.add(key, time, kind=Kind.WAIT, pours=swap, words=words, **day)
    for arrived in _beside_the_tank(move, facts):
        move.link(arrived, facts.task(start), key="any > setting")
    for before in ("warm-water", "leak-check"):
        if words["bags"] and move.has_own(facts.task(before)):
            move.link(facts.task(before), facts.task(start), key=f"{before} > bags")
    move.link(facts.task(start), wait)
    opens = Relation.FINISHTOSTART if rows else Relation.FINISHTOFINISH
    move.link(facts.task("water-matched"), wait, key="water-matched > valve", relation=opens)
    if rows and not facts.standing and move.has_own(facts.task("start-equipment")):
        both = Relation.FINISHTOFINISH
        move.link(facts.task(start), facts.task("water-matched"), key="setting > signing", relation=both)
    return wait


def _rows(facts: SystemFacts, vessels: Sequence[Vessel]) -> list[tuple[str, Ramp]]:
    """Pair the containers into which water of the tank runs with how it does."""
    return [(vessel.number, ramp) for vessel in vessels if (ramp := facts.ramp(vessel)) and not ramp.floats]


def valves(facts: SystemFacts) -> list[tuple[str, Ramp]]:
    """List the containers that whoever signs for the water of a tank that was filled that day opens the valves of.

    Where the tank stood ready, the tubes are hung afterwards, and opened at once.
    """
    cool = tuple(group for group in facts.of_group(*CORALS) if ramped(group))
    boxes = (*facts.of_use(Use.ANIMALS), *holding(facts, cool, Use.CORALS))
    return [] if facts.standing else _alike(_rows(facts, boxes))


def _afloat_min(group: GroupFacts) -> float:
    """How long the bags of a group float closed. [min]."""
    if group.ramp is None:
        return 0.0
    return group.ramp.time.likely if group.ramp.floats else group.ramp.afloat_min


def _beside_the_tank(move: Draft, facts: SystemFacts) -> list[str]:
    """List what has to be through before tubes are hung: the tank is filled and runs, the boxes stand beside it."""
    running = facts.task("start-equipment")
    boxes = [f"unload-animals-{move.trip_subject(load)}" for load in move.facts.trips.loads]
    found = [one for one in (running, *boxes) if move.has_own(one)]
    sealed = facts.task("seal-fish")
    found += [sealed] if not move.drives and move.has_own(sealed) else []
    return found if move.has_own(running) else [*found, facts.task("water-matched")]


def _alike(rows: list[tuple[str, Ramp]]) -> list[tuple[str, Ramp]]:
    """Join the containers into which water runs alike: their numbers, and the ramp of the first."""
    joined: dict[tuple[float, float], list[tuple[str, Ramp]]] = {}
    for number, ramp in rows:
        joined.setdefault((round(ramp.left_l, 1), round(ramp.flow_l_h, 1)), []).append((number, ramp))
    return [(listing(runs(number for number, _ in several)), several[0][1]) for several in joined.values()]


def _all_ramps(facts: SystemFacts) -> list[Ramp]:
    """List the ramps of all containers into which water of the tank runs, whoever is in them: all run side by side."""
    ramps = map(facts.ramp, facts.of_use(Use.ANIMALS, Use.CORALS))
    return [ramp for ramp in ramps if ramp is not None and not ramp.floats]


def _spare_l(move: Draft, facts: SystemFacts) -> float:
    """Count the spare water that is left once the tank is full. [l]."""
    spare = sum(move.balances[account] for account in spare_accounts(facts))
    return max(spare - max(facts.volumes.total.likely - move.balances[facts.shift.into], 0.0), 0.0)


def spare_beyond(ramps: Sequence[Ramp], spare_l: float) -> Longer:
    """Share the spare water of a tank out over all tubes that run out of it, so that no litre is promised twice.

    Parameters
    ----------
    ramps : sequence of Ramp
        Of all containers.
    spare_l : float
        Spare water. [l]

    Returns
    -------
    tuple of (float, float)
        Share of its likely time for which each tube may run, and how much longer all of them may. [-], [min]
    """
    planned_l = sum(ramp.poured_l for ramp in ramps)
    flow_l_h = sum(ramp.flow_l_h for ramp in ramps)
    if not flow_l_h or spare_l <= 0:
        return 0.0, 0.0
    return min(spare_l / planned_l, 1.0) if planned_l else 1.0, 60 * max(spare_l - planned_l, 0.0) / flow_l_h


def covered_min(ramps: Sequence[Ramp], longer: Longer) -> float:
    """How long water of the tank may run to some containers, for spare water to make up for it. [min]."""
    share, beyond = longer
    runs_min = [ramp.time.likely - ramp.afloat_min for ramp in ramps]
    return 5 * ((share * min(runs_min) + beyond) // 5) if runs_min else 0.0


def ramp_time(groups: tuple[GroupFacts, ...]) -> Estimate:
    """Time until all of several groups are used to the water of the tank, side by side. [min]."""
    times = [group.ramp.time for group in groups if group.ramp is not None]
    slowest = max(times, key=lambda one: (one.likely, one.high))
    return replace(
        slowest, low=max(one.low for one in times), high=max(max(one.high for one in times), slowest.likely)
    )


def _add_corals(move: Draft, facts: SystemFacts, longer: Longer) -> str:
    groups = facts.of_group(*CORALS)
    words: dict[str, object] = {
        "coral_count": sum(group.count for group in groups),
    }
    tubs = facts.of_use(Use.CORALS)
    cool = tuple(group for group in groups if ramped(group))
    apart = holding(facts, cool, Use.CORALS)
    before = (
        _add_ramp(move, facts, "ramp-corals", cool, apart, longer) if cool else facts.task("water-matched")
    )
    task = move.add(
        "place-corals",
        facts.times["corals-in"],
        crew=move.care_crew(),
        words=words,
        handled=groups,
        pours=emptied(move, tubs),
        **_day(move, facts),
    )
    _put_back(move, facts, tubs, task)
    move.link(before, task)
    return task


def _add_fish(move: Draft, facts: SystemFacts, done: list[str], longer: Longer) -> str:
    groups = release_order(facts.of_group(*FISH))
    left = holding(facts, groups)
    before = _add_ramp(move, facts, "fish-warm", groups, left, longer)
    tasks: list[str] = []
    told = False
    for rank, company in _companies(groups):
        bagged = any(group.packing.bagged for group in company)
        unpacking = move.unpacking_words(groups) if bagged and not told else ""
        told = told or bagged
        gone = {group.livestock.id for group in groups if RANK[group.livestock.temperament] <= RANK[rank]}
        opened = tuple(vessel for vessel in left if set(vessel.livestock) <= gone)
        left = tuple(vessel for vessel in left if vessel not in opened)
        before = _add_company(move, facts, rank, company, before, unpacking, opened)
        tasks.append(before)
    _put_back(move, facts, facts.of_use(Use.BAGS), before)
    for task in done[1:]:
        first_in = task == move.id(facts.task("release-invertebrates"))
        move.link(task, tasks[0], relation=Relation.STARTTOSTART if first_in else Relation.FINISHTOSTART)
    return before


def _companies(groups: tuple[GroupFacts, ...]) -> list[tuple[str, tuple[GroupFacts, ...]]]:
    """Group fish that are let out together, in the order of release."""
    ranks = dict.fromkeys(str(group.livestock.temperament) for group in groups)
    return [(rank, tuple(one for one in groups if one.livestock.temperament == rank)) for rank in ranks]


def _add_company(
    move: Draft,
    facts: SystemFacts,
    rank: str,
    company: tuple[GroupFacts, ...],
    before: str,
    unpacking: str,
    opened: tuple[Vessel, ...],
) -> str:
    boxes = holding(facts, company)
    crew = move.box_crew(len(boxes), len(holding(facts, facts.of_group(*FISH))))
    task = move.add(
        "release-fish",
        move.handling.work("fish-in", max(len(boxes), 1), crew.count),
        subject=release_subject(facts, rank),
        place=move.facts.new.id,
        day=move.day,
        crew=crew,
        words={
            "animals": names(company),
            "count": count_of(company),
            "manner": move.release_words(
                rank, count_of(company), alone=len(company) == len(facts.of_group(*FISH))
            ),
            "unpacking": unpacking,
        },
        handled=company,
        pours=emptied(move, opened),
    )
    _put_back(move, facts, opened, task)
    move.link(before, task)
    return task


def _put_back(move: Draft, facts: SystemFacts, vessels: tuple[Vessel, ...], until: str) -> None:
    """Note how long containers of animals are in use: bags from their closing, others from their filling."""
    for vessel in vessels:
        move.use((vessel,), filled_by(move, facts, vessel), until)


def release_subject(facts: SystemFacts, temperament: str) -> str:
    """Tell the release of one temperament's fish from another's."""
    return f"{facts.system.id}-{temperament}"
