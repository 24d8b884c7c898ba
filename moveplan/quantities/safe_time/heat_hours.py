"""How long many containers stay warm, and cool, enough: filled, through room, road and room in their order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np

from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, Surroundings
from moveplan.quantities.safe_time.ends import End
from moveplan.science.heat.path import first_exit_h
from moveplan.science.heat.vessels import Segment, Surface, Vessels, vessels_of
from moveplan.science.heat.walls import wall_u_w_m2_k
from moveplan.science.numbers import Array

Heated = tuple[Box, End]
"""A container at one end of the range; who is in it does not matter."""
_LONG_H = 1e4
"""Length of the last stretch, which goes on for ever. [h]"""
_u_w_m2_k = cache(wall_u_w_m2_k)


def heat_hours(rows: Sequence[Heated], around: Surroundings, policy: Policy, *, stays: bool) -> Array:
    """Hours from closing until each container is too cold or too warm, in the load space that is worst for it.

    Its water has the temperature of the tank when it is filled in, not when the animals come.

    Parameters
    ----------
    rows : sequence of (Box, End)
        Containers, and the end.
    around : Surroundings
        What they stand in.
    policy : Policy
        Limits.
    stays : bool
        Whether it stays in the vehicle once it is there.
    """
    vessels, hours = _vessels(rows, around), np.full(len(rows), np.inf)
    for segments in _ways(rows, around, stays=stays):
        found = first_exit_h(
            vessels,
            around.temperature_c,
            segments,
            policy["temperature_floor"],
            policy["temperature_ceiling"],
        )
        hours = np.minimum(hours, found)
    return np.maximum(hours - _column(rows, "filled_h"), 0.0)


def _column(rows: Sequence[Heated], part: str) -> Array:
    return np.array([getattr(box.journey, part) for box, _ in rows])


def _vessels(rows: Sequence[Heated], around: Surroundings) -> Vessels:
    areas = [(box.wall, end.heat * box.area_m2) for box, end in rows]
    still, moving, packed = (
        np.array([_u_w_m2_k(wall, surface) * area for wall, area in areas])
        for surface in (Surface.STILL, Surface.MOVING, Surface.PACKED)
    )
    return vessels_of(
        np.array([box.warm_l for box, _ in rows]),
        still,
        moving,
        packed,
        np.array([box.heater_w for box, _ in rows]),
        around.temperature_c,
        around.temperature_c,
        around.salinity_psu,
    )


def _ways(rows: Sequence[Heated], around: Surroundings, *, stays: bool) -> list[list[Segment]]:
    """Segments of the ways at their coldest and at their warmest, by each vehicle."""
    filled_h, before_h, road_h, total_h = (
        _column(rows, part) for part in ("filled_h", "before_h", "road_h", "total_h")
    )
    worst = np.array([end.worst for _, end in rows])

    def milder(air_c: float) -> Array:
        """Air at its worst, or half way from there to the temperature of the water."""
        return np.where(worst, air_c, (air_c + around.temperature_c) / 2)

    found = []
    for cold in (True, False):
        first, last = map(milder, around.rooms_low_c if cold else around.rooms_high_c)
        before = Segment(filled_h + before_h, first, heated=True)
        after = Segment(_LONG_H, last, heated=True)
        if not around.load_spaces:
            found.append([replace(before, duration_h=filled_h + total_h), after])
        for space in around.load_spaces:
            if cold:
                road = Segment(road_h, milder(space.low_c))
            else:
                air, rise_h = milder(space.high_c), space.rise_constant_h
                road = Segment(road_h, air, rise_k=space.rise_k, rise_constant_h=rise_h)
            found.append([before, road] if stays else [before, road, after])
    return found
