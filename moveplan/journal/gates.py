"""Hold points with limits: whether the last readings are good enough to sign."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from moveplan.journal.records import Reading
from moveplan.units import show_number


@dataclass(frozen=True, slots=True)
class Gate:
    """One limit of a hold point.

    Parameters
    ----------
    what : str
        What has to be read. [-]
    low, high : float or None
        Between which values, in ``unit``; None: open. [-]
    unit : str
        Unit of the two. [-]
    within_min : int
        How old the reading may be. [min]
    system : str
        Id of the system it is read in; empty: there is one only. [-]
    """

    what: str
    low: float | None
    high: float | None
    unit: str
    within_min: int
    system: str = ""

    @property
    def range(self) -> str:
        """The limits in words, such as ``at most 0.25 mg N/l``."""
        unit = "" if self.unit == "-" else f" {self.unit}"
        if self.low is None:
            return f"at most {show_number(self.high or 0.0)}{unit}"
        if self.high is None:
            return f"at least {show_number(self.low)}{unit}"
        return f"{show_number(self.low)} to {show_number(self.high)}{unit}"


@dataclass(frozen=True, slots=True)
class Lack:
    """A limit that was not shown to be kept.

    Parameters
    ----------
    gate : Gate
        The limit. [-]
    reading : Reading or None
        The last reading; None: there is none. [-]
    old : bool
        Whether it is too old to count. [-]
    """

    gate: Gate
    reading: Reading | None
    old: bool = False

    def __str__(self) -> str:
        wanted = f"{self.gate.what} must be {self.gate.range}"
        if self.reading is None:
            return f"{wanted}; it was not read yet"
        if self.old:
            return f"{wanted}; the last reading ({self.reading.said}) is older than {self.gate.within_min // 60} h"
        return f"{wanted}; the last reading is {self.reading.said}"


def lacking(gates: Iterable[Gate], readings: Iterable[Reading], now: int) -> Iterator[Lack]:
    """Find the limits that the last readings do not show to be kept.

    Parameters
    ----------
    gates : iterable of Gate
        Of one hold point. [-]
    readings : iterable of Reading
        In the order of measuring. [-]
    now : int
        UTC. [min]
    """
    known = list(readings)
    for gate in gates:
        last = last_reading(known, gate.what, gate.system)
        if last is None:
            yield Lack(gate, None)
        elif now - last.at > gate.within_min:
            yield Lack(gate, last, old=True)
        elif not (gate.low is None or last.value >= gate.low) or not (
            gate.high is None or last.value <= gate.high
        ):
            yield Lack(gate, last)


def last_reading(readings: Iterable[Reading], what: str, system: str = "") -> Reading | None:
    """Find the last reading of something in a system; a reading that names no system counts for all.

    Parameters
    ----------
    readings : iterable of Reading
        In the order of measuring. [-]
    what, system : str
        What was read, and where; an empty system: anywhere. [-]
    """
    fitting = (one for one in readings if one.what == what and (not system or one.system in ("", system)))
    return max(fitting, key=lambda one: one.at, default=None)
