"""Loading, driving and unloading: heavy things and glass first, livestock last on and first off."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Kind
from moveplan.practice.draft import Draft, hands
from moveplan.quantities.freight import Load, LoadItem
from moveplan.quantities.handling import together
from moveplan.science.limits import limits

TANK = ("stand of ", "empty tank of ", "empty sump of ", "sand bucket ")
"""Beginnings of the names of things that are free only when the tank stands empty."""


def add_road(move: Draft) -> None:
    """Add every trip of every vehicle."""
    move.phase("road")
    for load in move.facts.trips.loads:
        _add_trip(move, load)
    for load in move.facts.trips.loads:
        if load.trip < move.last_trip(load.vehicle):
            _add_way_back(move, load)


def of_tank(item: LoadItem) -> bool:
    """Whether an item belongs to the empty tank: it is loaded late and needed first."""
    return item.name.startswith(TANK)


def _parts(load: Load) -> tuple[list[LoadItem], list[LoadItem], list[LoadItem]]:
    """Things that can go early, things of the tank, and animals."""
    animals = [item for item in load.items if item.livestock]
    tank = [item for item in load.items if not item.livestock and of_tank(item)]
    return [item for item in load.items if item not in animals and item not in tank], tank, animals


def names_of(items: list[LoadItem]) -> list[str]:
    """Name items, numbered ones once with their count.

    >>> names_of([LoadItem("rock tub 1", 1), LoadItem("rock tub 2", 1), LoadItem("stand of Reef", 1)])
    ['2 × rock tub', 'stand of Reef']
    """
    counts: dict[str, int] = {}
    for item in items:
        name = " ".join(word for word in item.name.split(" ") if not word.isdigit())
        counts[name] = counts.get(name, 0) + 1
    return [f"{count} × {name}" if count > 1 else name for name, count in counts.items()]


def _words(move: Draft, load: Load, items: list[LoadItem]) -> dict[str, object]:
    vehicle = next(one for one in move.plan.vehicles if one.id == load.vehicle)
    trips = move.last_trip(load.vehicle)
    return {
        "vehicle": vehicle,
        "trip_words": f", trip {load.trip} of {trips}" if trips > 1 else "",
        "items": names_of(items),
        "trip_mass": load.kg,
        "animals": any(item.livestock for item in load.items),
        "cold": vehicle.air_temperature_c,
        "floor_temperature": limits()["temperature_floor"].value,
    }


def _add_trip(move: Draft, load: Load) -> None:
    subject = move.trip_subject(load)
    early, tank, animals = _parts(load)
    if early:
        _carry(move, load, "load-early", early, ending=False)
    if tank:
        _carry(move, load, "load-tank", tank, ending=not animals)
    if animals:
        _carry(move, load, "load-animals", animals, ending=True)
    move.add(
        "drive",
        move.facts.drive,
        kind=Kind.TRAVEL,
        subject=subject,
        place=move.facts.old.id,
        place_after=move.facts.new.id,
        crew=hands(1, "drives"),
        vehicles=(load.vehicle,),
        day=move.day,
        words=_words(move, load, list(load.items)),
    )
    for key, items in (("unload-animals", animals), ("unload-tank", tank), ("unload-rest", early)):
        if items:
            _carry(move, load, key, items, ending=False)
    _link_trip(move, load)
    _link_before(move, subject, load.vehicle)


def _carry(move: Draft, load: Load, key: str, items: list[LoadItem], *, ending: bool) -> None:
    loading = key.startswith("load")
    place = move.facts.old if loading else move.facts.new
    skill = "cares" if key.endswith("animals") else "lifts"
    team = move.team(3 if skill == "cares" else 4, skill)
    carrying = move.handling.carry(len(items), place, team.count)
    extra = [move.handling.work("secure", 1)] if ending else []
    fields: dict[str, Any] = {"place": place.id, "crew": team, "vehicles": (load.vehicle,), "day": move.day}
    move.add(
        key,
        together(carrying, *extra),
        subject=move.trip_subject(load),
        words=_words(move, load, items),
        **fields,
    )


def _there(move: Draft, subject: str, *keys: str) -> list[str]:
    return [f"{key}-{subject}" for key in keys if move.has_own(f"{key}-{subject}")]


def _link_trip(move: Draft, load: Load) -> None:
    subject = move.trip_subject(load)
    move.chain(*_there(move, subject, "load-early", "load-tank", "load-animals", "drive"))
    move.chain(*_there(move, subject, "drive", "unload-animals", "unload-tank", "unload-rest"))


def _link_before(move: Draft, subject: str, vehicle: str) -> None:
    waits = {
        "load-early": ("rock-out", "strip-equipment"),
        "load-tank": ("tank-off", "sand-out"),
        "load-animals": ("seal-fish", "corals-out", "invertebrates-out", "pack-media"),
    }
    for key, befores in waits.items():
        for task in _there(move, subject, key):
            for facts in move.facts.systems:
                for before in befores:
                    if move.has_own(facts.task(before)):
                        move.link(facts.task(before), task)
    first = _there(move, subject, "load-early", "load-tank", "load-animals")[0]
    if move.has(f"fetch-vehicle-{vehicle}"):
        move.link(f"fetch-vehicle-{vehicle}", first)


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
    move.link(back, _there(move, following, "load-early", "load-tank", "load-animals")[0])


def animals_on_board(move: Draft) -> tuple[str, ...]:
    """Subjects of the trips that carry animals."""
    return tuple(
        move.trip_subject(load)
        for load in move.facts.trips.loads
        if any(item.livestock for item in load.items)
    )
