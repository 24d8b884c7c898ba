"""Speed of the two models that a plan calls often; run with ``pytest tests/benchmarks``."""

from __future__ import annotations

from typing import Any

import numpy as np

from moveplan.science.cycling import cycle_curve, seeded_start
from moveplan.science.transit import Stay, TransitLimits, safe_times

LIMITS = TransitLimits(4.0, 15.0, 0.05, 22.0, 29.0, 24.0, 0.7, 8.2)


def _stays(count: int) -> list[Stay]:
    return [
        Stay(2.0 + 0.1 * number, 4.0, 26.0, 35.0, 10.433, 0.4567, 1.0, 0.0, 15.0, 10.0)
        for number in range(count)
    ]


def test_sixty_stays_at_once(benchmark: Any) -> None:
    """Twenty groups of animals at low, likely and high."""
    found = benchmark(safe_times, _stays(60), [LIMITS] * 60)
    assert len(found) == 60


def test_twenty_groups_one_by_one(benchmark: Any) -> None:
    stays = _stays(60)

    def every_group() -> int:
        return sum(len(safe_times(stays[at : at + 3], [LIMITS] * 3)) for at in range(0, 60, 3))

    assert benchmark(every_group) == 60


def test_one_cycle_at_low_likely_and_high(benchmark: Any) -> None:
    curve = benchmark(cycle_curve, seeded_start(np.array([1.0, 2.0, 4.0]), "rock"), 26.0)
    assert curve.ammonia_mg_n_l.shape[1] == 3


def test_two_thousand_cycles(benchmark: Any) -> None:
    start = seeded_start(np.linspace(1.0, 4.0, 2000), "bare")
    curve = benchmark.pedantic(cycle_curve, (start, 26.0), rounds=3)
    assert curve.ammonia_mg_n_l.shape[1] == 2000
