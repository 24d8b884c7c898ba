"""What was filled in: each value is written as text, read like any other, and listed with its reason."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from moveplan.plan.move import Assumption
from moveplan.planfile.fill.usual import Usual
from moveplan.units import (
    Measure,
    show_distance,
    show_flow,
    show_length,
    show_mass,
    show_pressure,
    show_rate,
    show_temperature,
    show_volume,
)

T = TypeVar("T")

_US: Mapping[str, Callable[[float], str]] = {
    "m": lambda value: show_length(value, "us"),
    "cm": lambda value: show_length(value / 100, "us"),
    "km": lambda value: show_distance(value, "us"),
    "kg": lambda value: show_mass(value, "us"),
    "l": lambda value: show_volume(value, "us"),
    "l/h": lambda value: show_flow(value, "us"),
    "l/day": lambda value: show_rate(value, "us"),
    "°C": lambda value: show_temperature(value, "us"),
    "bar": lambda value: show_pressure(value, "us"),
}


class Notes:
    """Assumptions made so far.

    Parameters
    ----------
    units : str
        Units to list them in, ``metric`` or ``us``; the values do not depend on it.
    """

    def __init__(self, units: str) -> None:
        self._units = units
        self._made: list[Assumption] = []

    def add(self, key: str, value: str, why: str) -> None:
        """List an assumption.

        Parameters
        ----------
        key : str
            Path of the key in the plan file.
        value : str
            As it could be written there.
        """
        self._made.append(Assumption(key, value, why))

    def fill(self, given: T | None, key: str, usual: Usual, read: Callable[[str], T]) -> T:
        """Take the given value, or read and list the usual one."""
        if given is not None:
            return given
        self.add(key, (usual.in_us if self._units == "us" else "") or usual.text, usual.why)
        return read(usual.text)

    def quantity(self, given: float | None, key: str, usual: Usual, unit: str) -> float:
        """Take the given quantity, or read the usual one and list it in the keeper's units."""
        if given is not None:
            return given
        value = Measure(unit, float("-inf"), float("inf"), usual.text).read(usual.text)
        in_us = self._units == "us" and unit in _US and not usual.text.endswith("mm")
        shown = _US[unit](value) if in_us else usual.text
        self.add(key, shown, usual.why)
        return value

    def flag(self, given: bool | None, key: str, usual: Usual) -> bool:
        """Take the given answer, or list the usual one."""
        return self.fill(given, key, usual, lambda text: text == "yes")

    def listed(self) -> tuple[Assumption, ...]:
        """Everything assumed, in the order in which it was filled in."""
        return tuple(self._made)


def named(name: str | None, entry_id: str) -> str:
    """Name an entry: as the keeper did, else by its id.

    >>> named(None, "spare-heaters")
    'Spare heaters'
    """
    if name is not None:
        return name
    words = entry_id.replace("-", " ").replace("_", " ").strip()
    return words[:1].upper() + words[1:]
