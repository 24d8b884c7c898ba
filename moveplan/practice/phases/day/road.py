"""Loading, driving and unloading: heavy things and glass first, livestock last on and first off."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from typing import Any

from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import hands, usual
from moveplan.practice.ledger.pouring import canned, changed_on_the_way, late_bags
from moveplan.practice.phases.day.teardown import READ_MIN
from moveplan.practice.phases.day.trips import (
    cans_apart,
    first_with_animals,
    has_cans,
    last_unloading,
    parts,
    there,
    trip_words,
)
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.freight.freight import Load, LoadItem
from moveplan.quantities.freight.lifting import carried_as
from moveplan.quantities.handling import together
from moveplan.quantities.water.pouring import pouring, water_flow

A_PUMP_EACH = 2
"""Pumps with which cans are filled while the tank is drawn. [-]"""
A_PAIR_AND_ONE = 3
"""Up to so many people the two who carry tubs are the two who catch; assumed. [-]"""
FIRST_CANS_MIN, LAST_CANS_MIN = 15, 5
"""From the first can begun to the first carried, and from the last one full to the last stowed; assumed. [min]"""
AT_THE_DOOR_MIN = 15
"""Longest that animals stay in a vehicle that stands and warms or cools; common practice, no source. [min]"""
FIRST_ON_BOARD = ("load-cans", "load-early")
"""What one person carries down, and what two carry, before tank and stand."""


def add_road(move: Draft) -> None:
    """Add every trip of every vehicle."""
    move.phase("road")
    for facts in move.facts.systems:
        if facts.cans:
            _fill_cans(move, facts)
    for load in move.facts.trips.loads:
        _add_trip(move, load)
    _animals_last(move)
    for load in move.facts.trips.loads:
        if load.trip < move.last_trip(load.vehicle):
            _add_way_back(move, load)


def _fill_cans(move: Draft, facts: SystemFacts) -> None:
    """Add filling the cans with the water that was mixed, before they are carried down."""
    pours = canned(facts)
    litres = sum(part for _, _, part in pours)
    flow = water_flow(move.plan.gear, litres, move.policy)
    move.add(
        "fill-cans",
        pouring(litres, 0, move.handling, flow, cans=len(pours)),
        system=facts,
        place=move.facts.old.id,
        crew=hands(1),
        day=move.day,
        pours=pours,
        words={
            "arrival": facts.handled.arrival,
            "warming": facts.times["warm"].likely,
        },
    )
    move.link("go-or-no-go", facts.task("fill-cans"))
    start = Relation.STARTTOSTART
    move.link(facts.task("record-morning"), facts.task("fill-cans"), relation=start, gap=READ_MIN)
    if sum(item.count for item in move.plan.gear if item.kind == "pump") < A_PUMP_EACH:
        move.link(facts.task("draw-keep-water"), facts.task("fill-cans"))


def _add_trip(move: Draft, load: Load) -> None:
    subject = move.trip_subject(load)
    early, tank, animals = parts(load)
    alone, paired = cans_apart(move, early) if has_cans(move) else ([], early)
    if alone:
        _carry(move, load, "load-cans", alone, ending=False)
    if paired:
        _carry(move, load, "load-early", paired, ending=False)
    if tank:
        _carry(move, load, "load-tank", tank, ending=not animals)
    if animals:
        _carry(move, load, "load-animals", animals, ending=True)
    swap = changed_on_the_way(move, (item.number for item in load.items))
    lasts = (
        together(move.facts.drive, usual(15, 20, 40, "a stop, half of the water changed"))
        if swap
        else move.facts.drive
    )
    move.add(
        "drive",
        lasts,
        kind=Kind.TRAVEL,
        subject=subject,
        place=move.facts.old.id,
        place_after=move.facts.new.id,
        crew=hands(1, "drives"),
        vehicles=(load.vehicle,),
        day=move.day,
        words=trip_words(move, load, list(load.items)),
        pours=swap,
    )
    for key, items in (("unload-animals", animals), ("unload-tank", tank), ("unload-rest", early)):
        if items:
            _carry(move, load, key, items, ending=False)
    _link_trip(move, load)
    _link_before(move, subject, load.vehicle)


def _animals_last(move: Draft) -> None:
    """Let animals go on board when the other vehicles of the trip are loaded too: they would only wait there."""
    loads = move.facts.trips.loads
    for one in loads:
        for other in (load for load in loads if load.trip == one.trip and load.vehicle != one.vehicle):
            for animals in there(move, move.trip_subject(one), "load-animals"):
                for before in there(move, move.trip_subject(other), *FIRST_ON_BOARD, "load-tank"):
                    move.link(before, animals, key="loaded > load-animals")


def _carry(move: Draft, load: Load, key: str, items: list[LoadItem], *, ending: bool) -> None:
    loading = key.startswith("load")
    place = move.facts.old if loading else move.facts.new
    skill = "cares" if key.endswith("animals") else "lifts"
    if key.endswith("animals"):
        team = move.team(3, skill)
    elif key == "load-cans":
        team = move.alone(skill)
    else:
        team = move.carriers(all_of_them=key.endswith("tank"))
    how = Counter(map(carried_as, items))
    carrying = move.handling.carry(how["can"], how["tub"], place, team.count, how["tank"], how["glass"])
    extra = [move.handling.work("stow" if loading else "unstow", len(items), team.count)]
    extra += [move.handling.work("secure", 1, team.count)] if ending else []
    extra += [move.handling.work("unsecure", 1)] if key == "unload-rest" else []
    fields: dict[str, Any] = {"place": place.id, "crew": team, "vehicles": (load.vehicle,), "day": move.day}
    task = move.add(
        key,
        together(carrying, *extra),
        subject=move.trip_subject(load),
        words=trip_words(move, load, items),
        **fields,
    )
    if loading:
        move.stowed.setdefault((move.suffix, load.vehicle, load.trip), []).append((task, items))


def _link_trip(move: Draft, load: Load) -> None:
    subject = move.trip_subject(load)
    last = there(move, subject, "load-tank", "load-animals", "drive")
    for before, after in pairwise(last):
        wait = AT_THE_DOOR_MIN if before.startswith("load-animals") else None
        move.link(before, after, at_most=wait)
    for first in there(move, subject, *FIRST_ON_BOARD):
        move.link(first, last[0])
    arrived = there(move, subject, "drive", "unload-animals", "unload-tank", "unload-rest")
    for before, after in pairwise(arrived):
        wait = AT_THE_DOOR_MIN if after.startswith("unload-animals") else None
        move.link(before, after, at_most=wait)


def _link_before(move: Draft, subject: str, vehicle: str) -> None:
    waits = {
        "load-early": ("rock-out",) if len(move.plan.people) > A_PAIR_AND_ONE else ("rock-out", "catch-fish"),
        "load-tank": ("tank-off", "sand-out", "strip-lamps", "strip-equipment"),
        "load-animals": ("seal-fish", "corals-out", "invertebrates-out", "pack-media"),
    }
    for key, befores in waits.items():
        for task in there(move, subject, key):
            for facts in move.facts.systems:
                for before in befores:
                    if move.has_own(facts.task(before)):
                        move.link(facts.task(before), task)
    _load_as_filled(move, subject)
    _close_late(move, subject)
    if move.has(f"fetch-vehicle-{vehicle}"):
        for first in _firsts(move, subject):
            move.link(f"fetch-vehicle-{vehicle}", first)


def _load_as_filled(move: Draft, subject: str) -> None:
    """Let cans be carried down as they are full: the first while the others are filled, the last after them."""
    for task in there(move, subject, *FIRST_ON_BOARD)[:1]:
        for facts in move.facts.systems:
            filling = facts.task("fill-cans")
            if move.has_own(filling):
                move.link(
                    filling,
                    task,
                    relation=Relation.STARTTOSTART,
                    gap=FIRST_CANS_MIN,
                    key="filled > load-cans",
                )
                move.link(filling, task, relation=Relation.FINISHTOFINISH, gap=LAST_CANS_MIN)


def _firsts(move: Draft, subject: str) -> list[str]:
    """List the tasks with which loading a trip may begin."""
    early = there(move, subject, *FIRST_ON_BOARD)
    return early or there(move, subject, "load-tank", "load-animals")[:1]


def _close_late(move: Draft, subject: str) -> None:
    """Let bags be closed when all else stands in the vehicle that takes them; the tank may go in meanwhile.

    Bags whose animals wait in another container are filled then, after the tank too.
    """
    early, tank = there(move, subject, *FIRST_ON_BOARD), there(move, subject, "load-tank")
    if not move.has_own(f"load-animals-{subject}") or subject not in first_with_animals(move):
        return
    for facts in move.facts.systems:
        if not move.has_own(facts.task("seal-fish")) or not any(one.kind == "bag" for one in facts.vessels):
            continue
        for one in (tank if late_bags(facts) else ()) or early or tank:
            move.link(one, facts.task("seal-fish"))


def _add_way_back(move: Draft, load: Load) -> None:
    facts = move.facts
    back = move.add(
        "drive-back",
        facts.drive,
        kind=Kind.TRAVEL,
        place=facts.new.id,
        place_after=facts.old.id,
        crew=hands(1, "drives"),
        words=trip_words(move, load, []),
        subject=move.trip_subject(load),
        vehicles=(load.vehicle,),
        day=move.day,
    )
    following = move.trip_subject(Load(load.vehicle, load.trip + 1, ()))
    move.link(last_unloading(move, load), back)
    for first in _firsts(move, following):
        move.link(back, first)
