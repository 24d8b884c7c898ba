"""How animals come to the water of the tank: the reading ends it, not a usual number of minutes."""

from __future__ import annotations

import math

import pytest

from moveplan.quantities.policy import Policy
from moveplan.quantities.water.arriving import Arrival
from moveplan.quantities.water.ramps import FLOATING_MIN, READING_MIN, ramp_of

SAME = Arrival(25.0, 25.0, 25.0)
POLICY = Policy({})


def test_where_the_waters_match_only_readings_are_taken() -> None:
    found = ramp_of(("shrimp",), 20.0, 0.0, SAME, 25.0, (35.0, 35.0), POLICY)
    assert (found.time.low, found.time.likely, found.time.high) == READING_MIN
    assert found.matched
    assert found.poured_l == pytest.approx(found.left_l)


def test_salinity_sets_flow_and_time_by_the_most_delicate() -> None:
    # 2 l, 1.5 apart, 0.5 an hour for urchins: 0.5 x 2 / 1.5 = 0.67 l/h; 1.5 / 0.5 x ln(1.5 / 0.5) = 3.3 h.
    found = ramp_of(("shrimp", "urchin"), 20.0, 0.0, SAME, 25.0, (33.5, 35.0), POLICY)
    assert found.flow_l_h == pytest.approx(0.667, abs=0.01)
    assert found.time.likely == pytest.approx(60 * 3 * math.log(3), rel=1e-3)
    shrimp = ramp_of(("shrimp",), 20.0, 0.0, SAME, 25.0, (33.5, 35.0), POLICY)
    assert shrimp.time.likely == pytest.approx(found.time.likely / 2)


def test_temperature_sets_it_too_either_way() -> None:
    # 3 K off, 2 K an hour: 3 / 2 x ln(3 / 1) = 1.65 h, 2 x 2 / 3 = 1.3 l/h into two litres.
    cold = ramp_of(("fish",), 20.0, 20.0, Arrival(21.0, 22.0, 24.0), 25.0, (35.0, 35.0), POLICY)
    hot = ramp_of(("fish",), 20.0, 20.0, Arrival(26.0, 28.0, 29.0), 25.0, (35.0, 35.0), POLICY)
    assert cold.time.likely == pytest.approx(60 * 1.5 * math.log(3), rel=1e-3)
    assert cold.flow_l_h == pytest.approx(4 / 3)
    assert hot.time.likely == pytest.approx(cold.time.likely)
    assert (cold.apart_k, hot.apart_k) == (3.0, -3.0)
    assert cold.steep
    assert not cold.matched
    assert cold.time.low < cold.time.likely < cold.time.high


def test_only_bags_float_and_no_water_runs_into_them() -> None:
    found = ramp_of(("fish",), 4.0, 20.0, SAME, 25.0, (35.0, 35.0), POLICY, bag=True)
    assert (found.time.low, found.time.likely, found.time.high) == FLOATING_MIN
    assert found.poured_l == 0.0


def test_bags_float_and_are_dripped_where_salinity_differs() -> None:
    # 2 l left, 33.5 into 35 for fish, 1 an hour: 1.5 x ln(1.5 / 0.5) = 1.65 h at 2 / 1.5 = 1.33 l/h, after it floated.
    found = ramp_of(("fish",), 6.0, 20.0, SAME, 25.0, (33.5, 35.0), POLICY, bag=True)
    dripping_min = 60 * 1.5 * math.log(3)
    assert not found.floats
    assert found.time.likely == pytest.approx(FLOATING_MIN[1] + dripping_min, rel=1e-3)
    assert found.flow_l_h == pytest.approx(4 / 3, rel=1e-3)
    assert found.poured_l == pytest.approx(4 / 3 * dripping_min / 60, rel=1e-3)
    cold = ramp_of(("fish",), 6.0, 20.0, Arrival(21.0, 22.0, 24.0), 25.0, (33.5, 35.0), POLICY, bag=True)
    assert cold.flow_l_h == found.flow_l_h, "it has floated warm before any water runs"
    near = ramp_of(("fish",), 6.0, 20.0, SAME, 25.0, (34.6, 35.0), POLICY, bag=True)
    assert near.floats
    assert near.poured_l == 0.0


def test_a_wider_match_shortens_it() -> None:
    off = Arrival(22.0, 22.5, 23.0)
    strict = ramp_of(("fish",), 20.0, 20.0, off, 25.0, (35.0, 35.0), POLICY)
    loose = ramp_of(("fish",), 20.0, 20.0, off, 25.0, (35.0, 35.0), Policy({"temperature_match": 2.0}))
    assert loose.time.likely < strict.time.likely


def test_corals_stay_covered() -> None:
    found = ramp_of(("sps-coral",), 24.0, 0.0, SAME, 25.0, (35.0, 35.0), POLICY, corals=True)
    assert found.left_l == pytest.approx(12.0)
