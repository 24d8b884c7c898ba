"""Nothing is made or lost: salt, water, oxygen, nitrogen, heat."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.science.filter.cycling import CycleStart, cycle_curve
from moveplan.science.gas.dissolved import (
    oxygen_in_gas_mg_l,
    oxygen_partition,
    oxygen_saturation_mg_l,
    usable_oxygen_mg,
)
from moveplan.science.gas.transit import Stay, water_states
from moveplan.science.heat.cooling import cooling_time_h
from moveplan.science.water import dripping, salt
from moveplan.science.water import mixing as water

MODEST = settings(max_examples=40, deadline=None, derandomize=True)
temperatures = st.floats(10.0, 35.0)
salinities = st.floats(28.0, 40.0)
volumes = st.floats(0.5, 5000.0)


@MODEST
@given(volumes, temperatures, salinities)
def test_salt_and_water_add_up_to_sea_water(volume: float, temperature: float, salinity: float) -> None:
    parts = salt.dissolved_salt_kg(volume, temperature, salinity) + salt.fresh_water_kg(
        volume, temperature, salinity
    )
    assert parts == pytest.approx(salt.seawater_mass_kg(volume, temperature, salinity), rel=1e-12)


@MODEST
@given(volumes, temperatures, st.floats(28.0, 34.0), st.floats(34.0, 40.0))
def test_raising_salinity_closes_the_balance(
    volume: float, temperature: float, low: float, high: float
) -> None:
    mass = salt.seawater_mass_kg(volume, temperature, low)
    before = salt.dissolved_salt_kg(volume, temperature, low)
    added = salt.salt_to_raise_kg(volume, temperature, low, high)
    share = 1000.0 * (before + added) / (mass + added)
    assert share == pytest.approx(high * 35.16504 / 35.0, rel=1e-12)


@MODEST
@given(volumes, temperatures, st.floats(28.0, 34.0), st.floats(34.0, 40.0))
def test_lowering_salinity_closes_the_balance(
    volume: float, temperature: float, low: float, high: float
) -> None:
    mass = salt.seawater_mass_kg(volume, temperature, high)
    held = salt.dissolved_salt_kg(volume, temperature, high)
    added = salt.water_to_lower_kg(volume, temperature, high, low)
    assert 1000.0 * held / (mass + added) == pytest.approx(low * 35.16504 / 35.0, rel=1e-12)


@MODEST
@given(st.floats(10.0, 100.0), st.floats(0.0, 1.0), st.floats(1.5, 9.5), st.floats(0.02, 0.98))
def test_the_changes_needed_are_enough_and_one_fewer_is_not(
    old: float, new: float, target: float, share: float
) -> None:
    times = water.changes_needed(old, new, target, share)
    assert new + (old - new) * (1.0 - share) ** times <= target * (1.0 + 1e-6)
    assert new + (old - new) * (1.0 - share) ** (times - 1.0) > target * (1.0 - 1e-6)


@MODEST
@given(st.floats(28.0, 36.0), st.floats(28.0, 36.0), st.floats(0.5, 50.0), st.floats(0.5, 4.0))
def test_overflowing_at_the_greatest_flow_keeps_the_slew_and_ends_within_the_step(
    old: float, new: float, volume: float, slew: float
) -> None:
    flow = dripping.greatest_flow_l_h(volume, old, new, slew)
    hours = dripping.overflow_acclimation_time_h(old, new, 0.5, slew)
    if np.isfinite(flow) and flow < 1e6:
        assert flow / volume * abs(new - old) == pytest.approx(slew, rel=1e-9)
        left = np.exp(-flow * hours / volume)
        assert abs(new - old) * left <= 0.5 + 1e-9
    else:
        assert hours < 1e-3


@MODEST
@given(
    st.floats(0.3, 100.0),
    st.floats(0.0, 300.0),
    temperatures,
    salinities,
    st.sampled_from([0.20946, 0.4, 1.0]),
)
def test_a_closed_container_conserves_oxygen(
    water_l: float, gas_l: float, temperature: float, salinity: float, fraction: float
) -> None:
    in_gas = oxygen_in_gas_mg_l(temperature, salinity, fraction)
    in_water = oxygen_saturation_mg_l(temperature, salinity)
    partition = oxygen_partition(temperature, salinity)
    usable = usable_oxygen_mg(water_l, gas_l, in_gas, in_water, 4.0, partition)
    left = water_l * 4.0 + gas_l * 4.0 / partition
    assert usable + left == pytest.approx(water_l * in_water + gas_l * in_gas, rel=1e-9)
    hours = usable / 10.0
    stay = Stay(water_l, gas_l, temperature, salinity, 10.0, 0.4, fraction, 0.0, temperature, 10.0)
    assert water_states([stay], [hours])[0].oxygen_mg_l == pytest.approx(4.0, rel=1e-6)


starts = st.builds(
    CycleStart,
    st.floats(0.0, 10.0),
    st.floats(0.0, 10.0),
    st.floats(0.0, 50.0),
    st.floats(1e-5, 5.0),
    st.floats(1e-5, 2.0),
)


@settings(max_examples=15, deadline=None, derandomize=True)
@given(starts, st.floats(15.0, 32.0), st.floats(0.0, 9.0), st.floats(0.5, 100.0))
def test_the_growth_of_a_filter_conserves_nitrogen(
    start: CycleStart, temperature: float, load: float, capacity: float
) -> None:
    curve = cycle_curve(start, temperature, load, capacity, days=60.0)
    total = curve.ammonia_mg_n_l + curve.nitrite_mg_n_l + curve.nitrate_mg_n_l
    given_in = total[0] + load * curve.day[:, None]
    np.testing.assert_allclose(total, given_in, rtol=1e-6, atol=1e-6)
    assert np.isfinite(curve.ammonia_oxidisers_mg_l).all()
    assert (total >= 0.0).all()


@MODEST
@given(st.floats(5.0, 35.0), st.floats(-20.0, 50.0), st.floats(0.0, 40.0), st.floats(0.5, 200.0))
def test_the_time_to_a_temperature_is_when_it_is_reached(
    start: float, ambient: float, limit: float, constant: float
) -> None:
    hours = cooling_time_h(start, ambient, limit, constant)
    assert hours >= 0.0
    if hours < 1000.0:
        reached = ambient + (start - ambient) * np.exp(-hours / constant)
        assert reached == pytest.approx(limit, abs=1e-6)
