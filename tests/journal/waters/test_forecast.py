"""The forecast of a cycle against synthetic readings whose truth is known."""

from __future__ import annotations

import numpy as np
import pytest

from moveplan.journal.waters.forecast import (
    READING_SPREAD,
    CycleForecast,
    Measured,
    cycle_forecast,
    simulated,
)
from moveplan.science.filter.cycling import days_to_limit

CASES, AMMONIA, NITRITE = 200, 0.25, 1.0


def _truth(cases: int, seed: int):  # type: ignore[no-untyped-def]
    draw = np.random.default_rng(seed)
    curve = simulated(draw.standard_normal((cases, 4)), "rock", 26.0)
    done = np.maximum(
        days_to_limit(curve.day, curve.ammonia_mg_n_l, AMMONIA),
        days_to_limit(curve.day, curve.nitrite_mg_n_l, NITRITE),
    )
    return draw, curve, done


def _readings(draw, curve, case: int, until: float) -> list[Measured]:  # type: ignore[no-untyped-def]
    found = []
    for day in np.arange(1.0, until, 2.0):
        at = round(day / 0.25)
        for what, line in (("ammonia", curve.ammonia_mg_n_l), ("nitrite", curve.nitrite_mg_n_l)):
            there = float(line[at, case])
            shown = there + draw.standard_normal() * np.hypot(READING_SPREAD[0], READING_SPREAD[1] * there)
            found.append(Measured(float(day), what, max(float(shown), 0.0)))
    return found


def test_eighty_percent_intervals_hold_seventy_to_ninety_percent() -> None:
    draw, curve, done = _truth(CASES, 20270313)
    held, widths, before = 0, [], cycle_forecast([], "rock", 26.0)
    for case in range(CASES):
        until = 2.0 + draw.uniform(0.1, 0.8) * float(done[case])
        found = cycle_forecast(_readings(draw, curve, case, until), "rock", 26.0)
        held += found.p10 <= done[case] <= found.p90
        widths.append(found.p90 - found.p10)
    assert 0.70 <= held / CASES <= 0.90
    assert np.median(widths) < 0.6 * (before.p90 - before.p10)


def test_without_readings_the_belief_before_is_given() -> None:
    found = cycle_forecast([], "rock", 26.0)
    _, _, done = _truth(4000, 1)
    assert found.p50 == pytest.approx(np.quantile(done, 0.5), rel=0.05)
    assert found.p10 == pytest.approx(np.quantile(done, 0.1), rel=0.05)
    assert found.readings == 0


def test_later_readings_narrow_the_interval() -> None:
    draw, curve, _ = _truth(1, 7)
    readings = _readings(draw, curve, 0, 12.0)
    widths = [
        found.p90 - found.p10
        for found in (cycle_forecast(readings[:count], "rock", 26.0) for count in (0, 4, len(readings)))
    ]
    assert widths == sorted(widths, reverse=True)


def test_the_same_readings_give_the_same_answer() -> None:
    draw, curve, _ = _truth(1, 8)
    readings = _readings(draw, curve, 0, 9.0)
    one: CycleForecast = cycle_forecast(readings, "rock", 26.0)
    assert cycle_forecast(readings, "rock", 26.0) == one


def test_readings_that_no_growth_makes_are_said_not_to_fit() -> None:
    again_dosed = [Measured(float(day), "ammonia", 6.0) for day in range(20, 40, 2)]
    assert not cycle_forecast(again_dosed, "rock", 26.0).fits


def test_a_cycle_that_is_over_is_over() -> None:
    readings = [Measured(day, what, 0.0) for day in (40.0, 42.0) for what in ("ammonia", "nitrite")]
    assert cycle_forecast(readings, "rock", 26.0).p90 <= 42.0
