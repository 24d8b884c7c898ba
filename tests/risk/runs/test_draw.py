"""Tables of quantiles and draws with common causes."""

from __future__ import annotations

from math import asin, pi, sqrt

import numpy as np
import pytest

from moveplan.risk.runs.draw import POINTS, Drawer, Loading, quantile_tables
from tests.risk.quantiles import quantile_of


def test_no_spread_is_a_constant() -> None:
    assert set(quantile_tables([(5, 5, 5)])[0].tolist()) == {5.0}


def test_nothing_gives_an_empty_table() -> None:
    assert quantile_tables([]).shape == (0, POINTS)


def test_low_and_high_may_be_quantiles() -> None:
    assert quantile_of((30, 60, 150), (0.1, 0.9), 0.1) == pytest.approx(30, abs=0.05)
    assert quantile_of((30, 60, 150), (0.1, 0.9), 0.9) == pytest.approx(150, abs=0.05)
    assert quantile_of((30, 60, 150), (0.1, 0.9), 0.999) > 160


def test_durations_never_fall_below_zero() -> None:
    assert quantile_tables([(1, 2, 60)], (0.1, 0.9)).min() >= 0


def test_two_tasks_with_a_common_cause_correlate() -> None:
    """Rank correlation of a normal pair with correlation r is 6 / pi asin(r / 2)."""
    runs = 40_000
    drawer = Drawer(Loading(np.array([[sqrt(0.6)], [sqrt(0.6)], [0.0]])), 0, 1)
    bins = np.concatenate([chunk[:, : chunk.shape[1] // 2] for chunk, _ in drawer.chunks(runs)], axis=1)
    ranks = bins.argsort(axis=1, kind="stable").argsort(axis=1)
    found = np.atleast_2d(np.corrcoef(ranks))
    assert found[0, 1] == pytest.approx(6 / pi * asin(0.3), abs=4 / sqrt(runs / 2))
    assert found[0, 2] == pytest.approx(0.0, abs=4 / sqrt(runs / 2))


def test_a_common_cause_leaves_each_distribution_as_it_is() -> None:
    table = quantile_tables([(10, 20, 60)])[0]
    drawer = Drawer(Loading(np.array([[sqrt(0.5), sqrt(0.2)]])), 0, 1)
    drawn = np.concatenate([table[bins[0]] for bins, _ in drawer.chunks(100_000)])
    assert float(drawn.mean()) == pytest.approx(25.0, abs=4 * 8.6 / sqrt(50_000))


def test_odd_numbers_of_runs_are_made_even() -> None:
    drawer = Drawer(Loading(np.zeros((1, 0))), 1, 1)
    assert sum(bins.shape[1] for bins, _ in drawer.chunks(5001)) == 5002
