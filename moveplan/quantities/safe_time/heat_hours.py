"""How long many containers stay warm, and cool, enough: filled, through room, road and room in their order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache

import numpy as np

from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, Surroundings
from moveplan.quantities.safe_time.ends import End
from moveplan.science.heat.path import first_exit_h, outside_h
from moveplan.science.heat.vessels import Segment, Surface, Vessels, vessels_of
from moveplan.science.heat.walls import wall_u_w_m2_k
from moveplan.science.numbers import Array

Heated = tuple[Box, End]
"""A container at one end of the range; who is in it does not matter."""
_LONG_H = 1e4
"""Length of the last stretch, which goes on for ever. [h]"""
_u_w_m2_k = cache(wall_u_w_m2_k)


def heat_hours(rows: Sequence[Heated], around: Surroundings, policy: Policy) -> Array:
    """Hours from closing that each container keeps within its limits, in the load space that is worst for it.

    Its water has the temperature of the tank when it is filled in, not when the animals come.
    What leaves its limits on the way is as good as the hours of its journey within them: a room that brings the water
    back takes nothing of what was outside away, and a little more or less warmth of the air is a little more or less
    of what is short.

    Parameters
    ----------
    rows : sequence of (Box, End)
        Containers, and the end.

    Returns
    -------
    array
        A row a container: on the whole way; where it stays in the vehicle once it is there, until it leaves them. [h]
    """
    vessels, found = _vessels(rows, around), np.full((len(rows), 2), np.inf)
    start_c, limits = around.temperature_c, (policy["temperature_floor"], policy["temperature_ceiling"])
    after_h, filled_h, closed_h = _journeys(rows, "after_h", "filled_h", "total_h")
    total_h = filled_h + closed_h
    for before, road, after in _ways(rows, around):
        if road is None:
            late = there = first_exit_h(vessels, start_c, [before, after], *limits)
        else:
            there = first_exit_h(vessels, start_c, [before, road], *limits)
            late = first_exit_h(vessels, start_c, [before, road, after], *limits)
            if (late < total_h).any():
                ways = [before, road, replace(after, duration_h=after_h)]
                within_h = total_h - outside_h(vessels, start_c, ways, *limits)
                late = np.where(late < total_h, within_h, late)
        found = np.minimum(found, np.column_stack([late, there]))
    return np.maximum(found - filled_h[:, None], 0.0)


def _journeys(rows: Sequence[Heated], *parts: str) -> Iterator[Array]:
    return (np.array([getattr(box.journey, part) for box, _ in rows]) for part in parts)


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


def _ways(rows: Sequence[Heated], around: Surroundings) -> Iterator[tuple[Segment, Segment | None, Segment]]:
    """Room, road and room of the ways at their coldest and at their warmest, by each vehicle; no road where none is."""
    filled_h, before_h, road_h, total_h = _journeys(rows, "filled_h", "before_h", "road_h", "total_h")
    worst = np.array([end.worst for _, end in rows])

    def milder(air_c: float) -> Array:
        """Air at its worst, or half way from there to the temperature of the water."""
        return np.where(worst, air_c, (air_c + around.temperature_c) / 2)

    for cold in (True, False):
        first, last = map(milder, around.rooms_low_c if cold else around.rooms_high_c)
        before = Segment(filled_h + before_h, first, heated=True)
        after = Segment(_LONG_H, last, heated=True)
        if not around.load_spaces:
            yield replace(before, duration_h=filled_h + total_h), None, after
        for space in around.load_spaces:
            air, rise_k = (space.low_c, 0.0) if cold else (space.high_c, space.rise_k)
            yield (
                before,
                Segment(road_h, milder(air), rise_k=rise_k, rise_constant_h=space.rise_constant_h),
                after,
            )
