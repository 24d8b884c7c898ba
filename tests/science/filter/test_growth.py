"""A few scenarios and many are followed by other means, and come out the same."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.science.filter.cycling import STEP_DAYS, CycleStart, cycle_curve
from moveplan.science.filter.growth import FEW

COLUMNS = st.tuples(
    st.floats(0.0, 10.0),
    st.floats(0.0, 10.0),
    st.floats(0.0, 50.0),
    st.floats(1e-5, 5.0),
    st.floats(1e-5, 2.0),
    st.floats(15.0, 32.0),
    st.floats(0.0, 9.0),
    st.one_of(st.just(float("inf")), st.floats(0.5, 100.0)),
)


@settings(max_examples=20)
@given(st.lists(COLUMNS, min_size=1, max_size=FEW))
def test_a_few_scenarios_come_out_to_the_last_bit_as_among_many(few: list[tuple[float, ...]]) -> None:
    many = few * (FEW // len(few) + 1)
    assert len(few) <= FEW < len(many)
    for of_few, of_many in zip(curves(few), curves(many), strict=True):
        np.testing.assert_array_equal(of_few, of_many[:, : len(few)])


def curves(columns: list[tuple[float, ...]]) -> tuple[np.ndarray, ...]:
    *start, temperature, load, capacity = map(np.array, zip(*columns, strict=True))
    curve = cycle_curve(CycleStart(*start), temperature, load, capacity, days=20.0)
    return (
        curve.ammonia_mg_n_l,
        curve.nitrite_mg_n_l,
        curve.nitrate_mg_n_l,
        curve.ammonia_oxidisers_mg_l,
        curve.nitrite_oxidisers_mg_l,
    )


@pytest.mark.parametrize("scenarios", [0, 1, FEW, FEW + 1])
def test_there_is_a_row_a_time_and_a_column_a_scenario(scenarios: int) -> None:
    start = CycleStart(*(np.full(scenarios, 0.5) for _ in range(5)))
    curve = cycle_curve(start, 25.0, days=3.0)
    assert curve.ammonia_mg_n_l.shape == (int(3.0 / STEP_DAYS) + 1, scenarios)
    assert curve.nitrite_oxidisers_mg_l.shape == (len(curve.day), scenarios)
