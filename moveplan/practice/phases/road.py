"""Loading, driving and unloading: livestock last on and first off."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Kind
from moveplan.practice.draft import MOVING_DAY, Draft, hands
from moveplan.quantities.freight import Load
from moveplan.quantities.handling import together
from moveplan.science.limits import limits


def add_road(move: Draft) -> None:
    """Add every trip of every vehicle."""
    move.phase("road")
    for load in move.facts.trips.loads:
        _add_trip(move, load)
    for load in move.facts.trips.loads:
        if load.trip < move.last_trip(load.vehicle):
            _add_way_back(move, load)


def _words(move: Draft, load: Load) -> dict[str, object]:
    vehicle = next(one for one in move.plan.vehicles if one.id == load.vehicle)
    trips = move.last_trip(load.vehicle)
    return {
        "vehicle": vehicle,
        "trip_words": f", trip {load.trip} of {trips}" if trips > 1 else "",
        "items": [item.name for item in load.items if not item.livestock],
        "trip_mass": load.kg,
        "cold": vehicle.air_temperature_c,
    }


def _add_trip(move: Draft, load: Load) -> None:
    subject = move.trip_subject(load)
    old, new = move.facts.old, move.facts.new
    words = _words(move, load)
    heavy = sum(not item.livestock for item in load.items)
    team = move.team(4, "lifts")
    use: dict[str, Any] = {"subject": subject, "vehicles": (load.vehicle,), "day": MOVING_DAY}
    move.add(
        "load-heavy",
        together(move.handling.carry(heavy, old, team.count), move.handling.work("secure", 1)),
        place=old.id,
        crew=team,
        words=words,
        **use,
    )
    move.add(
        "drive",
        move.facts.drive,
        kind=Kind.TRAVEL,
        place=old.id,
        place_after=new.id,
        crew=hands(1, "drives"),
        words=words,
        **use,
    )
    move.add(
        "unload", move.handling.carry(heavy, new, team.count), place=new.id, crew=team, words=words, **use
    )
    _link_load(move, subject)
    if any(item.livestock for item in load.items):
        _add_animals(move, load)
    else:
        move.link(f"load-heavy-{subject}", f"drive-{subject}")
        move.link(f"drive-{subject}", f"unload-{subject}")


def _link_load(move: Draft, subject: str) -> None:
    vehicle = subject.split("/")[0]
    for facts in move.facts.systems:
        for key in ("tank-off", "sand-out", "strip-equipment"):
            if move.has(facts.task(key)):
                move.link(facts.task(key), f"load-heavy-{subject}")
    if move.has(f"fetch-vehicle-{vehicle}"):
        move.link(f"fetch-vehicle-{vehicle}", f"load-heavy-{subject}")


def _add_animals(move: Draft, load: Load) -> None:
    subject = move.trip_subject(load)
    boxes = [item.name for item in load.items if item.livestock]
    floor = limits()["temperature_floor"].value
    words = _words(move, load) | {"items": boxes, "floor_temperature": floor}
    team = move.team(3, "cares")
    use: dict[str, Any] = {
        "subject": subject,
        "vehicles": (load.vehicle,),
        "day": MOVING_DAY,
        "crew": team,
        "words": words,
    }
    handling = move.handling
    move.add(
        "load-animals", handling.carry(len(boxes), move.facts.old, team.count), place=move.facts.old.id, **use
    )
    move.add(
        "unload-animals",
        together(handling.carry(len(boxes), move.facts.new, team.count), handling.work("draw-setup", 1)),
        place=move.facts.new.id,
        **use,
    )
    for facts in move.facts.systems:
        for key in ("seal-fish", "corals-out", "invertebrates-out", "pack-media"):
            if move.has(facts.task(key)):
                move.link(facts.task(key), f"load-animals-{subject}")
    move.chain(
        *(f"{key}-{subject}" for key in ("load-heavy", "load-animals", "drive", "unload-animals", "unload"))
    )


def _add_way_back(move: Draft, load: Load) -> None:
    subject = move.trip_subject(load)
    following = move.trip_subject(Load(load.vehicle, load.trip + 1, ()))
    facts = move.facts
    move.add(
        "drive-back",
        facts.drive,
        kind=Kind.TRAVEL,
        place=facts.new.id,
        place_after=facts.old.id,
        crew=hands(1, "drives"),
        words=_words(move, load),
        subject=subject,
        vehicles=(load.vehicle,),
        day=MOVING_DAY,
    )
    move.link(f"unload-{subject}", f"drive-back-{subject}")
    move.link(f"drive-back-{subject}", f"load-heavy-{following}")


def animals_on_board(move: Draft) -> tuple[str, ...]:
    """Subjects of the trips that carry animals."""
    return tuple(
        move.trip_subject(load)
        for load in move.facts.trips.loads
        if any(item.livestock for item in load.items)
    )
