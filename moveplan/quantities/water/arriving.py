"""How warm containers arrive, and how warm a tank stands that is filled out of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from moveplan.estimate import Estimate
from moveplan.plan.places import Place
from moveplan.quantities.safe_time.boxes import Box, Journey, Surroundings
from moveplan.quantities.safe_time.ends import HEAT_SPREAD
from moveplan.science.heat.path import end_temperatures_c
from moveplan.science.heat.vessels import Segment, Surface, vessels_of
from moveplan.science.heat.walls import wall_u_w_m2_k
from moveplan.science.numbers import Array

SOLID_L_A_KG = 0.205
"""Sea water that holds as much heat as a kilogram of glass, rock or sand: 0.84 over 4.09 kJ/(kg K); recalled. [l/kg]"""
HOSES_K = (0.0, 0.3, 1.0)
"""What water that waits warm beside the tank loses in pump and hose; assumed. [K]"""
DAY_SWING_K = 4.0
"""How much the air of a room swings within a day, as far as a room gets warmer than its coldest; assumed. [K]"""
_BEFORE = ("corals-out", "rock-out", "lower", "catch", "strip", "drain", "sand-out", "tank-off")
_AFTER = ("place", "sand-in", "rock-in")
_DOORS_H = 0.5
"""Hours at the doors, beside the drive; assumed. [h]"""


@dataclass(frozen=True, slots=True)
class Arrival:
    """Temperature of water where it is poured or opened. [°C].

    Parameters
    ----------
    low_c, likely_c, high_c : float
        The coldest and the warmest it may be, and half way there. [°C]
    """

    low_c: float
    likely_c: float
    high_c: float

    def farthest_k(self, from_c: float) -> float:
        """Greatest difference to a temperature. [K]."""
        return max(abs(self.low_c - from_c), abs(self.high_c - from_c))


def arrivals(boxes: Sequence[Box], around: Surroundings) -> tuple[Arrival, ...]:
    """Follow containers through rooms and road, at the worst and half way between there and the water.

    Parameters
    ----------
    boxes : sequence of Box
        Containers, each with its journey.
    around : Surroundings
        Air in the rooms and in the load spaces.
    """
    if not boxes:
        return ()
    ends = [
        np.array([_ends_c(boxes, around, air, cold=cold, worst=worst) for air in _airs(around, cold=cold)])
        for cold in (True, False)
        for worst in (True, False)
    ]
    _, cold_mild, _, hot_mild = ends
    likely = (cold_mild.min(axis=0) + hot_mild.max(axis=0)) / 2
    every = np.concatenate(ends)
    rows = zip(every.min(axis=0).tolist(), likely.tolist(), every.max(axis=0).tolist(), strict=True)
    return tuple(Arrival(*row) for row in rows)


Air = tuple[float, float, float]
"""Air in a load space, how far it rises, and how fast. [°C], [K], [h]"""


def _airs(around: Surroundings, *, cold: bool) -> list[Air | None]:
    """List the air of every load space; one without any where nothing is driven."""
    if not around.load_spaces:
        return [None]
    if cold:
        return [(one.low_c, 0.0, 1.0) for one in around.load_spaces]
    return [(one.high_c, one.rise_k, one.rise_constant_h) for one in around.load_spaces]


def _ends_c(boxes: Sequence[Box], around: Surroundings, air: Air | None, *, cold: bool, worst: bool) -> Array:
    rooms = around.rooms_low_c if cold else around.rooms_high_c
    water = around.temperature_c
    first, last = (room if worst else (room + water) / 2 for room in rooms)
    before_h, road_h, after_h = (
        np.array([getattr(box.journey, part) for box in boxes]) for part in ("before_h", "road_h", "after_h")
    )
    way = [Segment(before_h, first, heated=True)]
    if air is not None:
        road = air[0] if worst else (air[0] + water) / 2
        way.append(Segment(road_h, road, rise_k=air[1] if worst else 0.0, rise_constant_h=air[2]))
    way.append(Segment(after_h, last, heated=True))
    still, moving, packed = (
        np.array([wall_u_w_m2_k(box.wall, surface) * box.area_m2 for box in boxes])
        * (HEAT_SPREAD if worst else 1.0)
        for surface in (Surface.STILL, Surface.MOVING, Surface.PACKED)
    )
    held_l, heater_w = (np.array([getattr(box, part) for box in boxes]) for part in ("warm_l", "heater_w"))
    vessels = vessels_of(held_l, still, moving, packed, heater_w, water, water, around.salinity_psu)
    ended: Array = end_temperatures_c(vessels, water, way)[-1]
    return ended


def water_journey(times: Mapping[str, Estimate], drive: Estimate, *, drives: bool) -> Journey:
    """How long water for a tank is in tubs and cans, from the work in between.

    Parameters
    ----------
    times : Mapping of str to Estimate
        Durations of the work on the system, by name. [min]
    drive : Estimate
        One way. [min]
    drives : bool
        Whether there is a way to drive.
    """
    before, after = (
        sum(times[name].likely for name in names if name in times) / 60 for names in (_BEFORE, _AFTER)
    )
    filling_h = times["fill"].likely / 120 if "fill" in times else 0.0
    return Journey(before, drive.likely / 60 + _DOORS_H if drives else 0.0, after + filling_h)


def stored_c(target_c: float, place: Place) -> tuple[float, float]:
    """Coldest and warmest that water stands at which heaters keep at a temperature, and nothing cools. [°C].

    A vat follows the mean of the day, for it takes the better part of one to follow a room.

    Parameters
    ----------
    target_c : float
        What the heaters are set to. [°C]
    place : Place
        Its room.

    >>> from types import SimpleNamespace
    >>> stored_c(25.5, SimpleNamespace(room_temperature_c=18.0, room_high_c=31.0))
    (25.5, 29.0)
    """
    return max(target_c, place.room_temperature_c), max(target_c, place.room_high_c - DAY_SWING_K / 2)


def waiting_warm(target_c: float, place: Place) -> Arrival:
    """Water that waits warm beside the tank: heaters hold it, and it follows a room that is warmer."""
    warm, likely, cold = (target_c - lost for lost in HOSES_K)
    _, warmest_c = stored_c(target_c, place)
    middle_c = (place.room_temperature_c + place.room_high_c) / 2
    return Arrival(
        max(cold, place.room_temperature_c), max(likely, min(middle_c, warmest_c)), max(warm, warmest_c)
    )


def carried(box: Box, around: Surroundings, stored: tuple[float, float]) -> Arrival:
    """Follow a container of water that was as warm as its room let it be before it was filled.

    Parameters
    ----------
    stored : tuple of (float, float)
        Coldest and warmest that it was, as :func:`stored_c` has it. [°C]
    """
    (cold,), (hot,) = (arrivals([box], replace(around, temperature_c=begin_c)) for begin_c in stored)
    return Arrival(cold.low_c, (cold.likely_c + hot.likely_c) / 2, hot.high_c)


def blended(parts: Iterable[tuple[float, Arrival]]) -> Arrival:
    """Pour waters together, by their litres.

    >>> blended([(30.0, Arrival(24.0, 26.0, 26.0)), (70.0, Arrival(18.0, 20.0, 26.0))]).likely_c
    21.8
    """
    rows = [(litres, one) for litres, one in parts if litres > 0]
    whole = sum(litres for litres, _ in rows)

    def mean(field: str) -> float:
        return sum(litres * float(getattr(one, field)) for litres, one in rows) / whole

    return Arrival(mean("low_c"), mean("likely_c"), mean("high_c"))
