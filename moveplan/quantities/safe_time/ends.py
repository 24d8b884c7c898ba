"""The ends of the range of a safe time: what may be less than likely, and what more."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Box
from moveplan.quantities.safe_time.metabolism import Breathing
from moveplan.science.filter.ammonia import PH_ERROR

HEAT_SPREAD = 1.3
"""Factor either way by which a container may lose more or less heat: lid, floor, condensation; assumed. [-]"""
GAS_SPREAD = (0.6, 1.0, 1.7)
"""Low end, likely and high end of what crosses a surface. Each velocity may be wrong by two either way; beside oxygen
use that may be wrong by 1.5, both at their ends at once are as unlikely as this. [-]"""


@dataclass(frozen=True, slots=True)
class End:
    """One end of the range of a safe time.

    Parameters
    ----------
    use : float
        Oxygen use over the likely one.
    heat : float
        Heat lost over the likely.
    gas : float
        What crosses the surface, over the likely.
    ammonia : float
        Share of un-ionised ammonia over the likely one: what a meter may be off by.
    worst : bool
        Whether the air is the coldest and the warmest expected; else half way to the water.
    """

    use: float
    heat: float
    gas: float
    ammonia: float
    worst: bool


Row = tuple[Box, Breathing]
"""A container and the animals in one of it."""
Asked = tuple[Box, Breathing, End]
"""The same, at one end of the range."""


def ends_of(policy: Policy) -> tuple[End, End, End]:
    """Low end, likely and high end."""
    spread = policy["oxygen_use_spread"]
    uses, heats = (spread, 1.0, 1 / spread), (HEAT_SPREAD, 1.0, 1 / HEAT_SPREAD)
    ammonia = (PH_ERROR, 1.0, 1.0 / PH_ERROR)
    low, likely, high = (
        End(*factors) for factors in zip(uses, heats, GAS_SPREAD, ammonia, (True, True, False), strict=True)
    )
    return low, likely, high
