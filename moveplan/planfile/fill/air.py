"""Air outside, in rooms and in load spaces on the moving day, where the keeper does not know it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from moveplan.estimate import Provenance
from moveplan.kept import table_of
from moveplan.plan.places import OutsideAir
from moveplan.planfile.fill.notes import Notes
from moveplan.planfile.fill.usual import Usual
from moveplan.planfile.schema.people import VehicleEntry
from moveplan.planfile.schema.places import OutsideEntry, PlaceEntry
from moveplan.science.heat.outside_air import Band, air_of_the_hour_c, outside_air
from moveplan.units import show_number

_PRACTICE = "common practice, no source"
_SEASON_WHY = "assumed planning value for month and climate, no source; write outside: with your forecast"
_ROOM_LOW_C = 18.0
"""Coldest room where the plan says nothing. Assumed. [°C]"""
_ROOM_LOW_WHY = f"coldest a heated room usually gets ({_PRACTICE})"
_ROOM_SPREAD_K, _ROOM_BELOW_OUTSIDE_K = 4.0, 2.0
"""How much warmer than its coldest a room gets, and how much cooler than outside it stays. Assumed. [K]"""
_ROOM_HIGH_WHY = (
    f"{_ROOM_SPREAD_K:.0f} K above its coldest or {_ROOM_BELOW_OUTSIDE_K:.0f} K below the warmest outside, "
    "whichever is warmer; assumed"
)
_CLOSED_SPACE_K = 3.0
"""How much warmer a closed load space is than the day outside. Assumed. [K]"""
_PLAIN_LOW_WHY = "a load space without heating is as cold as it is outside at ten in the morning; assumed"
_PLAIN_HIGH_WHY = f"a closed load space is {_CLOSED_SPACE_K:.0f} K warmer than the day outside; assumed"
_HEATED_LOW_C = 18.0
"""Least temperature of a heated load space. Assumed. [°C]"""
_HEATED_WHY = (
    f"a heated load space is kept at {_HEATED_LOW_C:.0f} °C at least, and is {_CLOSED_SPACE_K:.0f} K warmer than the "
    "day outside; assumed"
)
_COOLED_HIGH_C = 24.0
"""Greatest temperature of a cooled load space. Assumed. [°C]"""
_COOLED_WHY = (
    f"a cooled load space is kept at {_COOLED_HIGH_C:.0f} °C at most, and else is as a plain one; assumed"
)
_DRIVEN_FROM_H, _SUNRISE_H = 10.0, 7.0
"""When the animals are on the way, and when the day is coldest. Assumed. [h]"""


@dataclass(frozen=True, slots=True)
class _Usually:
    value_c: float
    why: str


@dataclass(frozen=True, slots=True)
class AirRange:
    """Coldest and warmest air [°C]."""

    low_c: float
    high_c: float


@dataclass(frozen=True, slots=True)
class AirGiven:
    """Coldest and warmest air as far as the keeper gave them; an end that is given bounds the other [°C]."""

    low_c: float | None
    high_c: float | None

    def coldest(self, key: str, usually: _Usually, notes: Notes) -> float:
        """Take the coldest as given, else the usual one, but never above the warmest."""
        value_c = usually.value_c if self.high_c is None else min(usually.value_c, self.high_c)
        return notes.quantity(self.low_c, key, Usual(_celsius(value_c), usually.why), "°C")

    def warmest(self, key: str, usually: _Usually, low_c: float, notes: Notes) -> float:
        """Take the warmest as given, else the usual one, but never below the coldest."""
        value_c = max(usually.value_c, low_c)
        return notes.quantity(self.high_c, key, Usual(_celsius(value_c), usually.why), "°C")


def outside_of_season(country: str, day: date) -> AirRange:
    """Assumed air outside by month and climate.

    Parameters
    ----------
    country : str
        ISO 3166 code.
    day : date
        Its month counts.

    >>> outside_of_season("IE", date(2027, 7, 3)) == outside_of_season("NZ", date(2027, 1, 3))
    True
    """
    countries = _table()["countries"]
    band = Band.SOUTH if country in countries["southern"] else Band.NORTH
    air = outside_air(day.month, Band.EQUATOR if country in countries["tropical"] else band)
    return AirRange(air.least_c[0], air.greatest_c[2])


@cache
def _table() -> Mapping[str, Any]:
    return table_of(Path(__file__).parents[1] / "data" / "climates.toml")


def outside(entry: OutsideEntry | None, country: str, days: Iterable[date], notes: Notes) -> OutsideAir:
    """Complete the air outside: the coldest and the warmest of all days on which something is driven."""
    given = AirGiven(entry.low, entry.high) if entry else AirGiven(None, None)
    seasons = [outside_of_season(country, day) for day in days]
    season = AirRange(min(air.low_c for air in seasons), max(air.high_c for air in seasons))
    low_c = given.coldest("outside.low", _Usually(season.low_c, _SEASON_WHY), notes)
    high_c = given.warmest("outside.high", _Usually(season.high_c, _SEASON_WHY), low_c, notes)
    known = Provenance.ASSUMED if None in (given.low_c, given.high_c) else Provenance.GIVEN
    return OutsideAir(low_c, high_c, known)


def room(entry: PlaceEntry, key: str, around: OutsideAir, notes: Notes) -> AirRange:
    """Complete the air of a room."""
    given = AirGiven(entry.room_temperature, entry.room_temperature_high)
    low_c = given.coldest(f"{key}.room-temperature", _Usually(_ROOM_LOW_C, _ROOM_LOW_WHY), notes)
    usual_c = max(low_c + _ROOM_SPREAD_K, around.high_c - _ROOM_BELOW_OUTSIDE_K)
    high_c = given.warmest(f"{key}.room-temperature-high", _Usually(usual_c, _ROOM_HIGH_WHY), low_c, notes)
    return AirRange(low_c, high_c)


def load_space(entry: VehicleEntry, kind: str, key: str, around: OutsideAir, notes: Notes) -> AirRange:
    """Complete the air of a load space.

    Parameters
    ----------
    kind : str
        ``plain``, ``heated`` or ``cooled``.
    """
    given = AirGiven(entry.air_temperature, entry.air_temperature_high)
    warmest_c = around.high_c + _CLOSED_SPACE_K
    low, high = {
        "plain": (_Usually(_morning_c(around), _PLAIN_LOW_WHY), _Usually(warmest_c, _PLAIN_HIGH_WHY)),
        "heated": (_Usually(_HEATED_LOW_C, _HEATED_WHY), _Usually(warmest_c, _HEATED_WHY)),
        "cooled": (
            _Usually(min(_morning_c(around), _COOLED_HIGH_C), _COOLED_WHY),
            _Usually(min(warmest_c, _COOLED_HIGH_C), _COOLED_WHY),
        ),
    }[kind]
    low_c = given.coldest(f"{key}.air-temperature", low, notes)
    return AirRange(low_c, given.warmest(f"{key}.air-temperature-high", high, low_c, notes))


def _morning_c(around: OutsideAir) -> float:
    """Air outside when the first load is driven, to the degree. [°C]."""
    return round(float(air_of_the_hour_c(around.low_c, around.high_c, _DRIVEN_FROM_H, _SUNRISE_H)))


def _celsius(value_c: float) -> str:
    return f"{show_number(value_c)} C"
