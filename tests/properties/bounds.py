"""What hostile input may cost: ten seconds of computing on a usual machine, and a gibibyte."""

from __future__ import annotations

import time
from functools import cache

MOST_KIB = 1 << 20
USUAL_S = 0.06
"""What the loop takes on a usual machine, of some 4 GHz; assumed. [s]"""
_LEAST_S, _SLOWEST = 10.0, 4.0


def most_s() -> float:
    """Most seconds of computing on this machine: ten, or more where a fixed loop shows it to be a slower one."""
    return _LEAST_S * slowness()


@cache
def slowness() -> float:
    """How many times longer than a usual machine this one takes, from 1 to 4.

    The slowest of some runs counts, for a machine with busy neighbours is slow now and then; beyond four times
    the loop is not believed.
    """
    return min(max(max(loop_s() for _ in range(5)) / USUAL_S, 1.0), _SLOWEST)


def loop_s() -> float:
    begun = time.process_time()
    counts: dict[str, float] = {}
    for number in range(400_000):
        key = f"k{number % 1000}"
        counts[key] = counts.get(key, 0.0) + number * 0.5
    return time.process_time() - begun
