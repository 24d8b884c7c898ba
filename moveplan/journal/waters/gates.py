"""Hold points with limits: whether the last readings are good enough to sign."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from moveplan.journal.records import Reading
from moveplan.journal.waters.doubt import far_from
from moveplan.journal.waters.names import NEW, new_water_of
from moveplan.units import show_number

USUAL = {"ph": 8.2, "temperature": 26.0, "salinity": 35.0}
"""What the water of a reef is like where it was not read; recalled. [-, °C, -]"""
PH_STEPS = tuple(7.6 + 0.1 * step for step in range(13))
"""For which the page of a phone knows the limit of ammonia: up to far above any reef. Chosen. [-]"""


@dataclass(frozen=True, slots=True)
class Gate:
    """One limit of a hold point.

    Parameters
    ----------
    what : str
        What has to be read.
    low, high : float or None
        Between which values, in ``unit``; None: open.
    unit : str
        Unit of the two.
    within_min : int
        How old the reading may be. [min]
    system : str
        Name of the water it is read in; empty: there is one only.
    times : int
        How many readings in a row have to keep the limit.
    apart_min : int
        Least time from the first of them to the last. [min]
    since : str
        Id of the task from whose end readings count; empty: all count.
    risen : bool
        Whether a reading above the limit must have come before.
    unionised : float or None
        Limit of un-ionised ammonia, as nitrogen, from which ``high`` follows in the water as it was read. [mg N/l]
    may : bool
        Whether it is asked only where it was read: not everybody has a kit for it.
    """

    what: str
    low: float | None
    high: float | None
    unit: str
    within_min: int
    system: str = ""
    times: int = 1
    apart_min: int = 0
    since: str = ""
    risen: bool = False
    unionised: float | None = None
    may: bool = False

    @property
    def name(self) -> str:
        """What has to be read, as people write it."""
        return "pH" if self.what == "ph" else self.what

    @property
    def range(self) -> str:
        """The limits in words, such as ``at most 0.25 mg N/l``."""
        unit = "" if self.unit == "-" else f" {self.unit}"
        if self.low is None:
            part = "" if self.unionised is None else f" ({show_number(self.unionised)} of it un-ionised)"
            return f"at most {show_number(self.high or 0.0)}{unit}{part}"
        if self.high is None:
            return f"at least {show_number(self.low)}{unit}"
        return f"{show_number(self.low)} to {show_number(self.high)}{unit}"

    def keeps(self, value: float) -> bool:
        """Whether a value lies within the limits."""
        return (self.low is None or value >= self.low) and (self.high is None or value <= self.high)

    @property
    def waters(self) -> tuple[str, ...]:
        """Names of the waters whose readings count; once the animals have moved, a tank keeps both its names."""
        if not self.system:
            return ()
        return (self.system,) if self.system.endswith(NEW) else ("", self.system, new_water_of(self.system))


@dataclass(frozen=True, slots=True)
class Lack:
    """A limit that was not shown to be kept.

    Parameters
    ----------
    gate : Gate
        The limit.
    reading : Reading or None
        The last reading; None: there is none.
    why : str
        ``missing``, ``old``, ``outside``, ``alone`` (to be kept more than once), ``flat`` (no rise before) or
        ``far`` (from the one before, so that it is to be measured again).
    """

    gate: Gate
    reading: Reading | None
    why: str

    def __str__(self) -> str:
        gate, said = self.gate, self.reading.said if self.reading else ""
        where = f" of {gate.system}" if gate.system.endswith(NEW) else ""
        return (
            f"{gate.name}{where} must be {gate.range}; "
            + {
                "missing": "it was not read yet",
                "old": f"the last reading ({said}) is older than {gate.within_min // 60} h",
                "outside": f"the last reading is {said}",
                "alone": f"the last reading ({said}) keeps that; {_again(gate)}",
                "flat": "no reading above that was seen before, and without a rise its fall proves nothing",
                "far": f"the last reading ({said}) is far from the one before; measure again until two agree",
            }[self.why]
        )


def _again(gate: Gate) -> str:
    apart = f", at least {gate.apart_min // 60} h from first to last" if gate.apart_min else ""
    return f"read it until {gate.times} readings in a row keep that{apart}"


def lacking(
    gates: Iterable[Gate], readings: Iterable[Reading], now: int, begun: Mapping[str, int] | None = None
) -> Iterator[Lack]:
    """Find the limits that the last readings do not show to be kept.

    Parameters
    ----------
    gates : iterable of Gate
        Of one hold point.
    readings : iterable of Reading
        In the order of measuring.
    now : int
        UTC. [min]
    begun : Mapping of str to int or None
        When the tasks ended from whose end readings count, UTC; all count where that was not recorded. [min]
    """
    known = list(readings)
    for gate in gates:
        since = (begun or {}).get(gate.since, -math.inf)
        every = sorted(_of(known, gate.what, gate.waters), key=lambda one: one.at)
        rows = [one for one in every if one.at >= since]
        if gate.may and not rows:
            continue
        found = _found(_in_water(gate, known), rows, now)
        if found is None and far_from(rows[-1], every) is not None:
            found = Lack(gate, rows[-1], "far")
        if found is not None:
            yield found


def _found(gate: Gate, rows: Sequence[Reading], now: int) -> Lack | None:
    if not rows:
        return Lack(gate, None, "missing")
    last = rows[-1]
    if now - last.at > gate.within_min:
        return Lack(gate, last, "old")
    if not gate.keeps(last.value):
        return Lack(gate, last, "outside")
    first = len(rows)
    while first and gate.keeps(rows[first - 1].value):
        first -= 1
    if len(rows) - first < gate.times or last.at - rows[first].at < gate.apart_min:
        return Lack(gate, last, "alone")
    return Lack(gate, last, "flat") if gate.risen and not first else None


def _in_water(gate: Gate, readings: Sequence[Reading]) -> Gate:
    """Work out the total ammonia for a limit of its un-ionised part."""
    if gate.unionised is None:
        return gate
    total = total_ammonia_at(gate.unionised, readings, gate.waters)
    return replace(gate, high=math.floor(100.0 * total) / 100.0)


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
    return max(_of(readings, what, waters), key=lambda one: one.at, default=None)


def _of(readings: Iterable[Reading], what: str, waters: Sequence[str]) -> Iterator[Reading]:
    return (one for one in readings if one.what == what and (not waters or one.system in waters))
