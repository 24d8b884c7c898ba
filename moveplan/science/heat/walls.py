"""Walls of usual containers and the heat they let through in still air, in moving air and packed tight."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from moveplan.science.heat.cooling import u_value_w_m2_k
from moveplan.science.heat.vessels import Surface
from moveplan.science.limits import KnownAs
from moveplan.science.tables import table

FILM_M2_K_W: Mapping[Surface, float] = MappingProxyType(
    {Surface.STILL: 0.13, Surface.MOVING: 0.04, Surface.PACKED: 0.26}
)
"""Resistance outside the wall [m² K/W]: ISO 6946:2017, Table 7, indoors and outdoors (recalled); 0.26 where walls
touch those of other containers is chosen for this tool: two films of still air."""


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall.

    Parameters
    ----------
    name, meaning : str
        Key and description. [-]
    layers : tuple of (float, float)
        Thickness [m] and conductivity [W/(m K)] of each layer. [-]
    source : str
        Where its thicknesses come from. [-]
    known_as : KnownAs
        How well they are known. [-]
    """

    name: str
    meaning: str
    layers: tuple[tuple[float, float], ...]
    source: str
    known_as: KnownAs


@cache
def walls() -> Mapping[str, Wall]:
    """Every wall by name.

    >>> walls()["polystyrene-25"].layers
    ((0.025, 0.035),)
    """
    return MappingProxyType({name: _wall(name, row) for name, row in table("walls").items()})


def _wall(name: str, row: dict[str, Any]) -> Wall:
    layers = tuple((float(thickness), _conductivity(material)) for material, thickness in row["layers"])
    return Wall(name, row["meaning"], layers, row["source"], KnownAs(row["known_as"]))


def _conductivity(material: str) -> float:
    _, likely, _ = table("materials")[material]["conductivity"]
    return float(likely)


def wall_u_w_m2_k(wall: str, surface: Surface) -> float:
    """Heat that a wall lets through in one kind of surroundings.

    Parameters
    ----------
    wall : str
        A name of data/walls.toml. [-]
    surface : Surface
        Still air, moving air, or packed tight among others. [-]

    Returns
    -------
    float
        U-value; the true one is within a factor of 1.3 either way (lid, floor, condensation). [W/(m² K)]

    Notes
    -----
    Bare walls depend mostly on the air, insulated ones on the insulation: wind multiplies the loss of a bare tub by
    2.7 and that of a polystyrene box by 1.1.

    References
    ----------
    ISO 6946:2017, clause 6; conductivities of data/materials.toml.

    Examples
    --------
    >>> [round(wall_u_w_m2_k("tub", surface), 2) for surface in Surface]
    [6.96, 18.64, 3.65]
    """
    return u_value_w_m2_k(walls()[wall].layers, FILM_M2_K_W[surface])
