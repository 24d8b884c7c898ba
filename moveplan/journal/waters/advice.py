"""A reading past a limit, and what to do about it; the size of a water change is computed."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from moveplan.journal.records import Reading
from moveplan.journal.waters.unionised import total_ammonia_at
from moveplan.science.limits import limits
from moveplan.science.water.mixing import change_to_reach, changes_needed

LARGEST_CHANGE = 0.5
"""Share of the water changed at most in one go; common practice, no source. [-]"""
_AIM = 0.5
"""A change aims at this share of the limit, so that the next reading is below it; assumed. [-]"""
_ENDS = {
    "temperature": ("alarm_temperature_low", "alarm_temperature_high"),
    "salinity": ("alarm_salinity_low", "alarm_salinity_high"),
    "ph": ("alarm_ph_low", "alarm_ph_high"),
    "nitrite": ("", "alarm_nitrite"),
    "oxygen": ("alarm_oxygen", ""),
}


@dataclass(frozen=True, slots=True)
class Advice:
    """What a reading asks for.

    Parameters
    ----------
    limit : float
        The limit that it passes, in its unit.
    above : bool
        Whether it is above the limit, or below.
    change : float
        Share of the water to change each time; 0: a change is not what helps.
    times : int
        How many such changes, one a day.
    """

    reading: Reading
    limit: float
    above: bool
    change: float = 0.0
    times: int = 0


def advice_for(reading: Reading, readings: Sequence[Reading], policy: Mapping[str, float]) -> Advice | None:
    """Say what a reading asks for.

    Parameters
    ----------
    readings : sequence of Reading
        Those before: un-ionised ammonia depends on pH, temperature and salinity.
    policy : Mapping of str to float
        What the plan sets, by name of the limit.

    Returns
    -------
    Advice or None
        None where it is within its limits.

    Examples
    --------
    >>> bad = Reading(at=0, what="nitrite", value=9.0, unit="mg N/l", said="9 mg/l N")
    >>> found = advice_for(bad, [], {})
    >>> found.limit, found.change, found.times
    (5.0, 0.5, 2)
    """
    low, high = _ends(reading, readings, policy)
    if high is not None and reading.value > high:
        change, times = _change(reading, high)
        return Advice(reading, high, True, change, times)
    if low is not None and reading.value < low:
        return Advice(reading, low, False)
    return None


def _ends(
    reading: Reading, readings: Sequence[Reading], policy: Mapping[str, float]
) -> tuple[float | None, float | None]:
    if reading.what == "ammonia":
        return None, _total_ammonia(reading, readings, policy)
    low, high = _ENDS.get(reading.what, ("", ""))
    return _limit(low, policy), _limit(high, policy)


def _limit(name: str, policy: Mapping[str, float]) -> float | None:
    return policy.get(name, limits()[name].value) if name else None


def _total_ammonia(reading: Reading, readings: Sequence[Reading], policy: Mapping[str, float]) -> float:
    """Total ammonia at which the un-ionised part calls for action, in this water as last read."""
    unionised = policy.get("ammonia_alert", limits()["ammonia_alert"].value)
    return total_ammonia_at(unionised, readings, ("", reading.system) if reading.system else ())


def _change(reading: Reading, limit: float) -> tuple[float, int]:
    """Share of water and number of changes, with new water that holds none of it."""
    if reading.what not in ("ammonia", "nitrite"):
        return 0.0, 0
    aim = _AIM * limit
    share = float(change_to_reach(reading.value, 0.0, aim))
    if share <= LARGEST_CHANGE:
        return math.ceil(20 * share) / 20, 1
    return LARGEST_CHANGE, int(changes_needed(reading.value, 0.0, aim, LARGEST_CHANGE))
