"""The smallest network that is neither series nor parallel, with told starts as buffers, by complete enumeration.

The bridge of five arcs is the standard case for which longest paths of random lengths do not factor: Martin (1965),
Operations Research 13, 46-66 (recalled). Each duration takes one of four values; all 1,024 combinations are counted
with their chances, and the simulation has to keep every limit in the same share of its runs.
"""

from __future__ import annotations

import pytest

from tests.reference.enumerated import RUNS, Discrete, Limits

BRIDGE = Discrete(
    ((10, 20, 30, 60), (15, 35, 45, 55), (5, 10, 20, 30), (30, 50, 60, 80), (20, 25, 40, 70)),
    ((0, 2), (0, 3), (1, 4), (2, 4)),
)
BUFFERS = (0.0, 0.0, 22.0, 32.0, 52.0)
"""Told starts, before which nothing begins. [min]"""


@pytest.mark.parametrize("floors", [(0.0,) * 5, BUFFERS], ids=["as it comes", "with buffers"])
@pytest.mark.parametrize("limits", [{3: 90.0, 4: 100.0}, {2: 45.0, 3: 100.0, 4: 100.0}, {4: 90.0}])
def test_the_chance_of_keeping_every_limit_is_that_of_all_combinations(
    floors: tuple[float, ...], limits: Limits
) -> None:
    counted = BRIDGE.counted(floors, limits)
    assert 0.05 < counted < 0.95
    error = 3 * (counted * (1 - counted) / RUNS) ** 0.5
    assert abs(BRIDGE.simulated(floors, limits) - counted) <= error


def test_buffers_cost_some_of_the_chance() -> None:
    limits = {4: 90.0}
    assert BRIDGE.counted(BUFFERS, limits) < BRIDGE.counted((0.0,) * 5, limits)
