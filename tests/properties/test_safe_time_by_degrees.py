"""A degree of air more or less moves by minutes how much a container is short of its journey, in cold and in heat."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box, Journey, LoadSpace, Surroundings
from moveplan.quantities.safe_time.ends import ends_of
from moveplan.quantities.safe_time.heat_hours import heat_hours
from moveplan.science.heat.heating import heat_capacity_of_volume_wh_k
from moveplan.science.heat.vessels import Surface
from moveplan.science.heat.walls import wall_u_w_m2_k
from moveplan.science.numbers import Array
from tests.quantities.plans import ROOMS, WAY

POLICY = Policy({})
LOW = ends_of(POLICY)[0]
LONG = Journey(3.0, 3.0, 2.0)
TUB = Box("tub", 60.0, 17.0, WAY)
BOXES = [
    TUB,
    replace(TUB, wrapped=True),
    replace(TUB, wrapped=True, heater_w=25.0),
    Box("box", 40.0, 18.0, WAY, insulated=True),
    Box("bag", 12.0, 4.0, WAY, insulated=True, neighbours=2),
    Box("pail", 15.0, 9.0, WAY),
]
BOXES += [replace(box, journey=LONG) for box in BOXES]
FLOOR_C, CEILING_C = POLICY["temperature_floor"], POLICY["temperature_ceiling"]
A_TENTH_MIN, A_DEGREE_MIN = 30.0, 240.0
"""Most that a tenth of a degree, and a whole one, may move it. [min]"""
AT_LIMIT_K = 0.5
"""In air that is so near to a limit the water nears it for hours without passing it, whatever a tenth does. [K]"""


def van(degrees: float) -> Surroundings:
    """A load space between rooms of 19 to 23 °C."""
    return replace(ROOMS, load_spaces=(LoadSpace("van", degrees, max(degrees, 18.0), 0.0, 0.6),))


def brought_back(degrees: float) -> Surroundings:
    """The same between rooms that are warmer than the floor: what is too cold on the road would be warmed there."""
    return replace(van(degrees), rooms_low_c=(24.0, 24.0), rooms_high_c=(25.5, 25.5))


def hot(degrees: float) -> Surroundings:
    """A load space that is hotter than the rooms, which cool again."""
    space = LoadSpace("van", min(degrees, 25.5), degrees, 0.0, 0.6)
    return replace(brought_back(20.0), load_spaces=(space,))


def sun(degrees: float) -> Surroundings:
    """The same, closed in the sun."""
    (space,) = hot(degrees).load_spaces
    return replace(hot(degrees), load_spaces=(replace(space, rise_k=22.0, rise_constant_h=0.34),))


def room(degrees: float) -> Surroundings:
    """A room afterwards that is too cold, or brings back what the road has cooled."""
    return replace(van(5.0), rooms_low_c=(19.0, degrees), rooms_high_c=(23.0, max(degrees, 23.0)))


WALKS = [(van, -20, 25), (brought_back, -20, 25), (hot, 22, 50), (sun, 5, 45), (room, 10, 25)]


def minutes(boxes: list[Box], walk: Callable[[float], Surroundings], airs: Array) -> Array:
    """Rows of containers by columns of airs, up to the whole journey. [min]."""
    most = np.array([box.journey.total_h for box in boxes])
    rows = [(box, LOW) for box in boxes]
    hours = [heat_hours(rows, walk(float(air)), POLICY)[:, 0] for air in airs]
    cut: Array = 60.0 * np.minimum(np.column_stack(hours), most[:, None])
    return cut


@pytest.mark.parametrize(("walk", "first", "last"), WALKS, ids=[row[0].__name__ for row in WALKS])
@pytest.mark.parametrize(
    ("step", "most_min"), [(0.1, A_TENTH_MIN), (1.0, A_DEGREE_MIN)], ids=["tenth", "degree"]
)
def test_no_degree_is_a_cliff(
    walk: Callable[[float], Surroundings], first: int, last: int, step: float, most_min: float
) -> None:
    airs = np.arange(first, last + 1e-9, step)
    moved = np.abs(np.diff(minutes(BOXES, walk, airs), axis=1))
    if step < AT_LIMIT_K:
        near = np.min(np.abs(airs[:, None] - [FLOOR_C, CEILING_C]), axis=1) < AT_LIMIT_K
        moved[:, near[1:] | near[:-1]] = 0.0
    assert moved.max() > 1.0
    assert moved.max() <= most_min, (airs[moved.max(axis=0).argmax()], BOXES[moved.max(axis=1).argmax()])


def test_a_room_that_brings_the_water_back_is_no_reprieve() -> None:
    """A tub that cools below the floor at the end of the road is short of that, and of what it takes to warm again."""
    box = replace(TUB, journey=LONG)
    airs = np.arange(0.0, 22.0, 0.1)
    (told,) = minutes([box], brought_back, airs) / 60.0
    short = told[told < LONG.total_h]
    assert len(short) > 10
    assert short.max() > LONG.total_h - 0.5
    assert (np.diff(told) >= -1e-9).all()


def test_what_is_brought_back_counts_as_long_as_it_is_within() -> None:
    """Newton's law in steps of two seconds: out in the vehicle, in again when the room has warmed what is missing."""
    box, van_c, step_h = replace(TUB, journey=LONG), 18.5, 1 / 1800
    conductance = LOW.heat * box.area_m2 * wall_u_w_m2_k(box.wall, Surface.STILL)
    rate_h = conductance / float(heat_capacity_of_volume_wh_k(box.water_l, 25.5, 35.0))
    degrees, within_h, left_h = 25.5, 0.0, 0.0
    for at in range(round(LONG.total_h / step_h)):
        hour = at * step_h
        on_road = LONG.before_h <= hour < LONG.before_h + LONG.road_h
        degrees += step_h * rate_h * ((van_c if on_road else 24.0) - degrees)
        within_h += step_h * (degrees >= FLOOR_C)
        left_h = left_h or hour * (degrees < FLOOR_C)
    (whole, there) = heat_hours([(box, LOW)], brought_back(van_c), POLICY)[0]
    assert whole == pytest.approx(within_h, abs=0.01)
    assert there == pytest.approx(left_h, abs=0.01)
    assert left_h + 0.2 < within_h < LONG.total_h
