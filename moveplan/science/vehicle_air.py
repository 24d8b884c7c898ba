"""Air in vehicles: parked shut in the sun, in the shade, and on the way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from moveplan.science.limits import KnownAs
from moveplan.science.numbers import Number, exp
from moveplan.science.ranges import ranged
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


@ranged
def parked_air_c(outside_c: Number, duration_h: Number, rise_k: Number, rise_constant_h: Number) -> Number:
    """Air in a closed parked vehicle that began as warm as the air outside.

    Parameters
    ----------
    outside_c : float or array
        Air out of doors. [°C]
    duration_h : float or array
        Time since it was parked. [h]
    rise_k : float or array
        How much the air rises in the end. [K]
    rise_constant_h : float or array
        Time in which 63 % of that has come. [h]

    Returns
    -------
    float or array
        Air in the vehicle. [°C]

    Notes
    -----
    ``T_out + D (1 - exp(-t / tau))``, D 24.4 K and tau 19.5 min fitted to the mean of twelve runs in one car of Null
    (2003) up to 60 min.  After hours in summer sun D is 30 to 40 K (Grundstein et al., 2009).

    References
    ----------
    Null (2003), excessive heat in vehicles, 12 runs; McLaren, Null and Quinn (2005), Pediatrics 116, e109-e112;
    Grundstein et al. (2009), Int. J. Biometeorol.

    Examples
    --------
    >>> round(parked_air_c(25.0, 1.0, 24.4, 19.5 / 60.0), 1)
    48.3
    """
    return outside_c + rise_k * (1.0 - exp(-duration_h / rise_constant_h))
