"""Air in vehicles: parked shut in the sun, in the shade, and on the way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from moveplan.science.limits import KnownAs
from moveplan.science.tables import table


@dataclass(frozen=True, slots=True)
class VehicleAir:
    """How far the air in a vehicle rises above that outside, and how fast.

    Parameters
    ----------
    name, meaning : str
        Key and description. [-]
    rise_k : tuple of float
        Low, likely, high. [K]
    rise_constant_h : float
        Time in which 63 % of it has come. [h]
    source : str
        Published source, or what the choice leans on. [-]
    known_as : KnownAs
        How well it is known. [-]
    """

    name: str
    meaning: str
    rise_k: tuple[float, float, float]
    rise_constant_h: float
    source: str
    known_as: KnownAs


@cache
def vehicle_airs() -> Mapping[str, VehicleAir]:
    """Every kind of vehicle and place by name (data/vehicle_air.toml).

    >>> vehicle_airs()["car-sun"].rise_k[1]
    24.4
    """
    return MappingProxyType({name: _air(name, row) for name, row in table("vehicle_air").items()})


def _air(name: str, row: dict[str, Any]) -> VehicleAir:
    low, likely, high = map(float, row["rise_k"])
    constant = row["constant_min"] / 60.0
    return VehicleAir(
        name, row["meaning"], (low, likely, high), constant, row["source"], KnownAs(row["known_as"])
    )
