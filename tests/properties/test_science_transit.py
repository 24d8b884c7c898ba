"""Safe times move the way they must, and only where theory says so."""

from __future__ import annotations

import math
from dataclasses import astuple, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.science.filter.ammonia import PhScale, unionised_fraction
from moveplan.science.gas.bag import Bags
from moveplan.science.gas.transit import (
    NEVER_H,
    Binding,
    Stay,
    TransitLimits,
    safe_time,
    safe_times,
    water_states,
)
from moveplan.science.numbers import Array

MODEST = settings(max_examples=40, deadline=None, derandomize=True)
LIMITS = TransitLimits(4.0, 15.0, 0.05, 22.0, 29.0, 24.0, 0.7, 8.2)

stays = st.builds(
    Stay,
    water_l=st.floats(0.3, 200.0),
    gas_l=st.floats(0.0, 400.0),
    temperature_c=st.floats(22.0, 29.0),
    salinity_psu=st.floats(29.0, 38.0),
    oxygen_use_mg_h=st.floats(0.05, 500.0),
    ammonia_mg_n_h=st.floats(0.0, 20.0),
    oxygen_fraction=st.sampled_from([0.20946, 0.5, 1.0]),
    aeration_h=st.sampled_from([0.0, 0.0, 6.0]),
    ambient_c=st.floats(-10.0, 45.0),
    constant_h=st.floats(0.5, 100.0),
    alkalinity_mmol_kg=st.floats(1.8, 4.5),
    carbon_dioxide_uatm=st.floats(250.0, 1500.0),
)


def _no_longer(changed: float, before: float) -> bool:
    return changed <= before * (1.0 + 1e-7) + 1e-9


@MODEST
@given(stays, st.floats(1.0, 5.0))
def test_more_fish_never_lengthen_the_gas_limits(stay: Stay, factor: float) -> None:
    more = replace(
        stay, oxygen_use_mg_h=factor * stay.oxygen_use_mg_h, ammonia_mg_n_h=factor * stay.ammonia_mg_n_h
    )
    before, after = safe_times([stay, more], [LIMITS] * 2)
    assert _no_longer(after.oxygen_h, before.oxygen_h)
    assert _no_longer(after.carbon_dioxide_h, before.carbon_dioxide_h)
    assert _no_longer(after.ammonia_when_aerated_h, before.ammonia_when_aerated_h)


@MODEST
@given(stays, st.floats(0.2, 1.0))
def test_less_water_never_lengthens_the_gas_limits(stay: Stay, factor: float) -> None:
    before, after = safe_times([stay, replace(stay, water_l=max(factor * stay.water_l, 0.05))], [LIMITS] * 2)
    assert _no_longer(after.oxygen_h, before.oxygen_h)
    assert _no_longer(after.carbon_dioxide_h, before.carbon_dioxide_h)
    assert _no_longer(after.ammonia_when_aerated_h, before.ammonia_when_aerated_h)


@MODEST
@given(stays, st.floats(0.0, 1.0))
def test_less_gas_never_lengthens_the_gas_limits(stay: Stay, factor: float) -> None:
    before, after = safe_times([stay, replace(stay, gas_l=factor * stay.gas_l)], [LIMITS] * 2)
    assert _no_longer(after.oxygen_h, before.oxygen_h)
    assert _no_longer(after.carbon_dioxide_h, before.carbon_dioxide_h)


def test_more_gas_may_bring_ammonia_forward_in_a_sealed_bag() -> None:
    limits = replace(LIMITS, ammonia_limit_mg_n_l=0.017)
    small = Stay(2.0, 4.0, 26.0, 35.0, 10.4326, 0.45666, 1.0, 0.0, 26.0, 20.0)
    little, much = safe_times([small, replace(small, gas_l=8.0)], [limits] * 2)
    assert little.binds is Binding.CARBON_DIOXIDE
    assert much.binds is Binding.AMMONIA
    assert much.safe_h < little.safe_h


@MODEST
@given(stays, st.floats(1.0, 3.0))
def test_temperature_does_not_care_for_the_fish(stay: Stay, factor: float) -> None:
    more = replace(stay, oxygen_use_mg_h=factor * stay.oxygen_use_mg_h)
    before, after = safe_times([stay, more], [LIMITS] * 2)
    assert after.temperature_h == before.temperature_h


@MODEST
@given(stays)
def test_a_safe_time_is_the_cut_shortest_limit_or_the_policy(stay: Stay) -> None:
    found = safe_time(stay, LIMITS)
    times = (found.oxygen_h, found.carbon_dioxide_h, found.ammonia_h, found.temperature_h)
    assert all(time >= 0.0 for time in times)
    assert not any(math.isnan(value) for value in astuple(found) if isinstance(value, float))
    assert found.safe_h == pytest.approx(min(0.7 * min(times), 24.0))
    if found.binds is Binding.POLICY:
        assert found.safe_h == 24.0
    else:
        named = dict(zip(tuple(Binding)[:4], times, strict=True))
        assert named[found.binds] == min(times)


@MODEST
@given(stays)
def test_no_limit_is_passed_before_its_time(stay: Stay) -> None:
    stay = replace(stay, aeration_h=0.0)
    found = safe_time(stay, LIMITS)
    hours = [share * min(found.safe_h / 0.7, 200.0) for share in (0.05, 0.3, 0.6, 0.9, 0.999)]
    for state in water_states([stay] * len(hours), hours):
        assert state.oxygen_mg_l >= 4.0 - 1e-6
        assert state.carbon_dioxide_mg_l <= 15.0 + 1e-6
        if found.binds is not Binding.POLICY:
            assert state.unionised_mg_n_l <= 0.05 * (1.0 + 2e-3)


