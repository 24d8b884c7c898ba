"""Percentiles and their standard errors."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest

from moveplan.risk.runs.sample import Sample, errors, percentiles


def filled(values: list[float]) -> Sample:
    sample = Sample()
    sample.add(np.array(values))
    return sample


def test_percentiles_are_dates() -> None:
    found = percentiles(filled([float(n) for n in range(100)]), 1000)
    assert (found.p10, found.p50, found.p80, found.p95) == (1009, 1049, 1079, 1094)


def test_a_share_and_the_promise_of_that_share_are_one_moment() -> None:
    """Between two runs there is no moment to tell: rounding between them once made two figures of one."""
    sample = filled([float(n * n) for n in range(97)] + [20_000.4])
    found = percentiles(sample, 1000)
    assert (found.p50, found.p80, found.p95) == tuple(1000 + sample.reached(one) for one in (0.5, 0.8, 0.95))
    assert (found.twentieths[9], found.twentieths[15]) == (found.p50, found.p80)


def test_standard_error_of_mean_and_median_is_the_theory() -> None:
    """sd / sqrt(n) and sd sqrt(pi / 2 n); 20 batches give either to some 16 %, four times that is the band."""
    dice = np.random.default_rng(3)
    sample = Sample()
    sample.add(dice.normal(0, 10, 20_000))
    assert sample.error_of_mean() == pytest.approx(10 / sqrt(20_000), rel=4 / sqrt(2 * 19))
    assert sample.error_of_quantile(0.5) == pytest.approx(10 * sqrt(pi / 2 / 20_000), rel=4 / sqrt(2 * 19))


def test_pairs_that_cancel_leave_no_error_of_the_mean() -> None:
    half = np.random.default_rng(3).normal(0, 1, 400)
    assert filled([*half, *-half]).error_of_mean() == pytest.approx(0.0, abs=1e-12)


def test_one_pair_has_no_error() -> None:
    assert filled([1.0, 2.0]).error_of_mean() == 0.0


def test_errors_are_named_as_printed() -> None:
    names = [name for name, _ in errors("settled", filled([1.0, 2.0, 3.0, 4.0]))]
    assert names == ["settled.p10", "settled.p50", "settled.p80", "settled.p95"]


def test_the_error_of_a_quantile_beside_a_jump_is_the_theory() -> None:
    """Runs of which 22 % slip far: sqrt(p (1 - p) / n) over the density at P75, to the same four times 16 %."""
    dice = np.random.default_rng(5)
    runs = np.where(dice.random(2000) < 0.78, dice.normal(0, 1, 2000), 1000.0)
    z = 1.769  # normal quantile of 0.75 / 0.78
    density = 0.78 * np.exp(-(z**2) / 2) / sqrt(2 * pi)
    theory = sqrt(0.75 * 0.25 / 2000) / density
    assert filled(list(runs)).error_of_quantile(0.75) == pytest.approx(theory, rel=4 / sqrt(2 * 19))


def test_a_quantile_after_days_without_a_run_is_broken_off_and_a_weekend_breaks_nothing() -> None:
    """Of 1,000 runs 900 end within one evening and 100 some days later."""
    evening = np.linspace(1000.0, 1180.0, 900)
    for days, found in ((7, (0.9, 1180)), (2.9, None)):
        later = evening[:100] + days * 1440
        told = percentiles(filled([*evening, *later]), 0)
        assert told.broken_off == found
        assert told.by_day == ()
    spread = percentiles(filled([*evening, *np.linspace(1200.0, 30 * 1440.0, 1100)]), 0)
    assert spread.broken_off is None
    assert spread.by_day == (0.5, 0.8, 0.95)
