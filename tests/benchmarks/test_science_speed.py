"""Speed of the two models that a plan calls often; run with ``pytest tests/benchmarks``."""

from __future__ import annotations

from typing import Any

import numpy as np

from moveplan.science.filter.cycling import cycle_curve, seeded_start
from moveplan.science.gas.ends import gas_limits
from moveplan.science.gas.transit import Stay, TransitLimits, safe_times
from moveplan.science.gas.vessels import GasLimits, Phase, Vessels
from moveplan.science.heat.path import first_exit_h
from moveplan.science.heat.vessels import Segment, Surface, vessels_of

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


def test_two_hundred_containers_at_low_likely_and_high_through_four_phases(benchmark: Any) -> None:
    """Bar: 30 ms on a core of its own."""
    count = 600
    draw = np.random.default_rng(1).uniform
    ends = np.tile([0.5, 1.0, 2.0], 200)
    water, gas, use = draw(5.0, 30.0, count), draw(0.0, 30.0, count), draw(1.0, 60.0, count)
    vessels = Vessels(water, gas, 0.2, 26.0, 35.0, use, transfer_factor=ends)
    stone = Phase(2.0, pump_flow_l_min=1.0, vent_l_h=60.0)
    way = [Phase(0.5), Phase(1.0, on_road=True), stone, Phase(1.0)]
    oxygen, _ = benchmark(gas_limits, vessels, way, GasLimits(4.0, 15.0))
    assert oxygen.size == count


def test_three_hundred_containers_on_their_way(benchmark: Any) -> None:
    """Six segments with heaters and two ramps: under 5 ms."""
    draw = np.random.default_rng(1)
    count = 300
    containers = vessels_of(
        draw.uniform(2.0, 40.0, count),
        draw.uniform(0.2, 6.0, count),
        draw.uniform(0.3, 15.0, count),
        draw.uniform(0.2, 4.0, count),
        draw.choice([0.0, 25.0, 50.0, 100.0], count),
        draw.uniform(22.0, 27.0, count),
    )
    way = [
        Segment(2.0, 18.0, heated=True),
        Segment(0.2, 8.0, Surface.MOVING),
        Segment(1.0, 10.0, Surface.PACKED, 24.0, 0.33),
        Segment(0.5, 12.0, Surface.PACKED, 5.0, 0.5, heated=True),
        Segment(0.2, 8.0, Surface.MOVING),
        Segment(4.0, 18.0, heated=True),
    ]
    assert benchmark(first_exit_h, containers, 25.0, way, 22.0, 29.0).shape == (count,)
