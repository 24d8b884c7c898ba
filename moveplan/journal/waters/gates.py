"""What a hold point asks of a reading: limits, and how near to the reading of another water."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.journal.waters.names import NEW, new_water_of
from moveplan.units import show_number


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
        Id of the task from whose end readings count, which has to be recorded; empty: all count.
    risen, falls : bool
        Whether a reading above the limit must have come before; whether the last must be lower than the highest,
        save where all are 0.
    unionised : float or None
        Limit of un-ionised ammonia, as nitrogen, from which ``high`` follows in the water as it was read. [mg N/l]
    may : bool
        Whether it is asked only where it was read: not everybody has a kit for it.
    near : float or None
        Greatest difference from the water that the animals stand in, in ``unit``; None: it is not compared.
    like : str
        Name of that water; that of ``system``, or none at all: as the same water was read before the end of ``since``.
    stated : float or None
        What the plan says that water reads, which counts where it was not read; None: it has to be read.
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
    falls: bool = False
    near: float | None = None
    like: str = ""
    stated: float | None = None

    @property
    def name(self) -> str:
        """What has to be read, as people write it."""
        return "pH" if self.what == "ph" else self.what

    @property
    def range(self) -> str:
        """The limits in words, such as ``at most 0.25 mg N/l`` or ``34 to 36, within 0.5 of the old water``."""
        return ", ".join((self._ends, *self._also))

    @property
    def _ends(self) -> str:
        unit = "" if self.unit == "-" else f" {self.unit}"
        part = "" if self.unionised is None else f"{show_number(self.unionised)}{{}} un-ionised"
        if self.low is not None:
            end = "" if self.high is None else f" to {show_number(self.high)}"
            return f"{'' if end else 'at least '}{show_number(self.low)}{end}{unit}"
        if self.high is None:
            return f"at most {part.format(unit)}"
        return f"at most {show_number(self.high)}{unit}" + (f" ({part.format(' of it')})" if part else "")

    @property
    def _also(self) -> tuple[str, ...]:
        near = () if self.near is None else (f"within {self.apart(self.near)} of {self.other}",)
        return (*near, "falling") if self.falls else near

    @property
    def other(self) -> str:
        """The water that it is compared with, in words."""
        if not self.past:
            return self.like
        return f"the old water of {self.like}" if self.like else "the old water"

    @property
    def past(self) -> bool:
        """Whether that is what the same water was before, so that only the hour tells readings of the two apart."""
        return self.like == self.system

    @property
    def compares(self) -> bool:
        """Whether the other water has to be read as well, because nothing else says what it is like."""
        return self.near is not None and self.stated is None and not self.past

    def apart(self, difference: float) -> str:
        """Say a difference of two readings, with its unit."""
        unit = {"-": "", "°C": " K"}.get(self.unit, f" {self.unit}")
        return f"{show_number(round(difference, 2))}{unit}"

    def keeps(self, value: float) -> bool:
        """Whether a value lies within the limits."""
        return (self.low is None or value >= self.low) and (self.high is None or value <= self.high)

    @property
    def waters(self) -> tuple[str, ...]:
        """Names of the waters whose readings count; once the animals have moved, a tank keeps both its names."""
        if not self.system:
            return ()
        return (self.system,) if self.system.endswith(NEW) else ("", self.system, new_water_of(self.system))

    @property
    def like_waters(self) -> tuple[str, ...]:
        """Names of the waters in which it is read what this one is compared with."""
        return self.waters if self.past else (self.like,)
