"""Places and the ways between them, complete."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations

from moveplan.plan.places import Drive, OutsideAir, Place, ThreePoint
from moveplan.planfile.fill import usual
from moveplan.planfile.fill.air import room
from moveplan.planfile.fill.notes import Notes, named
from moveplan.planfile.fill.usual import USUAL, Usual
from moveplan.planfile.schema.places import ALTITUDE, DriveEntry, PlaceEntry
from moveplan.units import show_distance, show_number


def places(
    entries: Mapping[str, PlaceEntry], country: str, around: OutsideAir, notes: Notes
) -> tuple[Place, ...]:
    """Complete every place."""
    return tuple(_place(place_id, entry, country, around, notes) for place_id, entry in entries.items())


def _place(place_id: str, entry: PlaceEntry, country: str, around: OutsideAir, notes: Notes) -> Place:
    key = f"places.{place_id}"
    floor = notes.fill(entry.floor, f"{key}.floor", USUAL["floor"], int)
    steps = Usual(str(usual.STEPS_A_FLOOR * abs(floor)), usual.STEPS_WHY)
    air = room(entry, key, around, notes)
    return Place(
        id=place_id,
        name=named(entry.name, place_id),
        floor=floor,
        steps=notes.fill(entry.steps, f"{key}.steps", steps, int),
        carry_m=notes.quantity(entry.carry, f"{key}.carry", USUAL["carry"], "m"),
        lift=notes.flag(entry.lift, f"{key}.lift", USUAL["lift"]),
        floor_kind=notes.fill(entry.floor_kind, f"{key}.floor-kind", _floor_kind(floor), str),
        has_water=notes.flag(entry.water, f"{key}.water", USUAL["water"]),
        has_power=notes.flag(entry.power, f"{key}.power", USUAL["power"]),
        room_temperature_c=air.low_c,
        door_width_m=entry.door_width,
        circuit_w=entry.circuit,
        country=entry.country or country,
        address=entry.address or "",
        room_high_c=air.high_c,
        altitude_m=notes.fill(entry.altitude, f"{key}.altitude", USUAL["altitude"], ALTITUDE.read),
        from_base_km=entry.from_base,
        area=entry.area or "",
    )


def _floor_kind(floor: int) -> Usual:
    if floor == 0:
        return Usual("slab", "a ground floor is taken to lie on the ground; look whether there is a cellar")
    return Usual("suspended", "a floor above or below another is taken to span from wall to wall")


def drives(
    entries: Mapping[str, PlaceEntry], extra: tuple[DriveEntry, ...], units: str, notes: Notes
) -> tuple[Drive, ...]:
    """List the way between every two places, as given, else by way of the first."""
    ids = list(entries)
    found = {
        frozenset((ids[0], place_id)): Drive(ids[0], place_id, entry.distance, entry.drive)
        for place_id, entry in entries.items()
        if place_id != ids[0] and entry.distance is not None
    }
    for row in extra:
        found[frozenset((row.from_, row.to))] = Drive(row.from_, row.to, row.distance, row.drive)
    roundabout = tuple(_by_way_of_the_first(ids, found))
    if roundabout:
        texts = ", ".join(_written(drive, units) for drive in roundabout)
        notes.add("drives", f"[{texts}]", f"no other way is given, so by way of {ids[0]}")
    return (*found.values(), *roundabout)


def _by_way_of_the_first(ids: list[str], found: Mapping[frozenset[str], Drive]) -> Iterator[Drive]:
    for one, two in combinations(ids[1:], 2):
        first, second = found.get(frozenset((ids[0], one))), found.get(frozenset((ids[0], two)))
        if frozenset((one, two)) not in found and first is not None and second is not None:
            minutes = _added(first.minutes, second.minutes)
            yield Drive(one, two, first.distance_km + second.distance_km, minutes)


def _added(first: ThreePoint | None, second: ThreePoint | None) -> ThreePoint | None:
    if first is None or second is None:
        return None
    return ThreePoint(first.low + second.low, first.likely + second.likely, first.high + second.high)


def _written(drive: Drive, units: str) -> str:
    text = (
        f"from: {drive.origin}, to: {drive.destination}, distance: {show_distance(drive.distance_km, units)}"
    )
    if drive.minutes is None:
        return f"{{{text}}}"
    points = (("low", drive.minutes.low), ("likely", drive.minutes.likely), ("high", drive.minutes.high))
    times = ", ".join(f"{name}: {show_number(minutes)} min" for name, minutes in points)
    return f"{{{text}, drive: {{{times}}}}}"
