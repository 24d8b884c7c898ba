"""Quantities and durations in the keeper's units."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from moveplan import units
from moveplan.estimate import Estimate, Provenance
from moveplan.outputs.printed.keeper import Keeper
from moveplan.practice.ledger.pour_words import listing, runs

_SHOWN_IN: Mapping[str, Callable[[float, str], str]] = {
    "l": units.show_volume,
    "kg": units.show_mass,
    "m": units.show_length,
    "km": units.show_distance,
    "°C": units.show_temperature,
    "bar": units.show_pressure,
    "l/h": units.show_flow,
    "l/day": units.show_rate,
    "kPa": lambda value, spoken: units.retold(f"{round(value, 2):g} kPa", spoken),
    "l/min": lambda value, spoken: units.retold(f"{units.show_rounded(value)} l/min", spoken),
    "g": lambda value, spoken: units.show_mass(value / 1000, spoken),
}
_LARGE_UNITS_MIN = (10_080, 1440, 60)
"""A week, a day, an hour. [min]"""
_SIZE = re.compile(r"(?<![\w.,])(?P<amount>\d+(?:[.,]\d+)?) (?P<unit>l|US gal)\b")
_OTHER = {"metric": "us", "us": "metric"}


@dataclass(frozen=True, slots=True)
class Quantities(Keeper):
    """Prints estimates, durations in minutes, masses in kg, lengths in m, volumes in l, temperatures in °C."""

    def amount(self, value: Estimate) -> str:
        """Print the likely value in the keeper's units."""
        return self._in_unit(value.likely, value)

    def spread(self, value: Estimate) -> tuple[str, str]:
        """Print the low and the high end in the keeper's units."""
        return self._in_unit(value.low, value), self._in_unit(value.high, value)

    def duration(self, minutes: float) -> str:
        """Print a duration."""
        return units.show_duration(round(minutes))

    def nearly(self, minutes: float) -> str:
        """Print a duration that was computed, no finer than it is known."""
        return units.show_nearly(minutes)

    def within(self, minutes: float) -> str:
        """Print how long something is safe, no finer than it is known and never longer."""
        return units.show_within(minutes)

    def roughly(self, minutes: float) -> str:
        """Print a duration by its largest unit alone, rounded down, where it is twice that unit or longer."""
        unit = next((unit for unit in _LARGE_UNITS_MIN if minutes >= 2 * unit), 1)
        return units.show_duration(int(minutes // unit) * unit)

    def mass(self, mass_kg: float) -> str:
        """Print a mass in the keeper's units."""
        return self.told(units.show_mass(mass_kg, self.units))

    def both_masses(self, mass_kg: float) -> str:
        """Print a mass in the keeper's units, and in the others in brackets."""
        other = units.show_mass(mass_kg, _OTHER[self.units])
        return self.told(f"{units.show_mass(mass_kg, self.units)} ({other})")

    def dimension(self, length_m: float) -> str:
        """Print a length in the keeper's units."""
        return self.told(units.show_length(length_m, self.units))

    def temperature(self, temperature_c: float) -> str:
        """Print a temperature in the keeper's units."""
        return self.told(units.show_temperature(temperature_c, self.units))

    def other_temperature(self, temperature_c: float) -> str:
        """Print a temperature in the units that the plan does not use."""
        return self.told(units.show_temperature(temperature_c, _OTHER[self.units]))

    def volume(self, litres: float) -> str:
        """Print a volume in the plan's units."""
        return self.told(units.show_volume(litres, self.units))

    def numbers(self, numbers: Iterable[str]) -> str:
        """List numbers of containers, those that follow each other as a run."""
        return listing(runs(numbers))

    def both_volumes(self, container: str) -> str:
        """Add the size in the other units to the words of a container, such as ``12 l bag``."""
        found = _SIZE.search(container)
        factor = units.unit_factor(found["unit"], "volume") if found else None
        if found is None or factor is None:
            return container
        other = units.show_volume(
            float(found["amount"].replace(",", ".")) * float(factor), _OTHER[self.units]
        )
        return self.told(f"{container[: found.end()]} ({other}){container[found.end() :]}")

    def share(self, share: float) -> str:
        """Print a fraction of one as percent."""
        return self.told(units.show_share(share))

    def odds(self, share: float) -> str:
        """Print the chance that something happens as people say it, such as one in forty."""
        return units.show_odds(share)

    def kept(self, share: float) -> str:
        """Print in how many of the runs something holds, in percent, rounded down."""
        return self.told(units.show_kept(share))

    def in_units(self, text: str) -> str:
        """Tell the metric quantities in a sentence in the keeper's units, with the decimal sign of the locale."""
        return self.told(self.as_written(text))

    def as_written(self, text: str) -> str:
        """Tell the metric quantities of a value in the keeper's units, so that a plan file may hold it."""
        return units.retold(text, self.units)

    def _in_unit(self, value: float, estimate: Estimate) -> str:
        unit = estimate.unit
        if unit == "min":
            return self.duration(value) if estimate.provenance is Provenance.GIVEN else self.nearly(value)
        show = _SHOWN_IN.get(unit)
        if show is not None:
            return self.told(show(value, self.units))
        return f"{self.number(value)} {unit}".rstrip()
