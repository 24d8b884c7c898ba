"""What travels in which vehicle on which trip, and whether it fits."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from moveplan.errors import Problem
from moveplan.plan.people import Vehicle
from moveplan.plan.systems import Tank
from moveplan.units import show_length, show_mass


@dataclass(frozen=True, slots=True)
class LoadItem:
    """Something that travels.

    Parameters
    ----------
    name : str
        What to print.
    kg : float
        Likely mass. [kg]
    length_m, width_m, height_m : float
        Outer size; 0 where it does not matter. [m]
    fragile : bool
        Whether nothing may stand on it.
    livestock : bool
        Whether animals are in it: last on, first off.
    number : str
        Number of the container; empty: it is none.
    rigid : bool
        Whether it is a shut box of foam, animals in it or not, or a tub of damp media, that stands on its like.
    by_handle : bool
        Whether one person carries it at the knuckles by a handle, as a can or a bucket.
    """

    name: str
    kg: float
    length_m: float = 0.0
    width_m: float = 0.0
    height_m: float = 0.0
    fragile: bool = False
    livestock: bool = False
    number: str = ""
    rigid: bool = False
    by_handle: bool = False


@dataclass(frozen=True, slots=True)
class Load:
    """What one vehicle carries on one trip, in the order of loading.

    Parameters
    ----------
    vehicle : str
        Id of the vehicle.
    trip : int
        1 is the first.
    items : tuple of LoadItem
        First in first.
    steps : tuple of (str, int)
        Tasks with which they are loaded, and how many of them with each; none before tasks are known.
    """

    vehicle: str
    trip: int
    items: tuple[LoadItem, ...]
    steps: tuple[tuple[str, int], ...] = ()

    @property
    def kg(self) -> float:
        """Mass of all items in kilograms."""
        return sum(item.kg for item in self.items)

    @property
    def stowed(self) -> tuple[tuple[str, tuple[LoadItem, ...]], ...]:
        """The items of each loading task; all of them under no name where no tasks are known."""
        if not self.steps:
            return (("", self.items),)
        ends = tuple(accumulate(count for _, count in self.steps))
        return tuple(
            (task, self.items[end - count : end]) for (task, count), end in zip(self.steps, ends, strict=True)
        )

    def in_order(self, starts: Mapping[str, int]) -> Load:
        """Put the items into the order in which a schedule has them loaded.

        Parameters
        ----------
        starts : Mapping of str to int
            When each task begins. [min]
        """
        if not self.steps:
            return self
        rows = sorted(self.stowed, key=lambda row: starts.get(row[0], 0))
        items = tuple(item for _, several in rows for item in several)
        return replace(self, items=items, steps=tuple((task, len(several)) for task, several in rows))


@dataclass(frozen=True, slots=True)
class Trips:
    """All loads.

    Parameters
    ----------
    loads : tuple of Load
        By trip, then by vehicle.
    count : int
        How many trips.
    """

    loads: tuple[Load, ...]
    count: int

    def vehicles(self) -> tuple[str, ...]:
        """Ids of the vehicles that drive."""
        return tuple(dict.fromkeys(load.vehicle for load in self.loads))


STOWABLE = 0.8
"""Share of the floor of a load space that can be used; common practice, no source. [-]"""


LAYERS = 2
"""Tubs, cans and cartons stand so many high, strapped; animals and glass carry nothing; common practice. [-]"""


_LONGEST_LOAD_SPACE_M = 4.5
"""What a van offers that anybody may drive; common practice, no source. [m]"""


def floor_m2(item: LoadItem, height_m: float) -> float:
    """Floor that an item takes in a load space of that height. [m²]."""
    stacks = not (item.fragile or (item.livestock and not item.rigid)) and item.height_m * LAYERS <= height_m
    return item.length_m * item.width_m / (LAYERS if stacks else 1)


def fill_trips(items: tuple[LoadItem, ...], vehicles: tuple[Vehicle, ...]) -> Trips:
    """Share items out over vehicles and trips: heavy and fragile first, animals on the last trip.

    A load stays within the payload and within the usable floor of the load space. Items that fit nowhere are put
    on the first vehicle, where :func:`misfits` names them. Where every vehicle drives once, animals ride together.

    Parameters
    ----------
    items : tuple of LoadItem
        What travels, in the order of loading.
    vehicles : tuple of Vehicle
        What it may travel in.
    """
    if not vehicles:
        return Trips((), 1)
    found = _filled(sorted(items, key=lambda item: item.livestock), vehicles)
    if found.count == 1 and sum(any(item.livestock for item in load.items) for load in found.loads) > 1:
        together = _filled(sorted(items, key=lambda item: not item.livestock), vehicles)
        return together if together.count == 1 else found
    return found


def _filled(items: Sequence[LoadItem], vehicles: tuple[Vehicle, ...]) -> Trips:
    """Put one item after the other where it first fits."""
    loads: list[_Hold] = []
    refused: dict[tuple[float | bool, ...], int] = {}
    for item in items:
        alike = (item.kg, item.length_m, item.width_m, item.height_m, item.fragile, item.livestock)
        # A load only fills up: what has refused one will refuse the next of the same mass and size.
        at = refused.get(alike, 0)
        while at < len(loads) and not loads[at].takes(item):
            at += 1
        if at == len(loads):
            loads.append(_Hold(vehicles[at % len(vehicles)], at // len(vehicles) + 1))
        loads[at].add(item)
        refused[alike] = at
    count = max((hold.trip for hold in loads), default=1)
    packed = tuple(Load(hold.vehicle.id, hold.trip, tuple(hold.items)) for hold in loads)
    return Trips(_animals_last(packed), count)


def one_trip(trips: Trips, vehicles: tuple[Vehicle, ...], units: str) -> str:
    """Say which vehicle would take in one trip what one vehicle takes in several; empty where that is no question.

    Parameters
    ----------
    trips : Trips
        All loads of one way.
    vehicles : tuple of Vehicle
        What drives; of several nothing is said.
    units : str
        ``metric`` or ``us``.
    """
    if trips.count < 2 or len(vehicles) != 1:
        return ""
    vehicle, items = vehicles[0], [item for load in trips.loads for item in load.items]
    kg = max(vehicle.payload_kg, 10 * math.ceil(sum(item.kg for item in items) / 10))
    floor = sum(floor_m2(item, vehicle.load_height_m) for item in items) / STOWABLE
    length_m = max(vehicle.load_length_m, math.ceil(10 * floor / vehicle.load_width_m) / 10)
    if length_m > _LONGEST_LOAD_SPACE_M:
        return ""
    return (
        f"a vehicle that carries {show_mass(kg, units)} on {show_length(length_m, units)} × "
        f"{show_length(vehicle.load_width_m, units)} of floor would take it in one trip"
    )


class _Hold:
    """A load while it fills up; mass and floor are kept, for there may be ten thousand things in it."""

    def __init__(self, vehicle: Vehicle, trip: int) -> None:
        self.vehicle = vehicle
        self.trip = trip
        self.items: list[LoadItem] = []
        self._kg = 0.0
        self._floor_m2 = 0.0
        self._most_m2 = STOWABLE * vehicle.load_length_m * vehicle.load_width_m

    def takes(self, item: LoadItem) -> bool:
        if self._kg + item.kg > self.vehicle.payload_kg:
            return False
        return self._floor_m2 + floor_m2(item, self.vehicle.load_height_m) <= self._most_m2

    def add(self, item: LoadItem) -> None:
        self.items.append(item)
        self._kg += item.kg
        self._floor_m2 += floor_m2(item, self.vehicle.load_height_m)


def _animals_last(loads: tuple[Load, ...]) -> tuple[Load, ...]:
    return tuple(
        Load(load.vehicle, load.trip, tuple(sorted(load.items, key=lambda item: (item.livestock, -item.kg))))
        for load in sorted(loads, key=lambda load: (load.trip, load.vehicle))
    )


def misfits(
    tank: Tank, tank_kg: float, vehicles: tuple[Vehicle, ...], where: str, units: str
) -> tuple[Problem, ...]:
    """Say why a tank goes into none of the vehicles, if so.

    Parameters
    ----------
    tank_kg : float
        Its mass, empty. [kg]
    vehicles : tuple of Vehicle
        What it may travel in.
    where : str
        Line of the plan file.
    units : str
        ``metric`` or ``us``.
    """
    if any(not _refusal(vehicle, tank, tank_kg, units) for vehicle in vehicles) or not vehicles:
        return ()
    reasons = "; ".join(_refusal(vehicle, tank, tank_kg, units) for vehicle in vehicles)
    return (
        Problem(
            f"the empty tank ({sides(tank, units)}, {show_mass(tank_kg, units)}) "
            f"goes into no vehicle of the plan: {reasons}",
            where,
            "name a vehicle with a larger load space or payload under vehicles",
        ),
    )


def sides(tank: Tank, units: str) -> str:
    """Length, width and height of a tank, for people."""
    return _sides(tank.length_m, tank.width_m, tank.height_m, units)


def _sides(length_m: float, width_m: float, height_m: float, units: str) -> str:
    return " × ".join(show_length(side, units) for side in (length_m, width_m, height_m))


def _refusal(vehicle: Vehicle, tank: Tank, tank_kg: float, units: str) -> str:
    if tank_kg > vehicle.payload_kg:
        return f"{vehicle.name} carries {show_mass(vehicle.payload_kg, units)}"
    space = sorted((vehicle.load_length_m, vehicle.load_width_m), reverse=True)
    base = sorted((tank.length_m, tank.width_m), reverse=True)
    if base[0] > space[0] or base[1] > space[1] or tank.height_m > vehicle.load_height_m:
        space_sides = (vehicle.load_length_m, vehicle.load_width_m, vehicle.load_height_m)
        return f"the load space of {vehicle.name} is {_sides(*space_sides, units)}"
    return ""
