"""How warm containers arrive, and what a tank stands at that is filled out of them."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from moveplan.plan.places import Place
from moveplan.quantities.safe_time.boxes import Box, Journey, LoadSpace, Surroundings
from moveplan.quantities.water.arriving import Arrival, arrivals, blended, carried, stored_c, waiting_warm
from moveplan.science.heat.vessels import Surface
from moveplan.science.heat.walls import wall_u_w_m2_k
from tests.quantities.plans import PLACE

COLD = Surroundings(
    25.5, 35.0, (18.0, 18.0), (20.0, 20.0), (LoadSpace("van", 4.0, 8.0, 0.0, 1.0),), 101.3, 20.0
)
HOT = Surroundings(
    25.5, 35.0, (26.0, 26.0), (32.0, 32.0), (LoadSpace("van", 30.0, 36.0, 10.0, 1.0),), 101.3, 20.0
)
WAY = Journey(2.0, 1.0, 2.0)


def room(coldest_c: float, warmest_c: float) -> Place:
    """A room of such air."""
    return replace(PLACE, room_temperature_c=coldest_c, room_high_c=warmest_c)


def test_a_cold_way_cools_and_the_ends_are_in_order() -> None:
    (found,) = arrivals([Box("tub", 60.0, 30.0, WAY)], COLD)
    assert found.low_c < found.likely_c < found.high_c < 25.5


def test_a_hot_way_warms() -> None:
    (found,) = arrivals([Box("tub", 60.0, 30.0, WAY)], HOT)
    assert 25.5 < found.likely_c < found.high_c


def test_the_coldest_end_is_newtons_law_by_hand() -> None:
    box = Box("tub", 60.0, 30.0, Journey(3.0, 0.0, 0.0))
    room = Surroundings(25.5, 35.0, (18.0, 18.0), (18.0, 18.0), (), 101.3, 20.0)
    loss = 1.3 * wall_u_w_m2_k("tub", Surface.STILL) * box.area_m2
    by_hand = 18.0 + 7.5 * math.exp(-3.0 * loss / (30.0 * 1.1367))
    (found,) = arrivals([box], room)
    assert found.low_c == pytest.approx(by_hand, abs=0.02)
    loss = wall_u_w_m2_k("tub", Surface.STILL) * box.area_m2
    half_way = 21.75 + 3.75 * math.exp(-3.0 * loss / (30.0 * 1.1367))
    assert found.likely_c == pytest.approx(half_way, abs=0.02)


def test_foam_and_more_water_keep_warm() -> None:
    bare, full, wrapped = arrivals(
        [Box("tub", 60.0, 15.0, WAY), Box("tub", 60.0, 40.0, WAY), Box("tub", 60.0, 15.0, WAY, wrapped=True)],
        COLD,
    )
    assert bare.low_c < full.low_c
    assert bare.low_c < wrapped.low_c


def test_blending_is_by_litres_and_what_waits_warm_is_warm() -> None:
    found = blended(
        [
            (100.0, Arrival(20.0, 22.0, 24.0)),
            (100.0, waiting_warm(26.0, room(18.0, 22.0))),
            (0.0, Arrival(0, 0, 0)),
        ]
    )
    assert found.likely_c == pytest.approx((22.0 + 25.7) / 2)
    assert found.farthest_k(26.0) == pytest.approx(26.0 - found.low_c)


def test_what_waits_in_a_warm_room_is_as_warm_as_the_room() -> None:
    mild, summer, heat = (
        waiting_warm(25.5, room(*air)) for air in ((18.0, 24.0), (18.0, 31.0), (30.0, 34.0))
    )
    assert (mild.low_c, mild.likely_c, mild.high_c) == (24.5, 25.2, 25.5)
    assert (summer.low_c, summer.likely_c, summer.high_c) == (24.5, 25.2, 29.0)
    assert (heat.low_c, heat.likely_c, heat.high_c) == (30.0, 32.0, 32.0)


def test_cans_that_are_filled_in_a_warm_room_begin_the_way_warm() -> None:
    can = Box("tub", 20.0, 20.0, WAY)
    (as_before,) = arrivals([can], HOT)
    assert carried(can, HOT, stored_c(25.5, room(18.0, 24.0))) == as_before
    warmer = carried(can, HOT, stored_c(25.5, room(18.0, 32.0)))
    assert as_before.high_c < warmer.high_c
    assert warmer.low_c == as_before.low_c