@MODEST
@given(st.lists(stays, min_size=2, max_size=6))
def test_many_at_once_are_the_same_as_one_by_one(many: list[Stay]) -> None:
    together = safe_times(many, [LIMITS] * len(many))
    for stay, found in zip(many, together, strict=True):
        alone = safe_time(stay, LIMITS)
        assert alone.binds == found.binds
        assert alone.safe_h == pytest.approx(found.safe_h, rel=1e-6)


@MODEST
@given(st.floats(5.0, 9.9), st.floats(5.0, 34.0), st.floats(28.0, 40.0), st.sampled_from(list(PhScale)))
def test_the_unionised_share_rises_with_ph_and_temperature(
    ph: float, temperature: float, salinity: float, scale: PhScale
) -> None:
    share = unionised_fraction(ph, temperature, salinity, scale)
    assert 0.0 < share < 1.0
    assert unionised_fraction(ph + 0.1, temperature, salinity, scale) > share
    assert unionised_fraction(ph, temperature + 1.0, salinity, scale) > share


def _anything(count: int) -> Bags:
    """Draw closed containers over the whole range that is allowed, sensible or not."""
    generator = np.random.default_rng(7)

    def evenly(low: float, high: float) -> Array:
        return generator.uniform(low, high, count)

    def by_size(low: float, high: float) -> Array:
        values: Array = np.exp(generator.uniform(np.log(low), np.log(high), count))
        return values

    oxygen_use = by_size(1e-3, 1e4)
    return Bags.packed(
        water_l=by_size(0.05, 20_000.0),
        gas_l=np.where(generator.random(count) < 0.2, 0.0, by_size(0.01, 20_000.0)),
        temperature_c=evenly(2.0, 35.0),
        salinity_psu=evenly(28.0, 40.0),
        oxygen_use_mg_h=oxygen_use,
        ammonia_mg_n_h=oxygen_use * evenly(0.0, 0.33) * 14.0067 / 31.9988,
        respiratory_quotient=evenly(0.5, 1.3),
        alkalinity_mmol_kg=evenly(0.3, 10.0),
        carbon_dioxide_uatm=by_size(50.0, 1e5),
    )


def test_the_first_crossing_of_a_limit_is_found_over_the_whole_range() -> None:
    bags, every = _anything(1500), np.ones(1500)
    hours = bags.time_to_carbon_dioxide_h(15.0 * every)
    at_limit = bags.at(hours)[1]
    np.testing.assert_allclose(at_limit[hours > 0.0], 15.0, rtol=1e-6)
    assert (at_limit[hours == 0.0] >= 15.0 - 1e-6).all()
    ammonia = bags.time_to_ammonia_h(0.05 * every)
    reached = ammonia < NEVER_H
    assert 0.3 < reached.mean() < 1.0
    for share in np.linspace(0.02, 1.0, 50):
        unionised = bags.at(np.where(reached, ammonia * share, 0.0))[3]
        assert (unionised[reached] <= 0.05 * (1.0 + 5e-4)).all()
    np.testing.assert_allclose(unionised[reached], 0.05, rtol=1e-6)
    for duration in np.geomspace(0.01, 3000.0, 60):
        _, carbon_dioxide, _, unionised = bags.at(duration * every)
        assert (unionised[~reached & (carbon_dioxide < 100.0)] < 0.05 * (1.0 + 5e-4)).all()


def test_a_bag_that_never_reaches_the_ammonia_limit_says_so() -> None:
    stay = Stay(1.0, 0.0, 22.0, 29.0, 0.5, 0.009698623, 0.20946, 0.0, 0.0, 1.0, alkalinity_mmol_kg=2.453125)
    together = safe_times([stay, replace(stay, gas_l=8.0, ammonia_mg_n_h=0.1)], [LIMITS] * 2)
    assert together[0].ammonia_h == math.inf
    assert together[1].ammonia_h < math.inf


def test_no_stays_have_no_times() -> None:
    assert safe_times([], []) == ()
    assert water_states([], []) == ()


def test_an_empty_container_is_never_the_limit() -> None:
    empty = Stay(2.0, 4.0, 26.0, 35.0, 0.0, 0.0, 1.0, 0.0, 26.0, 20.0)
    found = safe_time(empty, LIMITS)
    assert (found.oxygen_h, found.carbon_dioxide_h, found.ammonia_h) == (math.inf, math.inf, math.inf)
    assert found.binds is Binding.POLICY


def test_aeration_adds_its_hours_to_oxygen_and_carbon_dioxide() -> None:
    sealed = Stay(60.0, 20.0, 26.0, 35.0, 43.29, 1.895, 0.20946, 0.0, 26.0, 20.0)
    closed, aerated = safe_times([sealed, replace(sealed, aeration_h=8.0)], [LIMITS] * 2)
    assert aerated.oxygen_h == pytest.approx(closed.oxygen_h + 8.0)
    assert aerated.carbon_dioxide_h == pytest.approx(closed.carbon_dioxide_h + 8.0)
    assert aerated.ammonia_h == aerated.ammonia_when_aerated_h


def test_water_outside_its_temperatures_has_no_safe_time() -> None:
    cold = Stay(2.0, 4.0, 20.0, 35.0, 10.0, 0.4, 1.0, 0.0, 25.0, 20.0)
    found = safe_time(cold, LIMITS)
    assert (found.safe_h, found.binds) == (0.0, Binding.TEMPERATURE)
