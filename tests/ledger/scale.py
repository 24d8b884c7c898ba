"""Quantities as a keeper writes them, in metric or in US units."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Units:
    """The units of one plan file."""

    us: bool

    @property
    def name(self) -> str:
        return "us" if self.us else "metric"

    def length(self, cm: float) -> str:
        return f"{cm / 2.54:.2f} in" if self.us else f"{cm:.1f} cm"

    def road(self, km: float) -> str:
        return f"{km / 1.609344:.1f} miles" if self.us else f"{km:.1f} km"

    def mass(self, kg: float) -> str:
        return f"{kg / 0.45359237:.1f} lb" if self.us else f"{kg:.1f} kg"

    def volume(self, litres: float) -> str:
        return f"{litres / 3.785411784:.1f} US gal" if self.us else f"{litres:.1f} l"

    def flow(self, litres_h: float) -> str:
        return f"{litres_h / 3.785411784:.0f} US gal/h" if self.us else f"{litres_h:.0f} l/h"

    def daily(self, litres_day: float) -> str:
        return f"{litres_day / 3.785411784:.0f} US gal/day" if self.us else f"{litres_day:.0f} l/day"

    def warmth(self, celsius: float) -> str:
        return f"{celsius * 1.8 + 32:.1f} F" if self.us else f"{celsius:.1f} C"
