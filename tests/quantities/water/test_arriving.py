"""How warm containers arrive, and what a tank stands at that is filled out of them."""

from __future__ import annotations

import math

import pytest

from moveplan.quantities.safe_time.boxes import Box, Journey, LoadSpace, Surroundings
from moveplan.quantities.water.arriving import Arrival, arrivals, blended, waiting_warm
from moveplan.science.heat.vessels import Surface
from moveplan.science.heat.walls import wall_u_w_m2_k

COLD = Surroundings(
    25.5, 35.0, (18.0, 18.0), (20.0, 20.0), (LoadSpace("van", 4.0, 8.0, 0.0, 1.0),), 101.3, 20.0
)
HOT = Surroundings(
    25.5, 35.0, (26.0, 26.0), (32.0, 32.0), (LoadSpace("van", 30.0, 36.0, 10.0, 1.0),), 101.3, 20.0
)
WAY = Journey(2.0, 1.0, 2.0)


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
        [(100.0, Arrival(20.0, 22.0, 24.0)), (100.0, waiting_warm(26.0)), (0.0, Arrival(0, 0, 0))]
    )
    assert found.likely_c == pytest.approx((22.0 + 25.7) / 2)
    assert found.farthest_k(26.0) == pytest.approx(26.0 - found.low_c)
