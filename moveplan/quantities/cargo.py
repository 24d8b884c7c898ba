"""Everything that travels, as items with mass and size."""

from __future__ import annotations

import math
from collections.abc import Mapping

from moveplan import units
from moveplan.plan.systems import System
from moveplan.quantities.durations import Handled
from moveplan.quantities.freight import LoadItem
from moveplan.quantities.packing import Packing
from moveplan.quantities.tubs import CORALS_KG, MEDIA_KG, TUB_EMPTY_SHARE, WATER_KG_L
from moveplan.quantities.volumes import empty_tank_kg
from moveplan.quantities.water import Water

CAN_L = 20.0
"""Lidded can for new water: one person lifts it full; common practice, no source. [l]"""
CAN_KG = 1.0 + WATER_KG_L * CAN_L
"""A full can; the can itself assumed at 1 kg. [kg]"""
BUCKET_KG = 20.0
"""Wet sand in a bucket; common practice, no source. [kg]"""
_BOX_M = (0.50, 0.40, 0.35)
_CAN_M = (0.30, 0.25, 0.40)
_BUCKET_M = (0.32, 0.32, 0.35)
_CARTON_M = (0.60, 0.40, 0.40)
STAND_M = 0.8
"""Height of a stand; assumed. [m]"""
CARTON_PIECES = 3
"""Pieces of equipment in one carton; assumed. [-]"""
KIT_KG = 15.0
"""Emergency kit and tools; assumed. [kg]"""


def tub_size_m(volume_l: float) -> tuple[float, float, float]:
    """Outer size of a tub whose sides are as 3 to 2 to 1.6. [m].

    >>> [round(side, 2) for side in tub_size_m(60.0)]
    [0.55, 0.37, 0.29]
    """
    unit = (volume_l / 1000 / (3 * 2 * 1.6)) ** (1 / 3)
    return 3 * unit, 2 * unit, 1.6 * unit


def can_count(water: Water) -> int:
    """Cans for new and spare water."""
    return math.ceil((water.new.likely + water.spare.likely) / CAN_L - 1e-9)


def items_of(
    what: Handled, water: Water, packings: Mapping[str, Packing], bags_to_a_box: int, words: str
) -> tuple[LoadItem, ...]:
    """List what travels for one system, heavy and hard things first, animals last.

    Parameters
    ----------
    what : Handled
        The system. [-]
    water : Water
        Its new and spare water. [-]
    packings : Mapping of str to Packing
        Containers of its animals. [-]
    bags_to_a_box : int
        Fish bags in one insulated box. [-]
    words : str
        Units for labels, ``metric`` or ``us``. [-]
    """
    return (*_things(what), *_wet(what, water, words), *_animals(what, packings, bags_to_a_box))


def _things(what: Handled) -> list[LoadItem]:
    items = [item for system in what.carries for item in _tank_of(system)]
    pieces = sum(item.count for item in what.system.equipment)
    mass = sum(item.count * item.mass_kg for item in what.system.equipment)
    cartons = max(math.ceil(pieces / CARTON_PIECES), 1)
    items += [LoadItem(f"carton {n} of equipment", mass / cartons, *_CARTON_M) for n in range(1, cartons + 1)]
    sand_kg = 0.0 if what.standing else what.rebuilt.sand_kg
    buckets = math.ceil(sand_kg * 1.3 / BUCKET_KG - 1e-9)
    items += [LoadItem(f"sand bucket {n}", BUCKET_KG, *_BUCKET_M) for n in range(1, buckets + 1)]
    items.append(LoadItem("emergency kit and tools", KIT_KG, *_CARTON_M))
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


def spare_item(system: System) -> LoadItem:
    """Strap a small empty tank onto its stand: the two take the floor of one.

    Parameters
    ----------
    system : System
        One that nothing lives in. [-]
    """
    tank = system.tank
    mass_kg = system.stand_kg + empty_tank_kg(tank).likely
    size = (tank.length_m, tank.width_m, STAND_M + tank.height_m)
    return LoadItem(f"stand of {system.name} with its empty tank", mass_kg, *size, fragile=True)


def _wet(what: Handled, water: Water, words: str) -> list[LoadItem]:
    tubs = what.tubs
    size = tub_size_m(tubs.volume_l)
    empty = TUB_EMPTY_SHARE * tubs.volume_l
    rock = [LoadItem(f"rock tub {n}", tubs.lift_kg, *size) for n in range(1, tubs.rock + 1)]
    keep = [
        LoadItem(f"old-water tub {n}", empty + WATER_KG_L * tubs.water_l, *size)
        for n in range(1, tubs.keep + 1)
    ]
    can = units.show_volume(CAN_L, words)
    cans = [
        LoadItem(f"new-water can {n} ({can})", CAN_KG, *_CAN_M)
        for n in range(1, (0 if what.standing or what.water_there else can_count(water)) + 1)
    ]
    return [*keep, *cans, *rock]


def _animals(what: Handled, packings: Mapping[str, Packing], bags_to_a_box: int) -> list[LoadItem]:
    tubs = what.tubs
    size = tub_size_m(tubs.volume_l)
    empty = TUB_EMPTY_SHARE * tubs.volume_l
    media = [
        LoadItem(
            f"filter-media tub {n}", empty + MEDIA_KG + WATER_KG_L * tubs.media_water_l, *size, livestock=True
        )
        for n in range(1, tubs.media + 1)
    ]
    corals = [
        LoadItem(f"coral tub {n}", empty + WATER_KG_L * tubs.coral_water_l + CORALS_KG, *size, livestock=True)
        for n in range(1, coral_tubs(what, packings) + 1)
    ]
    others = [
        LoadItem(f"{name} tub {n}", empty + WATER_KG_L * packing.water_l, *size, livestock=True)
        for name, packing in _other_tubs(what, packings)
        for n in range(1, packing.count + 1)
    ]
    bags = sum(packing.count for packing in packings.values() if packing.gear == "bag")
    per_bag = max((packing.water_l for packing in packings.values() if packing.gear == "bag"), default=0.0)
    boxes = math.ceil(bags / bags_to_a_box)
    fish = [
        LoadItem(
            f"fish box {n}", 2 + WATER_KG_L * per_bag * min(bags_to_a_box, bags), *_BOX_M, livestock=True
        )
        for n in range(1, boxes + 1)
    ]
    return [*media, *corals, *others, *fish]


def _other_tubs(what: Handled, packings: Mapping[str, Packing]) -> list[tuple[str, Packing]]:
    """Tubs of animals that are not racked like corals, each company of animals once."""
    seen: set[str] = set()
    tubs: list[tuple[str, Packing]] = []
    for livestock, kind, _ in what.groups:
        packing = packings[livestock.id]
        if packing.gear != "tub" or livestock.id in seen or packing.racked:
            continue
        seen |= {livestock.id, *packing.shares_with}
        shared_fish = kind.group == "fish" and not _alone(packing)
        tubs.append(("fish" if shared_fish else livestock.name, packing))
    return tubs


def _alone(packing: Packing) -> bool:
    return not packing.shares_with


def coral_tubs(what: Handled, packings: Mapping[str, Packing]) -> int:
    """Racked tubs that the corals need for their width, or for their safe time."""
    return max(what.tubs.coral, max((one.count for one in packings.values() if one.racked), default=0))


def tubs_needed(what: Handled, packings: Mapping[str, Packing]) -> int:
    """Tubs that one system needs, those for animals included."""
    own = what.tubs.count - what.tubs.coral + coral_tubs(what, packings)
    return own + sum(packing.count for _, packing in _other_tubs(what, packings))
