"""Total ammonia at which its un-ionised part reaches a limit, in a water as it was last read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from moveplan.journal.records import Reading

USUAL = {"ph": 8.2, "temperature": 26.0, "salinity": 35.0}
"""What the water of a reef is like where it was not read; recalled. [-, °C, -]"""
PKA_NBS = ((10.205, -0.03607, 8.05e-05), 0.000839)
"""Acid constant of ammonium on the NBS scale: polynomial of the temperature, and what comes on top for each unit of
salinity. [-, °C; -]

A least-squares fit to :func:`moveplan.science.filter.ammonia.pka_nbs` for ``SALINITIES`` and ``WARMTHS_C``, within
0.0014 of it, which is 0.3 % of the un-ionised part; a page reckons with the same numbers.
"""
SALINITIES, WARMTHS_C = (28.0, 40.0), (10.0, 40.0)
"""Salinities and temperatures of the fit; what was read beyond counts as the nearest. [-, °C]"""


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
    ph, warmth, salinity = (one.value if one else USUAL[what] for what, one in found.items())
    by_warmth, by_salinity = PKA_NBS
    warmth = _within(warmth, WARMTHS_C)
    pka = sum(factor * warmth**power for power, factor in enumerate(by_warmth))
    pka += by_salinity * _within(salinity, SALINITIES)
    return unionised_mg_n_l * float(1.0 + 10.0 ** (pka - ph))


def _within(value: float, ends: tuple[float, float]) -> float:
    return min(max(value, ends[0]), ends[1])


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
