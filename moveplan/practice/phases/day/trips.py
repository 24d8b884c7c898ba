"""What each trip carries: what can go early, what belongs to the tank, animals last; its words."""

from __future__ import annotations

import math

from moveplan.plan.people import Vehicle
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.ledger.pour_words import listing, runs
from moveplan.quantities.containers.vessels import Use
from moveplan.quantities.freight.freight import Load, LoadItem
from moveplan.quantities.freight.lifting import bearers, carried_as
from moveplan.quantities.leg.cargo import KIT
from moveplan.science.carrying.loads import blocking_force_n
from moveplan.times import local_day

TANK = ("stand of ", "empty tank of ", "empty sump of ", "empty bin ", "bucket of ", "carton ")
"""Beginnings of the names of things that come free last and are needed first: the tank, and what makes it run."""
CANS = (Use.NEW_WATER, Use.SPARE_WATER)


def of_tank(item: LoadItem) -> bool:
    """Whether an item belongs to the empty tank: it is loaded late and needed first."""
    return item.name.startswith(TANK)


def parts(load: Load) -> tuple[list[LoadItem], list[LoadItem], list[LoadItem]]:
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


def trip_words(move: Draft, load: Load, items: list[LoadItem]) -> dict[str, object]:
    """Give what the texts of a trip name, about some of its items."""
    vehicle = next(one for one in move.plan.vehicles if one.id == load.vehicle)
    trips = move.last_trip(load.vehicle)
    numbers = {item.number for item in load.items if item.livestock}
    inside = [one for one in move.vessels() if one.number in numbers]
    return {
        "vehicle": vehicle,
        "trip_words": f", trip {load.trip} of {trips}" if trips > 1 else "",
        "items": names_of(items),
        "for_two": runs(one.number for one in items if one.livestock and bearers(one) > 1),
        "together": [
            (one.name, one.kg, move.firm_carries(one.kg)) for one in items if carried_as(one) == "tank"
        ],
        "trip_mass": load.kg,
        "animals": any(item.livestock for item in load.items),
        "aired": any(one.stones for one in inside),
        "wrapped": any(one.wrapped for one in inside),
        "oxygen": any(one.oxygen_l for one in inside),
        "heated": [one.number for one in inside if one.heater_w > 0],
        "spare_heat": any(one.kind == "heater" and one.owned for one in move.plan.gear),
        "glass": any(item.fragile for item in items),
        "cold": vehicle.air_temperature_c,
        "hot": vehicle.air_high_c,
        "water": move.warmest_c(),
        "forward": _held_dan(move, load, "securing_forward"),
        "sideways": _held_dan(move, load, "securing_sideways"),
        "cans_apart": has_cans(move),
        "others": [one.name for one in move.plan.vehicles if one.id != load.vehicle and _there(move, one)],
    }


def _there(move: Draft, vehicle: Vehicle) -> bool:
    """Whether a vehicle may be called on a day of the leg: it is nobody's hire, or hired for then."""
    days, zone = move.facts.leg.days, move.plan.zone
    if not days or vehicle.hire_from is None or vehicle.hire_until is None:
        return True
    first, last = local_day(days[0], zone), local_day(days[-1], zone)
    return vehicle.hire_from < last.finish and first.start < vehicle.hire_until


def _held_dan(move: Draft, load: Load, direction: str) -> float:
    """Force by which straps and walls must hold a load beyond what friction does, to the next 10. [daN]."""
    force_n = float(blocking_force_n(load.kg, move.policy[direction], move.policy["friction_cargo"]))
    return 10.0 * math.ceil(force_n / 100.0)


def has_cans(move: Draft) -> bool:
    """Whether cans of water are filled, which one of several can load as they are full; a bag of tools is no load."""
    return not move.single_handed and any(
        move.has_own(facts.task("fill-cans")) for facts in move.facts.systems
    )


def cans_apart(move: Draft, items: list[LoadItem]) -> tuple[list[LoadItem], list[LoadItem]]:
    """Part the cans that one person carries from the rest: they are full, and can go, before the first rock is out."""
    cans = {vessel.number for facts in move.facts.systems for vessel in facts.of_use(*CANS)}
    alone = [item for item in items if bearers(item) == 1 and item.number in cans]
    return alone, [item for item in items if item not in alone]


def there(move: Draft, subject: str, *keys: str) -> list[str]:
    """List the tasks of a trip that there are, of those named."""
    return [f"{key}-{subject}" for key in keys if move.has_own(f"{key}-{subject}")]


def last_unloading(move: Draft, load: Load) -> str:
    """Id of the last task that empties a vehicle."""
    return there(move, move.trip_subject(load), "unload-animals", "unload-tank", "unload-rest")[-1]


def first_with_animals(move: Draft) -> tuple[str, ...]:
    """Subjects of the earliest trips that carry animals: before those every bag is closed."""
    carrying = [one for one in move.facts.trips.loads if any(item.livestock for item in one.items)]
    first = min((one.trip for one in carrying), default=0)
    return tuple(move.trip_subject(one) for one in carrying if one.trip == first)


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
