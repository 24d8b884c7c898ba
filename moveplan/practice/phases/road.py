"""Loading, driving and unloading: heavy things and glass first, livestock last on and first off."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.practice.draft import Draft, hands, usual
from moveplan.practice.phases.teardown import READ_MIN
from moveplan.practice.pour_words import listing, runs
from moveplan.practice.pouring import canned, changed_on_the_way, late_bags
from moveplan.quantities.containers.vessels import Use
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.freight.freight import Load, LoadItem
from moveplan.quantities.freight.lifting import bearers
from moveplan.quantities.handling import together
from moveplan.quantities.leg.cargo import KIT
from moveplan.quantities.water.pouring import pouring, water_flow
from moveplan.science.loads import blocking_force_n

TANK = ("stand of ", "empty tank of ", "empty sump of ", "bucket of ", "carton ")
"""Beginnings of the names of things that come free last and are needed first: the tank, and what makes it run."""


A_PUMP_EACH = 2
"""Pumps with which cans are filled while the tank is drawn. [-]"""
A_PAIR_AND_ONE = 3
"""Up to so many people the two who carry tubs are the two who catch; assumed. [-]"""
FIRST_CANS_MIN, LAST_CANS_MIN = 15, 5
"""From the first can begun to the first carried, and from the last one full to the last stowed; assumed. [min]"""
HEAVY_KG = 30.0
"""What weighs more is no tub: everybody there carries it together, slowly; assumed, between what two may lift at
knuckle height and over stairs. [kg]"""
AT_THE_DOOR_MIN = 15
"""Longest that animals stay in a vehicle that stands and warms or cools; common practice, no source. [min]"""
CANS = (Use.NEW_WATER, Use.SPARE_WATER)
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
        words={"arrival": facts.handled.arrival, "warming": facts.times["warm"].likely},
    )
    move.link("go-or-no-go", facts.task("fill-cans"))
    start = Relation.STARTTOSTART
    move.link(facts.task("record-morning"), facts.task("fill-cans"), relation=start, gap=READ_MIN)
    if sum(item.count for item in move.plan.gear if item.kind == "pump") < A_PUMP_EACH:
        move.link(facts.task("draw-keep-water"), facts.task("fill-cans"))


def of_tank(item: LoadItem) -> bool:
    """Whether an item belongs to the empty tank: it is loaded late and needed first."""
    return item.name.startswith(TANK)


def _parts(load: Load) -> tuple[list[LoadItem], list[LoadItem], list[LoadItem]]:
    """Things that can go early, things of the tank, and animals; the kit goes with the tank, so that it is at hand."""
    animals = [item for item in load.items if item.livestock]
    tank = [item for item in load.items if not item.livestock and of_tank(item)]
    tank += [item for item in load.items if tank and item.name == KIT]
    return [item for item in load.items if item not in animals and item not in tank], tank, animals


def names_of(items: list[LoadItem]) -> list[str]:
    """Name items: containers by their numbers, other numbered things once with their count.

    >>> names_of([LoadItem("tub of rock", 1, number="T1"), LoadItem("tub of rock", 1, number="T2")])
    ['tub of rock T1–T2']
    >>> names_of([LoadItem("carton 1", 1), LoadItem("carton 2", 1), LoadItem("stand of Reef", 1)])
    ['2 × carton', 'stand of Reef']
    """
    counts: dict[str, int] = {}
    numbers: dict[str, list[str]] = {}
    for item in items:
        name = " ".join(word for word in item.name.split(" ") if not word.isdigit())
        counts[name] = counts.get(name, 0) + 1
        if item.number:
            numbers.setdefault(name, []).append(item.number)
    return [
        f"{name} {listing(runs(numbers[name]))}"
        if name in numbers
        else (f"{count} × {name}" if count > 1 else name)
        for name, count in counts.items()
    ]


def _words(move: Draft, load: Load, items: list[LoadItem]) -> dict[str, object]:
    vehicle = next(one for one in move.plan.vehicles if one.id == load.vehicle)
    trips = move.last_trip(load.vehicle)
    numbers = {item.number for item in load.items if item.livestock}
    inside = [one for one in move.vessels() if one.number in numbers]
    return {
        "vehicle": vehicle,
        "trip_words": f", trip {load.trip} of {trips}" if trips > 1 else "",
        "items": names_of(items),
        "trip_mass": load.kg,
        "animals": any(item.livestock for item in load.items),
        "aired": any(one.stones for one in inside),
        "wrapped": any(one.wrapped for one in inside),
        "heated": [one.number for one in inside if one.heater_w > 0],
        "glass": any(item.fragile for item in items),
        "cold": vehicle.air_temperature_c,
        "hot": vehicle.air_high_c,
        "water": move.warmest_c(),
        "forward": _held_dan(move, load, "securing_forward"),
        "sideways": _held_dan(move, load, "securing_sideways"),
        "cans_apart": _has_cans(move),
        "others": [one.name for one in move.plan.vehicles if one.id != load.vehicle],
    }


def _held_dan(move: Draft, load: Load, direction: str) -> float:
    """Force by which straps and walls must hold a load beyond what friction does, to the next 10. [daN]."""
    force_n = float(blocking_force_n(load.kg, move.policy[direction], move.policy["friction_cargo"]))
    return 10.0 * math.ceil(force_n / 100.0)


def _add_trip(move: Draft, load: Load) -> None:
    subject = move.trip_subject(load)
    early, tank, animals = _parts(load)
    alone, paired = _cans_apart(move, early) if _has_cans(move) else ([], early)
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
        words=_words(move, load, list(load.items)),
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
            for animals in _there(move, move.trip_subject(one), "load-animals"):
                for before in _there(move, move.trip_subject(other), *FIRST_ON_BOARD, "load-tank"):
                    move.link(before, animals, key="loaded > load-animals")


def _has_cans(move: Draft) -> bool:
    """Whether cans of water are filled, which one of several can load as they are full; a bag of tools is no load."""
    return not move.single_handed and any(move.has_own(facts.task("fill-cans")) for facts in move.facts.systems)


def _cans_apart(move: Draft, items: list[LoadItem]) -> tuple[list[LoadItem], list[LoadItem]]:
    """Part the cans that one person carries from the rest: they are full, and can go, before the first rock is out."""
    cans = {vessel.number for facts in move.facts.systems for vessel in facts.of_use(*CANS)}
    alone = [item for item in items if bearers(item) == 1 and item.number in cans]
    return alone, [item for item in items if item not in alone]


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
    heavy = sum(item.kg > HEAVY_KG for item in items)
    pairs = sum(item.kg <= HEAVY_KG and bearers(item) > 1 for item in items)
    carrying = move.handling.carry(len(items) - pairs - heavy, pairs, place, team.count, heavy)
    extra = [move.handling.work("stow", len(items), team.count)] if loading else []
    extra += [move.handling.work("secure", 1, team.count)] if ending else []
    fields: dict[str, Any] = {"place": place.id, "crew": team, "vehicles": (load.vehicle,), "day": move.day}
    task = move.add(
        key,
        together(carrying, *extra),
        subject=move.trip_subject(load),
        words=_words(move, load, items),
        **fields,
    )
    if loading:
        move.stowed.setdefault((move.suffix, load.vehicle, load.trip), []).append((task, items))


def _there(move: Draft, subject: str, *keys: str) -> list[str]:
    return [f"{key}-{subject}" for key in keys if move.has_own(f"{key}-{subject}")]


def _link_trip(move: Draft, load: Load) -> None:
    subject = move.trip_subject(load)
    last = _there(move, subject, "load-tank", "load-animals", "drive")
    move.chain(*last)
    for first in _there(move, subject, *FIRST_ON_BOARD):
        move.link(first, last[0])
    arrived = _there(move, subject, "drive", "unload-animals", "unload-tank", "unload-rest")
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
        for task in _there(move, subject, key):
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
    for task in _there(move, subject, *FIRST_ON_BOARD)[:1]:
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
    early = _there(move, subject, *FIRST_ON_BOARD)
    return early or _there(move, subject, "load-tank", "load-animals")[:1]


def _close_late(move: Draft, subject: str) -> None:
    """Let bags be closed when all else stands in the vehicle that takes them; the tank may go in meanwhile.

    Bags whose animals wait in another container are filled then, after the tank too.
    """
    early, tank = _there(move, subject, *FIRST_ON_BOARD), _there(move, subject, "load-tank")
    if not move.has_own(f"load-animals-{subject}") or subject not in _first_with_animals(move):
        return
    for facts in move.facts.systems:
        if not move.has_own(facts.task("seal-fish")) or not any(one.kind == "bag" for one in facts.vessels):
            continue
        for one in (tank if late_bags(facts) else ()) or early or tank:
            move.link(one, facts.task("seal-fish"))


def _first_with_animals(move: Draft) -> tuple[str, ...]:
    """Subjects of the earliest trips that carry animals: before those every bag is closed."""
    carrying = [one for one in move.facts.trips.loads if any(item.livestock for item in one.items)]
    first = min((one.trip for one in carrying), default=0)
    return tuple(move.trip_subject(one) for one in carrying if one.trip == first)


def last_unloading(move: Draft, load: Load) -> str:
    """Id of the last task that empties a vehicle."""
    return _there(move, move.trip_subject(load), "unload-animals", "unload-tank", "unload-rest")[-1]


def _add_way_back(move: Draft, load: Load) -> None:
    facts = move.facts
    back = move.add(
        "drive-back",
        facts.drive,
        kind=Kind.TRAVEL,
        place=facts.new.id,
        place_after=facts.old.id,
        crew=hands(1, "drives"),
        words=_words(move, load, []),
        subject=move.trip_subject(load),
        vehicles=(load.vehicle,),
        day=move.day,
    )
    following = move.trip_subject(Load(load.vehicle, load.trip + 1, ()))
    move.link(last_unloading(move, load), back)
    for first in _firsts(move, following):
        move.link(back, first)


def animals_on_board(move: Draft) -> tuple[str, ...]:
    """Subjects of the trips that carry animals."""
    return tuple(
        move.trip_subject(load)
        for load in move.facts.trips.loads
        if any(item.livestock for item in load.items)
    )


def trips_of(move: Draft, livestock: str) -> tuple[str, ...]:
    """Subjects of the trips on which the containers of a group ride, in order; none where no animals ride."""
    inside = {vessel.number: {held.id for held in vessel.holds} for vessel in move.vessels() if vessel.number}
    numbers = {number for number, held in inside.items() if livestock in held}
    numbers |= {number for number, held in inside.items() if numbers & held}
    on_board = animals_on_board(move)
    own = tuple(
        move.trip_subject(load)
        for load in move.facts.trips.loads
        if any(item.number in numbers for item in load.items if item.number)
    )
    return tuple(trip for trip in own if trip in on_board) or on_board[:1]
