"""Load plan: the floor of the load space to scale, filled from the cab in the order of loading."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from moveplan.outputs.figures.floor import Floor, Spot
from moveplan.outputs.figures.scale import in_lines
from moveplan.outputs.outlook import Outlook
from moveplan.plan.people import Vehicle
from moveplan.practice.project import Load, LoadItem

_PX_PER_M, _LEFT, _TOP = 150.0, 4.0, 4.0
_TEXT_PX, _CHARACTER_PX = 15.0, 7.8
_LEAST_CHARACTERS = 8
_STACKED_KG = 35.0
"""The heaviest thing that is drawn on top of another, as a full tub on a tub: common practice, no source. [kg]"""


@dataclass(frozen=True, slots=True)
class Standing:
    """One item of a load.

    Parameters
    ----------
    order : int
        When it goes in, from 1; it comes out in the opposite order. [-]
    item : LoadItem
        What it is. [-]
    x, y, width, height : float
        Where it stands, seen from above; no width: not drawn to scale. [px]
    text : tuple of str
        Its place in the order, its number and its name in as many lines as fit. [-]
    stacked : bool
        Whether it goes on top of another, so that animals and fragile things stand on the floor. [-]
    """

    order: int
    item: LoadItem
    x: float = 0.0
    y: float = 0.0
    width: float = 0.0
    height: float = 0.0
    text: tuple[str, ...] = ()
    stacked: bool = False


@dataclass(frozen=True, slots=True)
class LoadPicture:
    """One trip of one vehicle.

    Parameters
    ----------
    load : Load
        The trip. [-]
    vehicle : Vehicle or None
        The vehicle as the plan describes it. [-]
    standing : tuple of Standing
        Items in the order of loading. [-]
    total_kg : float
        Likely mass of all. [kg]
    left, top, width, height : float
        The floor of the load space; no width: its size is not known. [px]
    """

    load: Load
    vehicle: Vehicle | None
    standing: tuple[Standing, ...]
    total_kg: float
    left: float
    top: float
    width: float
    height: float

    @property
    def not_on_floor(self) -> tuple[Standing, ...]:
        """Items that found no room on the floor or have no size."""
        return tuple(one for one in self.standing if not one.width)


def load_pictures(outlook: Outlook) -> tuple[LoadPicture, ...]:
    """Draw every trip.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]
    """
    vehicles = {vehicle.id: vehicle for vehicle in outlook.project.plan.vehicles}
    return tuple(_picture(load, vehicles.get(load.vehicle)) for load in outlook.project.loads)


def _picture(load: Load, vehicle: Vehicle | None) -> LoadPicture:
    length_m, width_m = (vehicle.load_length_m, vehicle.load_width_m) if vehicle else (0.0, 0.0)
    return LoadPicture(
        load,
        vehicle,
        _stand(load.items, length_m, width_m),
        sum(item.kg for item in load.items),
        _LEFT,
        _TOP,
        round(width_m * _PX_PER_M, 1),
        round(length_m * _PX_PER_M, 1),
    )


def _stand(items: Sequence[LoadItem], length_m: float, width_m: float) -> tuple[Standing, ...]:
    """Fill the floor from the cab to the door.

    Where animals or fragile things find no room, others go on top of others, the lightest first, two high at most.
    """
    sturdy = sorted(
        (item.kg, order)
        for order, item in enumerate(items, start=1)
        if item.length_m > 0 and not item.livestock and not item.fragile
    )
    light = [order for kg, order in sturdy[: len(sturdy) // 2] if kg <= _STACKED_KG]
    ways = (
        tuple(_filled(items, Floor(width_m, length_m), frozenset(light[:count])))
        for count in range(len(light) + 1)
    )
    return min(ways, key=_left_over)


def _left_over(standing: tuple[Standing, ...]) -> tuple[int, int, int]:
    """Count what finds no room: what must stand on the floor, then the rest; then what is stacked for it."""
    left = [one.item for one in standing if not one.width and not one.stacked]
    must_stand = sum(item.livestock or item.fragile for item in left)
    return must_stand, len(left) if must_stand else 0, sum(one.stacked for one in standing)


def _filled(items: Sequence[LoadItem], floor: Floor, stacked: frozenset[int]) -> Iterator[Standing]:
    """Put down what is not stacked, in the order of loading; what finds no room is only listed."""
    for order, item in enumerate(items, start=1):
        spot = None if order in stacked else floor.put(item.length_m, item.width_m)
        yield _placed(order, item, spot) if spot else Standing(order, item, stacked=order in stacked)


def _placed(order: int, item: LoadItem, spot: Spot) -> Standing:
    wide, deep = round(spot.wide_m * _PX_PER_M, 1), round(spot.deep_m * _PX_PER_M, 1)
    x, y = round(_LEFT + spot.across_m * _PX_PER_M, 1), round(_TOP + spot.along_m * _PX_PER_M, 1)
    characters = int((wide - 8) / _CHARACTER_PX)
    if characters < _LEAST_CHARACTERS:
        return Standing(order, item, x, y, wide, deep, (item.number or str(order),))
    named = f"{item.number} {item.name}" if item.number else item.name
    text = in_lines(f"{order}. {named}", characters, int((deep - 4) // _TEXT_PX))
    return Standing(order, item, x, y, wide, deep, text)
