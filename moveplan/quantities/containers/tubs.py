"""Which tubs carry what: rock, corals, filter media and old water, none heavier than those who lift can lift."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from moveplan.plan.supplies import GearItem
from moveplan.plan.systems import System
from moveplan.quantities.freight.lifting import TUB_KG

CORALS_KG = 3.0
"""Corals and rack in one coral tub; assumed. [kg]"""
MEDIA_KG = 10.0
"""Filter media in one tub; assumed. [kg]"""
MEDIA_KINDS = ("reactor", "other")
"""Equipment in which filter media lie, hung-on and canister filters under the last; common practice, no source. [-]"""
EMPTY_KG_A_LITRE = 0.03
"""Mass of an empty tub a litre of its volume; assumed. [kg/l]"""
WATER_KG_L = 1.025
"""Seawater, rounded up. [kg/l]"""
DAMP_L = 1.0
"""Water at the bottom of a tub of drained rock or media, which keeps the cloths over it wet; assumed. [l]"""
TUB_DEPTH_M = 0.25
"""Depth of water in which corals stand; assumed. [m]"""
SPACING_M = 0.04
"""Free space around each colony, so that tissue touches nothing; common practice, no source. [m]"""
DEFAULT_TUB_L = 60.0
"""Volume of a lidded tub where the plan names none; assumed. [l]"""


@dataclass(frozen=True, slots=True)
class Tubs:
    """Tubs of one system, by what they carry.

    Rock and media travel drained, damp and lidded with air: still water over them has no oxygen left within hours.

    Parameters
    ----------
    volume_l : float
        Full volume of one tub. [l]
    rock, media, keep : int
        How many carry rock, filter media, and old water only.
    rock_l, media_l, keep_l : float
        Old water in one tub of each. [l]
    rock_kg : float
        Soaked rock in one rock tub. [kg]
    lift_kg : float
        Heaviest that a tub may be for those who lift. [kg]
    fill : float
        Greatest fill of a tub on the road.
    """

    volume_l: float
    rock: int
    media: int
    keep: int
    rock_l: float
    media_l: float
    keep_l: float
    rock_kg: float
    lift_kg: float = TUB_KG
    fill: float = 0.75

    @property
    def count(self) -> int:
        """How many tubs in all."""
        return self.rock + self.media + self.keep

    @property
    def kept_l(self) -> float:
        """Old water that goes into the tank again, in litres."""
        return self.keep * self.keep_l

    @property
    def used_l(self) -> float:
        """Old water that keeps rock and media damp, and that is thrown away afterwards, in litres."""
        return self.rock * self.rock_l + self.media * self.media_l


def tub_volume_l(gear: Sequence[GearItem]) -> float:
    """Volume of the most numerous kind of tub in the plan, or the assumed one."""
    tubs = [item for item in gear if item.kind == "tub" and item.volume_l > 0]
    if not tubs:
        return DEFAULT_TUB_L
    return max(tubs, key=lambda item: (item.count, item.volume_l)).volume_l


def fill_l(volume_l: float, load_kg: float = 0.0, heaviest_kg: float = TUB_KG, fill: float = 0.75) -> float:
    """Water that a tub may hold beside a load, so that it can still be lifted.

    Parameters
    ----------
    volume_l : float
        Full volume of the tub. [l]
    load_kg : float
        What else is in it. [kg]
    heaviest_kg : float
        What it may weigh. [kg]
    fill : float
        Greatest fill.

    >>> round(fill_l(60.0), 1)
    17.8
    """
    by_mass = (heaviest_kg - EMPTY_KG_A_LITRE * volume_l - load_kg) / WATER_KG_L
    return max(min(fill * volume_l, by_mass), 0.0)


def racks_for(widths_m: Sequence[float], volume_l: float) -> int:
    """Count the racked tubs in which colonies of these widths touch neither wall nor neighbour.

    >>> racks_for([0.15, 0.15, 0.15], 60.0), racks_for([], 60.0)
    (1, 0)
    """
    floor_m2 = volume_l / 1000 / (TUB_DEPTH_M + 0.1)
    area_m2 = sum((width + SPACING_M) ** 2 for width in widths_m)
    return math.ceil(area_m2 / (0.8 * floor_m2) - 1e-9)


def holds_media(system: System) -> bool:
    """Whether a system has filter media beside its rock: in a sump, a reactor, or what the plan calls other equipment.

    Live rock is all the filter of a tank that has none of these; one without rock too has a filter nobody named. The
    filter of a holding system was seeded with media.
    """
    named = any(item.kind in MEDIA_KINDS for item in system.equipment)
    return bool(system.sump_l) or named or not system.rock_kg or system.role == "holding"


def arrange(
    system: System,
    volume_l: float,
    soaked: float,
    heaviest_kg: float = TUB_KG,
    fill: float = 0.75,
) -> Tubs:
    """Share rock and media out over tubs; none holds old water only yet.

    Parameters
    ----------
    volume_l : float
        Full volume of one tub. [l]
    soaked : float
        Mass of soaked rock over dry rock.
    heaviest_kg : float
        What a tub may weigh. [kg]
    fill : float
        Greatest fill of a tub on the road.
    """
    room_kg = heaviest_kg - EMPTY_KG_A_LITRE * volume_l - DAMP_L * WATER_KG_L
    soaked_kg = soaked * system.rock_kg
    rock = math.ceil(soaked_kg / room_kg - 1e-9)
    return Tubs(
        volume_l=volume_l,
        rock=rock,
        media=int(holds_media(system)),
        keep=0,
        rock_l=DAMP_L,
        media_l=DAMP_L,
        keep_l=0.0,
        rock_kg=soaked_kg / rock if rock else 0.0,
        lift_kg=heaviest_kg,
        fill=fill,
    )


def keeping(tubs: Tubs, kept_l: float) -> Tubs:
    """Let so much old water travel in tubs of its own, the same in each.

    Parameters
    ----------
    tubs : Tubs
        What carries rock and media stays as it is.
    kept_l : float
        Old water to keep in all. [l]
    """
    most_l = fill_l(tubs.volume_l, heaviest_kg=tubs.lift_kg, fill=tubs.fill)
    keep = max(math.ceil(kept_l / most_l - 1e-9), 0)
    return replace(tubs, keep=keep, keep_l=kept_l / keep if keep else 0.0)
