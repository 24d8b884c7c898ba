"""The starts that people are told are reached in about half of the runs, whatever the move."""

from __future__ import annotations

import os
from itertools import chain

import pytest

from tests.examples import scheduled
from tests.risk.calibration import LEAST, MOST, ToldStart, calibrated, told_starts

KEEPERS = range(int(os.environ.get("CALIBRATED", "12")))
"""``CALIBRATED=200`` tries so many."""
ERROR = 0.02
"""Four standard errors of a share of 10,000 runs. [-]"""


def _amiss(starts: list[ToldStart]) -> list[ToldStart]:
    return [
        one
        for one in starts
        if one.reached < LEAST - ERROR or (one.reached > MOST + ERROR and one.earlier > LEAST + ERROR)
    ]


def test_starts_of_moves_at_random_are_reached_in_about_half_of_the_runs() -> None:
    """But for what is not begun before its told time; few are told later, because a tie or a greatest gap asks so."""
    told = [starts for _, starts in calibrated(KEEPERS) if starts is not None]
    starts = list(chain.from_iterable(told))
    assert len(told) >= len(KEEPERS) // 3
    assert [one for one in starts if one.reached < LEAST - ERROR] == []
    assert len(_amiss(starts)) <= 0.02 * len(starts)
    inside = [one for one in starts if one.grade == "inside"]
    assert len(inside) >= 0.6 * len(starts)


@pytest.mark.parametrize("name", ["house_move", "short_plan", "small_tank_move", "several_systems"])
def test_starts_of_an_example_are_reached_in_about_half_of_the_runs(name: str) -> None:
    starts = told_starts(0, *scheduled(name))
    assert starts is not None
    assert [one for one in starts if one.reached < LEAST - ERROR] == []
    assert len(_amiss(starts)) <= 0.02 * len(starts)


def test_a_time_that_few_reach_is_found_amiss() -> None:
    assert _amiss([ToldStart(0, "early", 0.2, 0.1), ToldStart(0, "late", 0.9, 0.8)])
    assert not _amiss([ToldStart(0, "half", 0.5, 0.4), ToldStart(0, "held", 0.97, 0.0)])
