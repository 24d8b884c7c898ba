"""Total ammonia at which its un-ionised part reaches a limit, in a water as it was last read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from moveplan.journal.records import Reading

USUAL = {"ph": 8.2, "temperature": 26.0, "salinity": 35.0}
"""What the water of a reef is like where it was not read; recalled. [-, °C, -]"""
PH_STEPS = tuple(7.6 + 0.1 * step for step in range(13))
"""For which the page of a phone knows the limit of ammonia: up to far above any reef. Chosen. [-]"""


def total_ammonia_at(unionised_mg_n_l: float, readings: Sequence[Reading], waters: Sequence[str]) -> float:
    """Total ammonia at which the un-ionised part reaches a limit, in a water as it was last read. [mg N/l].

    Parameters
    ----------
    unionised_mg_n_l : float
        Limit of the un-ionised part, as nitrogen. [mg N/l]
    readings : sequence of Reading
        pH, temperature and salinity count; those of a reef where they were not read.
    waters : sequence of str
        Names of the water; empty: any.
    """
    found = {what: last_reading(readings, what, waters) for what in USUAL}
    return _total_ammonia(unionised_mg_n_l, {what: one.value for what, one in found.items() if one})


def total_ammonia_by_ph(unionised_mg_n_l: float) -> tuple[float, ...]:
    """Give the same for each of ``PH_STEPS``, in water that is otherwise that of a reef. [mg N/l].

    Parameters
    ----------
    unionised_mg_n_l : float
        Limit of the un-ionised part, as nitrogen. [mg N/l]
    """
    return tuple(_total_ammonia(unionised_mg_n_l, {"ph": ph}) for ph in PH_STEPS)


def _total_ammonia(unionised_mg_n_l: float, read: Mapping[str, float]) -> float:
    from moveplan.science.filter.ammonia import total_ammonia_at_limit_mg_n_l

    water = {**USUAL, **read}
    salinity = min(max(water["salinity"], 28.0), 40.0)
    warmth = min(max(water["temperature"], 10.0), 40.0)
    return float(total_ammonia_at_limit_mg_n_l(unionised_mg_n_l, water["ph"], warmth, salinity))


def last_reading(readings: Iterable[Reading], what: str, waters: Sequence[str] = ()) -> Reading | None:
    """Find the last reading of something in a water.

    Parameters
    ----------
    readings : iterable of Reading
        In the order of measuring.
    what : str
        What was read.
    waters : sequence of str
        Names of the water, an empty one for readings that name none; none at all: anywhere.
    """
    return max(readings_of(readings, what, waters), key=lambda one: one.at, default=None)


def readings_of(readings: Iterable[Reading], what: str, waters: Sequence[str]) -> Iterator[Reading]:
    """Pick the readings of something in a water, as :func:`last_reading` does, in their order."""
    return (one for one in readings if one.what == what and (not waters or one.system in waters))
