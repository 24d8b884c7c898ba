"""Everything that travels, as items with mass and size."""

from __future__ import annotations

import math
from collections.abc import Sequence

from moveplan.plan.systems import System
from moveplan.quantities.containers.tubs import EMPTY_KG_A_LITRE
from moveplan.quantities.containers.vessels import Use, Vessel
from moveplan.quantities.durations import Handled
from moveplan.quantities.freight.freight import LoadItem
from moveplan.quantities.freight.sizes import can_size_m, tub_size_m
from moveplan.quantities.water.volumes import empty_tank_kg

BUCKET = "bucket"
WET_SAND = 1.3
"""Mass of drained sand over that of the same sand dry; common practice, no source. [-]"""
_BOX_M = (0.50, 0.40, 0.35)
"""Length, width and height of a box; assumed. [m]"""
_BUCKET_M = (0.32, 0.32, 0.35)
"""Length, width and height of a bucket with its lid; assumed. [m]"""
_CARTON_M = (0.60, 0.40, 0.40)
"""Length, width and height of a moving carton; assumed. [m]"""
STAND_M = 0.8
"""Height of a stand; assumed. [m]"""
CARTON_PIECES = 3
"""Pieces of equipment in one carton; assumed. [-]"""
KIT = "emergency kit and tools"
KIT_KG = 15.0
"""Emergency kit and tools; they ride in the cab, at hand, and take no floor; assumed. [kg]"""
HEATER_KG, PUMP_KG, UNIT_KG = 0.5, 2.5, 6.0
"""A spare heater with its guard, the small pump with its hose, and a unit that makes water; assumed. [kg]"""
CYLINDER_KG, CYLINDER_L = 16.0, 1500.0
"""A full cylinder of 10 l with its valve, and the oxygen in it that may be used: 150 bar of 200; recalled. [kg], [l]"""
_CYLINDER_M = (0.2, 0.2, 1.0)
"""Length, width and height of it; recalled. [m]"""
WATER_FIRST = (Use.OLD_WATER, Use.NEW_WATER, Use.SPARE_WATER, Use.ROCK)
"""Containers that go in before glass and animals, in this order."""
ANIMALS_LAST = (Use.MEDIA, Use.CORALS, Use.ANIMALS, Use.BAGS)
"""Containers that go in last and come out first."""
NAMES = {
    Use.OLD_WATER: "old water",
    Use.NEW_WATER: "new water",
    Use.SPARE_WATER: "spare water",
    Use.ROCK: "rock",
    Use.MEDIA: "filter media",
    Use.CORALS: "corals",
    Use.BAGS: "bags of fish",
    Use.ANIMALS: "animals",
}
"""What a load list calls what is in a container."""


def items_of(what: Handled, vessels: Sequence[Vessel], bucket_kg: float) -> tuple[LoadItem, ...]:
    """List what travels for one system, heavy and hard things first, animals last.

    Parameters
    ----------
    vessels : sequence of Vessel
        Its containers.
    bucket_kg : float
        What a bucket of sand may weigh for one who carries it. [kg]
    """
    return (*_things(what, bucket_kg), *carried(vessels, WATER_FIRST), *carried(vessels, ANIMALS_LAST))


def _things(what: Handled, bucket_kg: float) -> list[LoadItem]:
    items = [item for system in what.carries for item in _tank_of(system)]
    pieces = sum(item.count for item in what.system.equipment)
    mass = sum(item.count * item.mass_kg for item in what.system.equipment)
    cartons = max(math.ceil(pieces / CARTON_PIECES), 1)
    items += [LoadItem(f"carton {n} of equipment", mass / cartons, *_CARTON_M) for n in range(1, cartons + 1)]
    sand_kg = 0.0 if what.standing else WET_SAND * what.rebuilt.sand_kg
    buckets = math.ceil(sand_kg / bucket_kg - 1e-9)
    sand = f"{'new ' if what.system.old_sand == 'replace' else ''}sand"
    items += [
        LoadItem(f"{BUCKET} of {sand} {n}", sand_kg / buckets, *_BUCKET_M, by_handle=True)
        for n in range(1, buckets + 1)
    ]
    items.append(LoadItem(KIT, KIT_KG))
    return items


