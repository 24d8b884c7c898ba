"""One quantile of a three-point estimate as the simulation draws it."""

from __future__ import annotations

import numpy as np

from moveplan.risk.runs.draw import chances, quantile_tables


def quantile_of(estimate: tuple[float, float, float], low_high: tuple[float, float], at: float) -> float:
    return float(np.interp(at, chances(), quantile_tables([estimate], low_high)[0]))
