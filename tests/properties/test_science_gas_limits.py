"""Gas limits move the way they must, without jumps, and from the ends of every range."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.science.animals.handling import handling_factor, mean_handling_factor
from moveplan.science.gas.ends import NEVER_H, gas_limits, gases_after
from moveplan.science.gas.surface import (
    aerated_conductance_l_h,
)
from moveplan.science.gas.vessels import GasLimits, Phase, Vessels

MODEST = settings(max_examples=60, deadline=None, derandomize=True)
LIMITS = GasLimits(4.0, 15.0)
SLACK = 0.01
"""Pieces of the handling curve and steps of carbon dioxide are exact to 1 %."""

vessels = st.builds(
    Vessels,
    water_l=st.floats(0.5, 60.0),
    gas_l=st.one_of(st.just(0.0), st.floats(0.1, 60.0)),
    water_area_m2=st.floats(0.02, 0.5),
    temperature_c=st.floats(20.0, 30.0),
    salinity_psu=st.floats(30.0, 38.0),
    resting_use_mg_h=st.floats(0.1, 100.0),
    oxygen_use_mg_h=st.floats(0.0, 20.0),
    stone_depth_m=st.floats(0.0, 0.4),
    hours_since_capture=st.floats(0.0, 3.0),
    half_life_h=st.floats(0.3, 2.0),
    saturation_fraction=st.floats(0.8, 1.0),
)
phases = st.lists(
    st.builds(
        Phase,
        duration_h=st.floats(0.0, 5.0),
        on_road=st.booleans(),
        pump_flow_l_min=st.sampled_from([0.0, 0.05, 0.5, 2.0]),
        vent_l_h=st.sampled_from([0.0, 0.5, 30.0, math.inf]),
    ),
    min_size=1,
    max_size=4,
)


def _both(vessel: Vessels, way: list[Phase], limits: GasLimits = LIMITS) -> tuple[float, float]:
    oxygen, carbon_dioxide = gas_limits(vessel, way, limits)
    return float(oxygen[0]), float(carbon_dioxide[0])


def _no_longer(changed: float, before: float) -> bool:
    return changed <= before * (1.0 + SLACK) + 1e-3


def _no_longer_until_never(changed: float, before: float) -> bool:
    """Near the line between late and never, a per mille of the balance is any time at all."""
    return _no_longer(changed, before) or min(changed, before) > 50.0


@MODEST
@given(vessels, phases)
def test_a_time_is_a_number_not_below_zero(vessel: Vessels, way: list[Phase]) -> None:
    for hours in _both(vessel, way):
        assert hours >= 0.0
        assert hours < NEVER_H or hours == math.inf


@MODEST
@given(vessels, phases, st.floats(1.0, 3.0))
def test_more_fish_never_lengthen(vessel: Vessels, way: list[Phase], factor: float) -> None:
    more = replace(vessel, resting_use_mg_h=factor * vessel.resting_use_mg_h)
    before, after = _both(vessel, way), _both(more, way)
    assert _no_longer_until_never(after[0], before[0])
    assert _no_longer_until_never(after[1], before[1])


@MODEST
@given(vessels, phases, st.floats(0.0, 2.0))
def test_a_tighter_limit_never_lengthens(vessel: Vessels, way: list[Phase], step: float) -> None:
    before = _both(vessel, way)
    after = _both(vessel, way, GasLimits(4.0 + step, 15.0 - 5.0 * step))
    assert _no_longer_until_never(after[0], before[0])
    assert _no_longer_until_never(after[1], before[1])


@MODEST
@given(vessels, phases, st.floats(0.3, 1.0))
def test_later_after_capture_never_shortens(vessel: Vessels, way: list[Phase], later: float) -> None:
    rested = replace(vessel, hours_since_capture=vessel.hours_since_capture + later)
    before, after = _both(rested, way), _both(vessel, way)
    assert _no_longer_until_never(after[0], before[0])
    assert _no_longer_until_never(after[1], before[1])


@MODEST
@given(vessels, st.booleans(), st.floats(1.0, 4.0))
def test_more_air_over_shut_water_never_shortens(vessel: Vessels, on_road: bool, factor: float) -> None:
    way = [Phase(1.0, on_road=on_road)]
    larger = replace(vessel, gas_l=factor * vessel.gas_l + 0.1)
    before, after = _both(larger, way), _both(vessel, way)
    assert _no_longer_until_never(after[0], before[0])
    assert _no_longer_until_never(after[1], before[1])


@MODEST
@given(vessels, st.floats(0.0, 3.0), st.floats(0.0, 2.0))
def test_more_flow_through_a_vented_lid_never_shortens(vessel: Vessels, flow: float, more: float) -> None:
    def way(q: float) -> list[Phase]:
        return [Phase(1.0, pump_flow_l_min=q, vent_l_h=60.0 * q + 1.0)]

    before, after = _both(vessel, way(flow + more)), _both(vessel, way(flow))
    assert _no_longer_until_never(after[0], before[0])
    assert _no_longer_until_never(after[1], before[1])


@MODEST
@given(
    vessels,
    phases,
    st.sampled_from(
        ["water_l", "gas_l", "water_area_m2", "temperature_c", "hours_since_capture", "half_life_h"]
    ),
)
def test_a_small_change_is_a_small_change(vessel: Vessels, way: list[Phase], name: str) -> None:
    """Water after a time depends on every input without a jump (times jump where a curve grazes its limit)."""
    near = replace(vessel, **{name: getattr(vessel, name) * (1.0 + 1e-5) + 1e-7})
    for hours in (0.3, 1.7, 6.0):
        for one, other in zip(gases_after(vessel, way, hours), gases_after(near, way, hours), strict=True):
            np.testing.assert_allclose(one, other, rtol=0.005, atol=0.02)


@MODEST
@given(vessels, phases)
def test_a_phase_of_no_length_and_one_cut_in_two_change_nothing(vessel: Vessels, way: list[Phase]) -> None:
    first = way[0]
    half = replace(first, duration_h=0.5 * first.duration_h)
    cut = [replace(way[-1], duration_h=0.0), half, half if len(way) > 1 else first, *way[1:]]
    for ours, theirs in zip(_both(vessel, cut), _both(vessel, way), strict=True):
        assert ours == pytest.approx(theirs, rel=SLACK, abs=1e-3) or min(ours, theirs) > 50.0


def test_many_at_once_get_the_answers_of_one_by_one() -> None:
    water = np.array([5.0, 10.0, 25.0, 40.0])
    use = np.array([3.0, 30.0, 9.0, 60.0])
    way = [Phase(np.array([0.2, 0.5, 1.0, 0.0])), Phase(2.0, on_road=np.array([True, False, True, False]))]
    together = gas_limits(Vessels(water, 10.0, 0.1, 26.0, 35.0, use), way, LIMITS)
    for at in range(4):
        alone = [
            Phase(*(np.ravel(np.broadcast_to(v, 4))[at] for v in (p.duration_h, p.on_road))) for p in way
        ]
        single: Any = gas_limits(Vessels(water[at], 10.0, 0.1, 26.0, 35.0, use[at]), alone, LIMITS)
        assert [float(hours[at]) for hours in together] == pytest.approx(
            [float(h[0]) for h in single], rel=1e-6
        )


def test_what_is_past_its_limit_at_the_start_has_no_time() -> None:
    stale = Vessels(10.0, 5.0, 0.1, 26.0, 35.0, 5.0, saturation_fraction=0.5, carbon_dioxide_uatm=20_000.0)
    assert _both(stale, [Phase(1.0)]) == (0.0, 0.0)


def test_nothing_that_breathes_lasts_for_ever() -> None:
    assert _both(Vessels(10.0, 0.0, 0.1, 26.0, 35.0, 0.0), [Phase(1.0)]) == (math.inf, math.inf)


@MODEST
@given(st.floats(0.0, 5.0), st.floats(0.01, 0.4), st.floats(0.02, 1.0))
def test_more_air_exchanges_more(low: float, depth: float, area: float) -> None:
    assert aerated_conductance_l_h(low + 0.01, depth, area, 26.0) > aerated_conductance_l_h(
        low, depth, area, 26.0
    )


@MODEST
@given(
    st.floats(0.0, 6.0),
    st.floats(0.1, 8.0),
    st.floats(1.0, 2.0),
    st.floats(2.0, 5.0),
    st.sampled_from([1.0, 2.0]),
)
def test_the_mean_factor_is_the_mean_of_the_factor(
    since: float, hours: float, quiet: float, peak: float, least: float
) -> None:
    middle = since + hours * (np.arange(4000) + 0.5) / 4000
    curve = handling_factor(middle, quiet, peak, 0.5, least)
    assert mean_handling_factor(hours, since, quiet, peak, 0.5, least) == pytest.approx(
        curve.mean(), rel=1e-4
    )
