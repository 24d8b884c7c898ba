"""Whether the last readings are good enough to sign a hold point."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from moveplan.journal.records import Reading
from moveplan.journal.waters.doubt import far_from
from moveplan.journal.waters.gates import Gate
from moveplan.journal.waters.unionised import readings_of, total_ammonia_at

_ROUNDING = 1e-9
"""Differences of decimal fractions are off by less; chosen. [unit of each]"""


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
        ``undone`` (the task after which readings count was not recorded), ``missing``, ``old``, ``outside``, ``alone``
        (to be kept more than once), ``flat`` (no rise before), ``high`` (no fall), ``far`` (from the one before, so
        that it is to be measured again), ``unread``, ``stale`` (the other water, or too long ago) or ``unlike`` (it).
    other : Reading or None
        The last reading of the water that it is compared with; None: there is none.
    since : str
        Title of the task after which readings count, where that was not recorded; empty: its id is all that is known.
    """

    gate: Gate
    reading: Reading | None
    why: str
    other: Reading | None = None
    since: str = ""

    def __str__(self) -> str:
        gate = self.gate
        where = f" of {gate.system}" if gate.system else ""
        return f"{gate.name}{where} must be {gate.range}; {self._found}"

    @property
    def record(self) -> str:
        """What to write once it is so, as words of a command: a reading, or that the task is done."""
        if self.why == "undone":
            return f"done {self.gate.since}"
        water = self.gate.like if self.why in ("unread", "stale") else self.gate.system
        return f"read {self.gate.what} VALUE" + (f" --system {water}" if water else "")

    @property
    def _found(self) -> str:
        gate, said, other = self.gate, self.reading.said if self.reading else "", self.other
        return {
            "undone": f"{self._since} was not recorded as done, and readings count only after it",
            "missing": "it was not read yet",
            "old": f"the last reading ({said}) is older than {gate.within_min // 60} h",
            "outside": f"the last reading is {said}",
            "alone": f"the last reading ({said}) keeps that; {_again(gate)}",
            "flat": "no reading above that was seen before, and without a rise its fall proves nothing",
            "high": f"the last reading ({said}) is not lower than one before it",
            "far": f"the last reading ({said}) is far from the one before; measure again until two agree",
            "unread": f"{gate.other} was not read, so nothing says whether {said} is like it",
            "stale": f"the last reading of {gate.other} ({other.said if other else ''}) is older than "
            f"{gate.within_min // 60} h",
            "unlike": f"it reads {said}, and {self._beside}",
        }[self.why]

    @property
    def _since(self) -> str:
        return f"“{self.since}”" if self.since else self.gate.since

    @property
    def _beside(self) -> str:
        gate = self.gate
        value = _likened(gate, self.other)
        if self.reading is None or value is None:
            return ""
        said = (
            f"{gate.other} {self.other.said}"
            if self.other
            else f"the plan says {gate.apart(value).replace(' K', ' °C')} of {gate.other}, which was not read in time"
        )
        return f"{said}: {gate.apart(abs(self.reading.value - value))} apart"


def _again(gate: Gate) -> str:
    apart = f", at least {gate.apart_min // 60} h from first to last" if gate.apart_min else ""
    return f"read it until {gate.times} readings in a row keep that{apart}"


def _likened(gate: Gate, other: Reading | None) -> float | None:
    return gate.stated if other is None else other.value


def lacking(
    gates: Iterable[Gate],
    readings: Iterable[Reading],
    now: int,
    done: Mapping[str, int] = {},
    titles: Mapping[str, str] = {},
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
    done : Mapping of str to int
        When tasks ended, as far as that was recorded, UTC. [min]
    titles : Mapping of str to str
        What tasks are called.
    """
    known = list(readings)
    for gate in gates:
        found = _lack(gate, known, now, done)
        if found is not None:
            yield replace(found, since=titles.get(gate.since, ""))


def _lack(gate: Gate, known: Sequence[Reading], now: int, done: Mapping[str, int]) -> Lack | None:
    since = done.get(gate.since, math.inf if gate.since else -math.inf)
    every = sorted(readings_of(known, gate.what, gate.waters), key=lambda one: one.at)
    rows = [one for one in every if one.at >= since]
    if gate.may and not rows:
        return None
    if since == math.inf and every:
        return Lack(_in_water(gate, ()), every[-1], "undone")
    found = _found(_in_water(gate, [one for one in known if one.at >= since]), rows, now)
    if found is None and far_from(rows[-1], every) is not None:
        found = Lack(gate, rows[-1], "far")
    return found or _unlike(gate, rows[-1], known, now, since)


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
    if gate.falls and not _falls([one.value for one in rows]):
        return Lack(gate, last, "high")
    return Lack(gate, last, "flat") if gate.risen and not first else None


def _falls(values: Sequence[float]) -> bool:
    """Whether the last is lower than the highest; what never showed cannot fall, and that is seen in two."""
    return values[-1] < max(values) or (len(values) > 1 and not any(values))


def _unlike(gate: Gate, last: Reading, known: Sequence[Reading], now: int, since: float) -> Lack | None:
    """Compare with the water that the animals stand in; one that still runs has to be read as lately as this one."""
    if gate.near is None:
        return None
    rows = [one for one in readings_of(known, gate.what, gate.like_waters) if one.at < since or not gate.past]
    other = max(rows, key=lambda one: one.at, default=None)
    if other is not None and not gate.past and now - other.at > gate.within_min:
        if gate.stated is None:
            return Lack(gate, last, "stale", other)
        other = None
    value = _likened(gate, other)
    if value is None:
        return Lack(gate, last, "unread")
    return Lack(gate, last, "unlike", other) if abs(last.value - value) > gate.near + _ROUNDING else None


def _in_water(gate: Gate, readings: Sequence[Reading]) -> Gate:
    """Work out the total ammonia for a limit of its un-ionised part."""
    if gate.unionised is None:
        return gate
    total = total_ammonia_at(gate.unionised, readings, gate.waters)
    return replace(gate, high=math.floor(100.0 * total) / 100.0)