def _tank_of(system: System) -> list[LoadItem]:
    tank = system.tank
    items = [
        LoadItem(f"stand of {system.name}", system.stand_kg, tank.length_m, tank.width_m, STAND_M),
        LoadItem(
            f"empty tank of {system.name}",
            empty_tank_kg(tank).likely,
            tank.length_m,
            tank.width_m,
            tank.height_m,
            fragile=True,
        ),
    ]
    if system.sump_l:
        sump = LoadItem(f"empty sump of {system.name}", 0.15 * system.sump_l, 0.6, 0.4, 0.4, fragile=True)
        items.append(sump)
    return items


def helpers_item(heaters: int, *, unit: bool) -> LoadItem:
    """Pack what makes new water and warms tanks at the new place too: it comes from the bins at the old one.

    The carton takes no floor of its own, for it is light and stands on another.

    Parameters
    ----------
    heaters : int
        Spare heaters that go over, beside the pump that fills tanks; those that hang there already do not.
    unit : bool
        Whether a unit makes purified water.
    """
    name = f"carton of {f'spare heaters ({heaters}) and ' if heaters else ''}the small pump"
    mass_kg = heaters * HEATER_KG + PUMP_KG + UNIT_KG * unit
    return LoadItem(name + (", with the water unit" if unit else ""), mass_kg)


def cylinder_item() -> LoadItem:
    """Take a cylinder of oxygen along, last on and first off with the containers that it feeds."""
    return LoadItem("oxygen cylinder", CYLINDER_KG, *_CYLINDER_M, fragile=True, livestock=True)


def bin_item(volume_l: float) -> LoadItem:
    """Take an empty bin in which water was mixed: water at the new place is mixed in it.

    It takes no floor of its own, for cartons stand in it.

    Parameters
    ----------
    volume_l : float
        What it holds. [l]
    """
    return LoadItem("empty bin for mixing water, for cartons to stand in", EMPTY_KG_A_LITRE * volume_l)


def spare_item(system: System) -> LoadItem:
    """Strap a small empty tank onto its stand: the two take the floor of one.

    Parameters
    ----------
    system : System
        One that nothing lives in.
    """
    tank = system.tank
    mass_kg = system.stand_kg + empty_tank_kg(tank).likely
    size = (tank.length_m, tank.width_m, STAND_M + tank.height_m)
    return LoadItem(f"stand of {system.name} with its empty tank", mass_kg, *size, fragile=True)


def carried(vessels: Sequence[Vessel], uses: tuple[Use, ...]) -> list[LoadItem]:
    """Give the containers of some uses as what is carried; a bag travels in its box and is none of its own."""
    inside = {held.id: vessel for vessel in vessels for held in vessel.holds if held.what == "container"}
    bags = {vessel.number: vessel for vessel in vessels if vessel.number in inside}
    return [
        LoadItem(
            f"{vessel.kind} of {NAMES[use]}",
            vessel.kg + sum(bags[held.id].kg for held in vessel.holds if held.id in bags),
            *_size_m(vessel),
            livestock=use in ANIMALS_LAST,
            number=vessel.number,
            by_handle=vessel.kind in ("can", "pail"),
            rigid=vessel.kind == "box" or use is Use.MEDIA,
        )
        for use in uses
        for vessel in vessels
        if vessel.use is use and vessel.number not in bags
    ]


def _size_m(vessel: Vessel) -> tuple[float, float, float]:
    if vessel.kind == "box":
        return _BOX_M
    return can_size_m(vessel.volume_l) if vessel.kind == "can" else tub_size_m(vessel.volume_l)
