"""Which tubs carry what: rock, corals, filter media and old water, none heavier than those who lift can lift."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from moveplan.plan.supplies import GearItem
from moveplan.plan.systems import System

FILL = 0.75
"""Greatest fill of a lidded tub on the road; common practice, no source. [-]"""
TWO_PEOPLE_KG = 2 * 25.0 * 2 / 3
"""Two people lift two thirds of the sum of what each lifts; HSE L23 with the 25 kg filter, recalled. [kg]"""
ONE_PERSON_KG = 25.0
"""One person lifts so much, close to the body at waist height; HSE L23 filter for men, recalled. [kg]"""
ONE_PERSON_TUB_L = 150.0
"""Largest tub that one person gets hold of; assumed. [l]"""
CORALS_KG = 3.0
"""Corals and rack in one coral tub; assumed. [kg]"""
MEDIA_KG = 10.0
"""Filter media in one tub; assumed. [kg]"""
TUB_EMPTY_SHARE = 0.03
"""Mass of an empty tub a litre of its volume; assumed. [kg/l]"""
WATER_KG_L = 1.025
"""Seawater, rounded up. [kg/l]"""
ROCK_SHARE = 0.55
"""Share of a rock tub's load that is soaked rock, the rest water that keeps it wet; assumed. [-]"""
TUB_DEPTH_M = 0.25
"""Depth of water in which corals stand; assumed. [m]"""
SPACING_M = 0.04
"""Free space around each colony, so that tissue touches nothing; common practice, no source. [m]"""
DEFAULT_TUB_L = 60.0
"""Volume of a lidded tub where the plan names none; assumed. [l]"""


@dataclass(frozen=True, slots=True)
class Tubs:
    """Tubs of one system, by what they carry.

    Parameters
    ----------
    volume_l : float
        Full volume of one tub. [l]
    water_l : float
        Water in one that holds water only. [l]
    rock, coral, media, keep : int
        How many carry rock, corals, filter media, and old water only. [-]
    rock_water_l, coral_water_l, media_water_l : float
        Old water in one tub of each. [l]
    rock_kg : float
        Dry rock in one rock tub. [kg]
    lift_kg : float
        Heaviest that a tub may be for those who lift. [kg]
    """

    volume_l: float
    water_l: float
    rock: int
    coral: int
    media: int
    keep: int
    rock_water_l: float
    coral_water_l: float
    media_water_l: float
    rock_kg: float
    lift_kg: float = TWO_PEOPLE_KG

    @property
    def count(self) -> int:
        """How many tubs in all."""
        return self.rock + self.coral + self.media + self.keep

    @property
    def kept_l(self) -> float:
        """Old water in all of them, in litres."""
        return (
            self.rock * self.rock_water_l
            + self.coral * self.coral_water_l
            + self.media * self.media_water_l
            + self.keep * self.water_l
        )


def tub_volume_l(gear: Sequence[GearItem]) -> float:
    """Volume of the most numerous kind of tub in the plan, or the assumed one."""
    tubs = [item for item in gear if item.kind == "tub" and item.volume_l > 0]
    if not tubs:
        return DEFAULT_TUB_L
    return max(tubs, key=lambda item: (item.count, item.volume_l)).volume_l


def lift_kg(lifters: int, volume_l: float) -> float:
    """Heaviest tub that those who lift can carry: one person alone, or two together.

    Parameters
    ----------
    lifters : int
        People who lift; none counts as two, since somebody is then to be found. [-]
    volume_l : float
        Full volume of the tub: a large one is too heavy for one person with any water in it. [l]

    >>> lift_kg(1, 60.0), round(lift_kg(3, 60.0), 1), round(lift_kg(1, 400.0), 1)
    (25.0, 33.3, 33.3)
    """
    return ONE_PERSON_KG if lifters == 1 and volume_l <= ONE_PERSON_TUB_L else TWO_PEOPLE_KG


def fill_l(volume_l: float, load_kg: float = 0.0, heaviest_kg: float = TWO_PEOPLE_KG) -> float:
    """Water that a tub may hold beside a load, so that it can still be lifted.

    Parameters
    ----------
    volume_l : float
        Full volume of the tub. [l]
    load_kg : float
        What else is in it. [kg]
    heaviest_kg : float
        What it may weigh. [kg]

    >>> round(fill_l(60.0), 1)
    30.8
    """
    by_mass = (heaviest_kg - TUB_EMPTY_SHARE * volume_l - load_kg) / WATER_KG_L
    return max(min(FILL * volume_l, by_mass), 0.0)


def arrange(
    system: System,
    coral_widths_m: Sequence[float],
    wished_kept_l: float,
    volume_l: float,
    soaked: float,
    heaviest_kg: float = TWO_PEOPLE_KG,
) -> Tubs:
    """Share rock, corals, media and old water out over tubs.

    Parameters
    ----------
    system : System
        Which one. [-]
    coral_widths_m : sequence of float
        Width of each colony that travels. [m]
    wished_kept_l : float
        Old water to keep in all. [l]
    volume_l : float
        Full volume of one tub. [l]
    soaked : float
        Mass of soaked rock over dry rock. [-]
    heaviest_kg : float
        What a tub may weigh. [kg]
    """
    water_l = fill_l(volume_l, heaviest_kg=heaviest_kg)
    rock_load_kg = ROCK_SHARE * (heaviest_kg - TUB_EMPTY_SHARE * volume_l)
    rock_kg = rock_load_kg / soaked
    rock = math.ceil(system.rock_kg / rock_kg - 1e-9)
    floor_m2 = volume_l / 1000 / (TUB_DEPTH_M + 0.1)
    coral_area = sum((width + SPACING_M) ** 2 for width in coral_widths_m)
    coral = math.ceil(coral_area / (0.8 * floor_m2) - 1e-9)
    rock_water = fill_l(volume_l, rock_load_kg, heaviest_kg)
    coral_water = fill_l(volume_l, CORALS_KG, heaviest_kg)
    media_water = min(15.0, fill_l(volume_l, MEDIA_KG, heaviest_kg))
    bare = Tubs(
        volume_l, water_l, rock, coral, 1, 0, rock_water, coral_water, media_water, rock_kg, heaviest_kg
    )
    return keeping(bare, wished_kept_l)


def keeping(tubs: Tubs, wished_kept_l: float) -> Tubs:
    """Change how many tubs hold old water only, so that so much is kept in all.

    Parameters
    ----------
    tubs : Tubs
        What carries rock, corals and media stays as it is. [-]
    wished_kept_l : float
        Old water to keep in all. [l]
    """
    wet = replace(tubs, keep=0).kept_l
    return replace(tubs, keep=max(math.ceil((wished_kept_l - wet) / tubs.water_l - 1e-9), 0))
