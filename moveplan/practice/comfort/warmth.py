"""The temperature of each container with animals from its filling to its opening, by the schedule."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from moveplan.plan.places import Place
from moveplan.plan.systems import System
from moveplan.practice.comfort.whereabouts import Standing, Stretch
from moveplan.practice.project import Project
from moveplan.quantities.safe_time.boxes import Box, Journey, load_space_of
from moveplan.quantities.safe_time.ends import HEAT_SPREAD
from moveplan.science.heat.path import end_temperatures_c
from moveplan.science.heat.vessels import Segment, Surface, Vessels, vessels_of
from moveplan.science.heat.walls import wall_u_w_m2_k
from moveplan.science.numbers import Array

STEP_MIN = 60
"""A path has a point so often, and one at each change of place. [min]"""
NOWHERE = Journey(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Point:
    """Temperature of the water at a moment.

    Parameters
    ----------
    at : int
        UTC. [min]
    likely_c, low_c, high_c : float
        In air half way between the coldest and the warmest expected, in the coldest, and in the warmest, with heat
        lost likely, or a factor off either way. [°C]
    air_c : float
        The likely air from then on. [°C]
    """

    at: int
    likely_c: float
    low_c: float
    high_c: float
    air_c: float


@dataclass(frozen=True, slots=True)
class _Air:
    low: Segment
    likely: Segment
    high: Segment


def warmth_of(
    project: Project, standings: Sequence[Standing]
) -> tuple[tuple[Standing, tuple[Point, ...]], ...]:
    """Follow the temperature of every container with animals; those that go the same way are worked out at once.

    Water of the tank that is dripped or poured in while animals get used to it is left out: it warms them earlier
    than is said here.

    Parameters
    ----------
    project : Project
        Its plan.
    """
    systems = {system.id: system for system in project.plan.systems}
    alike: dict[tuple[object, ...], list[Standing]] = {}
    for one in standings:
        if one.use.vessel.livestock and one.stretches:
            legs = tuple((leg.since, leg.where.id) for leg in one.stretches)
            alike.setdefault((one.use.vessel.system, one.since, *legs), []).append(one)
    found: dict[int, tuple[Point, ...]] = {}
    for several in alike.values():
        system = systems.get(several[0].use.vessel.system, project.plan.systems[0])
        for one, path in zip(several, _paths(several, standings, system), strict=True):
            found[id(one)] = path
    return tuple((one, found[id(one)]) for one in standings if id(one) in found)


def _paths(
    several: list[Standing], standings: Sequence[Standing], system: System
) -> Iterator[tuple[Point, ...]]:
    first, start = max(several, key=lambda one: one.until), system.temperature_c
    opened = {one.until for one in several}
    cuts = [cut for leg in first.stretches for cut in _cut(leg, opened)]
    vessels = _vessels([_box(one, standings) for one in several], system)
    airs = [air for _, air in cuts]
    low, likely, high = (
        end_temperatures_c(vessels, start, segments).reshape(len(cuts), 3, len(several))
        for segments in ([air.low for air in airs], [air.likely for air in airs], [air.high for air in airs])
    )
    columns = (likely[:, 0], low.min(axis=1), high.max(axis=1))
    times = [first.filled, *(until for until, _ in cuts)]
    outside = [float(air.likely.air_c) for air in (*airs, airs[-1])]
    for at, one in enumerate(several):
        rows = [(start, start, start), *zip(*(column[:, at].tolist() for column in columns), strict=True)]
        path = [
            Point(when, row[0], row[1], row[2], air)
            for when, row, air in zip(times, rows, outside, strict=True)
        ]
        own = [point for point in path if point.at <= one.until]
        early = [Point(one.since, start, start, start, outside[0])] if one.since < one.filled else []
        yield (*early, *own)


def _cut(leg: Stretch, opened: set[int]) -> Iterator[tuple[int, _Air]]:
    """Cut a stretch every hour, and where a container is opened: the end of each part, and the air in it."""
    inside = {
        one for one in (*range(leg.since, leg.until, STEP_MIN), *opened) if leg.since <= one < leg.until
    }
    for since, until in pairwise([*sorted(inside), leg.until]):
        yield until, _air(leg, (since - leg.since) / 60, (until - since) / 60)


def _air(leg: Stretch, after_h: float, hours: float) -> _Air:
    if isinstance(leg.where, Place):
        low_c, high_c = leg.where.room_temperature_c, max(leg.where.room_high_c, leg.where.room_temperature_c)
        middle, on = (low_c + high_c) / 2, leg.where.has_power
        low, likely, high = (Segment(hours, air, heated=on) for air in (low_c, middle, high_c))
        return _Air(low, likely, high)
    space = load_space_of(leg.where)
    high_c = max(space.high_c, space.low_c)
    left = math.exp(-after_h / space.rise_constant_h)
    hot = high_c + space.rise_k * (1 - left)
    return _Air(
        Segment(hours, space.low_c),
        Segment(hours, (space.low_c + high_c) / 2),
        Segment(hours, hot, rise_k=space.rise_k * left, rise_constant_h=space.rise_constant_h),
    )


def _box(one: Standing, standings: Iterable[Standing]) -> Box:
    """Say what keeps a container warm: of a bag the insulated box around it and the bags beside it."""
    vessel = one.use.vessel
    around = next((other.use.vessel for other in standings if _holds(other, one)), None)
    return Box(
        kind=vessel.kind,
        volume_l=vessel.volume_l,
        water_l=vessel.water_l,
        journey=NOWHERE,
        wrapped=vessel.wrapped,
        heater_w=vessel.heater_w,
        neighbours=len(around.holds) if around else 1,
        insulated=vessel.kind == "box" or around is not None,
    )


def _holds(other: Standing, one: Standing) -> bool:
    box, bag = other.use.vessel, one.use.vessel
    together = other.since < one.until and one.since < other.until
    return bag.kind == "bag" and together and any(held.id == bag.number for held in box.holds)


def _vessels(boxes: Sequence[Box], system: System) -> Vessels:
    """State containers three times: with heat lost likely, more, and less."""

    def thrice(values: Iterable[float]) -> Array:
        return np.tile(np.array(list(values), dtype=np.float64), 3)

    spread = np.repeat([1.0, HEAT_SPREAD, 1 / HEAT_SPREAD], len(boxes))
    still, moving, packed = (
        spread * thrice(wall_u_w_m2_k(box.wall, surface) * box.area_m2 for box in boxes)
        for surface in (Surface.STILL, Surface.MOVING, Surface.PACKED)
    )
    return vessels_of(
        thrice(box.warm_l for box in boxes),
        still,
        moving,
        packed,
        thrice(box.heater_w for box in boxes),
        system.temperature_c,
        system.temperature_c,
        system.salinity_psu,
    )
