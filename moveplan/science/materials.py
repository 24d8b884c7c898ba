"""Densities and conductivities of materials, each with its spread and its source (data/materials.toml)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from moveplan.science.limits import KnownAs
from moveplan.science.tables import table


@dataclass(frozen=True, slots=True)
class Material:
    """One material.

    Parameters
    ----------
    name, meaning : str
        Key and description. [-]
    density_kg_m3 : tuple of float
        Low, likely, high. [kg/m³]
    conductivity_w_m_k : tuple of float or None
        Low, likely, high; None where it is not given. [W/(m K)]
    source : str
        Where the figures come from. [-]
    known_as : KnownAs
        How well they are known. [-]
    """

    name: str
    meaning: str
    density_kg_m3: tuple[float, float, float]
    conductivity_w_m_k: tuple[float, float, float] | None
    source: str
    known_as: KnownAs


@cache
def materials() -> Mapping[str, Material]:
    """Every material by name.

    >>> materials()["float-glass"].density_kg_m3
    (2500.0, 2500.0, 2500.0)
    """
    return MappingProxyType({name: _material(name, row) for name, row in table("materials").items()})


def _material(name: str, row: dict[str, Any]) -> Material:
    conductivity = _three(row["conductivity"]) if "conductivity" in row else None
    density = _three(row["density"])
    return Material(name, row["meaning"], density, conductivity, row["source"], KnownAs(row["known_as"]))


def _three(values: list[float]) -> tuple[float, float, float]:
    low, likely, high = map(float, values)
    return low, likely, high
