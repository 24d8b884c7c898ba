"""Temperatures at any time of a way, from those at its ends alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from moveplan.science.heat.path import end_temperatures_c
from moveplan.science.heat.vessels import Segment, Vessels
from moveplan.science.numbers import Array


def temperatures_c(vessels: Vessels, start_c: ArrayLike, way: Sequence[Segment], hours: Array) -> Array:
    """What each container has after its own time; the last segment goes on for ever."""
    cut, begin = [], 0.0
    for number, segment in enumerate(way, start=1):
        lasts = float(segment.duration_h) if number < len(way) else np.inf
        cut.append(replace(segment, duration_h=np.clip(hours - begin, 0.0, lasts)))
        begin += lasts
    last: Array = end_temperatures_c(vessels, start_c, cut)[-1]
    return last
