"""Load plan: the floor of the load space to scale, filled from the cab in the order of loading."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from itertools import count

from moveplan.outputs.figures.floor import Floor, Spot
from moveplan.outputs.figures.scale import FITS, in_lines
from moveplan.outputs.outlook import Outlook
from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.practice.project import Load, LoadItem
from moveplan.units import decimal_sign, localised, show_mass

_LEFT, _TOP = 4.0, 24.0
"""Where a load space begins: beside the edge, and below the word that says where the cab is. [px]"""
_WIDE_PX, _LONG_PX = FITS - 2 * _LEFT, 1000.0
"""Most width, so that a telephone shows all of it, and most length, so that a page of paper does. Chosen. [px]"""
_MOST_PX_PER_M = 300.0
"""Largest scale, so that a small load space does not fill a page. Chosen. [px/m]"""
_TEXT_PX, _CHARACTER_PX = 17.0, 9.0
"""Of the text on a thing: height of a line and width of a character. [px]"""
_STACKED_KG = 35.0
"""The heaviest thing that is drawn on top of another, as a full tub on a tub: common practice, no source. [kg]"""


@dataclass(frozen=True, slots=True)
class Standing:
    """One item of a load.

    Parameters
    ----------
    order : int
        When it goes in, from 1.
    step : int
        Number of the loading task with which it goes in, from 1; things of a later one come out sooner.
    item : LoadItem
        What it is.
    x, y, width, height : float
        Where it stands, seen from above; no width: not drawn to scale. [px]
    text : tuple of str
        Its number, its name and its mass in as many lines as fit; the number of the label in any case, and the mass
        rather than the name.
    stacked : bool
        Whether it goes on top of another, so that animals and fragile things stand on the floor.
    """

    order: int
    step: int
    item: LoadItem
    x: float = 0.0
    y: float = 0.0
    width: float = 0.0
    height: float = 0.0
    text: tuple[str, ...] = ()
    stacked: bool = False

    @property
    def in_full(self) -> bool:
        """Whether its text has its name and its mass whole, so that a picture need say nothing more of it."""
        words = f"{self.item.number or self.order} {self.item.name}"
        return (said := " ".join(self.text)) != words and said.startswith(words)


@dataclass(frozen=True, slots=True)
class LoadPicture:
    """One trip of one vehicle.

    Parameters
    ----------
    vehicle : Vehicle or None
        The vehicle as the plan describes it.
    standing : tuple of Standing
        Items in the order of loading.
    total_kg : float
        Likely mass of all. [kg]
    middle_m : float or None
        How far the middle of the mass on the floor lies behind the cab; None: nothing stands to scale. [m]
    left, top, width, height : float
        The floor of the load space, the cab above it; no width: its size is not known. [px]
    """

    load: Load
    vehicle: Vehicle | None
    standing: tuple[Standing, ...]
    total_kg: float
    middle_m: float | None
    left: float
    top: float
    width: float
    height: float

    @property
    def steps(self) -> tuple[tuple[int, str], ...]:
        """The loading tasks, from 1, by their ids; none where no tasks are known."""
        return tuple((number, task) for number, (task, _) in enumerate(self.load.stowed, start=1) if task)


def load_pictures(outlook: Outlook) -> tuple[LoadPicture, ...]:
    """Draw every trip."""
    vehicles = {vehicle.id: vehicle for vehicle in outlook.project.plan.vehicles}
    said = partial(_mass, outlook.project.plan)
    starts = outlook.starts()
    return tuple(
        _picture(load.in_order(starts), vehicles.get(load.vehicle), said) for load in outlook.project.loads
    )


def _picture(load: Load, vehicle: Vehicle | None, said: Callable[[float], str]) -> LoadPicture:
    length_m, width_m = (vehicle.load_length_m, vehicle.load_width_m) if vehicle else (0.0, 0.0)
    px_per_m = min(_WIDE_PX / width_m, _LONG_PX / length_m, _MOST_PX_PER_M) if length_m and width_m else 0.0
    rows = _Rows(load, px_per_m, said)
    standing = _stand(rows, length_m, width_m)
    on_floor = [one for one in standing if one.width]
    weight = sum(one.item.kg for one in on_floor)
    return LoadPicture(
        load,
        vehicle,
        standing,
        sum(item.kg for item in load.items),
        sum(one.item.kg * (one.y - _TOP + one.height / 2) / px_per_m for one in on_floor) / weight
        if weight
        else None,
        _LEFT,
        _TOP,
        round(width_m * px_per_m, 1),
        round(length_m * px_per_m, 1),
    )


def _mass(plan: Plan, kg: float) -> str:
    return localised(show_mass(kg, plan.units), decimal_sign(plan.locale))


@dataclass(frozen=True, slots=True)
class _Rows:
    """A load with its scale [px/m], and how a mass is said."""

    load: Load
    px_per_m: float
    said: Callable[[float], str]

    def numbered(self) -> Iterator[tuple[int, int, LoadItem]]:
        """Give order, step and item, in the order of loading."""
        order = count(1)
        for step, (_, items) in enumerate(self.load.stowed, start=1):
            for item in items:
                yield next(order), step, item


def _stand(rows: _Rows, length_m: float, width_m: float) -> tuple[Standing, ...]:
    """Fill the floor from the cab to the door.

    Where animals or fragile things find no room, others go on top of others, the lightest first, two high at most.
    """
    sturdy = sorted(
        (item.kg, order)
        for order, _, item in rows.numbered()
        if item.length_m > 0 and not item.livestock and not item.fragile
    )
    light = [order for kg, order in sturdy[: len(sturdy) // 2] if kg <= _STACKED_KG]
    ways: list[_Way] = []
    for number in range(len(light) + 1):
        stacked = frozenset(light[:number])
        moves = (
            not ways or light[number - 1] in ways[-1].spots
        )  # what found no room leaves none when it is stacked
        spots = _spots(rows, Floor(width_m, length_m), stacked) if moves else ways[-1].spots
        ways.append(_Way(stacked, spots))
        if not _left_over(ways[-1], rows)[0]:  # what stacks more stacks it for nothing
            break
    way = min(ways, key=lambda one: _left_over(one, rows))
    return tuple(
        _placed(Standing(order, step, item, stacked=order in way.stacked), way.spots.get(order), rows)
        for order, step, item in rows.numbered()
    )


@dataclass(frozen=True, slots=True)
class _Way:
    """What is stacked, and where the rest stands, by the order of loading; what is in neither finds no room."""

    stacked: frozenset[int]
    spots: Mapping[int, Spot]


def _left_over(way: _Way, rows: _Rows) -> tuple[int, int, int]:
    """Count what finds no room: what must stand on the floor, then the rest; then what is stacked for it."""
    left = [item for order, _, item in rows.numbered() if order not in way.spots and order not in way.stacked]
    must_stand = sum(item.livestock or item.fragile for item in left)
    return must_stand, len(left) if must_stand else 0, len(way.stacked)


def _spots(rows: _Rows, floor: Floor, stacked: frozenset[int]) -> dict[int, Spot]:
    """Put down what is not stacked, in the order of loading."""
    return {
        order: spot
        for order, _, item in rows.numbered()
        if order not in stacked and (spot := floor.put(item.length_m, item.width_m))
    }


def _placed(bare: Standing, spot: Spot | None, rows: _Rows) -> Standing:
    """Draw something where it stands: along the vehicle is downwards here; what finds no room is only listed."""
    if spot is None:
        return bare
    wide, high = round(spot.wide_m * rows.px_per_m, 1), round(spot.deep_m * rows.px_per_m, 1)
    x, y = round(_LEFT + spot.across_m * rows.px_per_m, 1), round(_TOP + spot.along_m * rows.px_per_m, 1)
    characters, lines = int((wide - 6) / _CHARACTER_PX), int((high - 4) // _TEXT_PX)
    item, mass = bare.item, rows.said(bare.item.kg)
    number = item.number or str(bare.order)
    heavy = (mass,) if len(mass) <= characters else tuple(mass.split())
    if max(map(len, heavy)) > characters or 1 + len(heavy) > lines:
        heavy = ()
    name = in_lines(item.name, characters, max(lines - 1 - len(heavy), 0)) if characters >= 6 else ()
    if len(name) == 1 and name[0] != item.name:
        name = ()  # half a line of it says nothing that the list beside does not say better
    text = (number, *name, *heavy)
    return replace(bare, x=x, y=y, width=wide, height=high, text=text)
