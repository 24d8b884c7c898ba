"""Containers as heat sees them, and the stretches of the way that they go through together."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike

from moveplan.science.heat.heating import heat_capacity_of_volume_wh_k
from moveplan.science.numbers import Array
from moveplan.science.ranges import check


class Surface(StrEnum):
    """What surrounds the walls of a container."""

    STILL = "still"
    MOVING = "moving"
    PACKED = "packed"


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of the way: the same for all containers, or in arrays, an element a container.

    Parameters
    ----------
    duration_h : float or array
        Time; the last segment of a path goes on for ever where that is asked for. [h]
    air_c : float or array
        Air at its beginning. [°C]
    surface : Surface
        Still air, moving air, or packed tight among others. [-]
    rise_k : float
        How much the air rises in the end, below zero where it falls. [K]
    rise_constant_h : float
        Time in which 63 % of that rise has come. [h]
    heated : bool
        Whether heaters have power. [-]
    """

    duration_h: float | Array
    air_c: float | Array
    surface: Surface = Surface.STILL
    rise_k: float = 0.0
    rise_constant_h: float = 1.0
    heated: bool = False

    def __post_init__(self) -> None:
        check(
            duration_h=self.duration_h,
            ambient_c=self.air_c,
            rise_k=self.rise_k,
            rise_constant_h=self.rise_constant_h,
        )


@dataclass(frozen=True, slots=True)
class Vessels:
    """Containers, one element of each array a container; made by :func:`vessels_of`.

    Parameters
    ----------
    capacity_wh_k : array
        Heat that warms the water by one kelvin. [Wh/K]
    conductance_w_k : dict of Surface to array
        Heat lost per kelvin of difference in each surrounding. [W/K]
    heater_w : array
        Power of the heater; 0 for none. [W]
    set_c : array
        Temperature that its thermostat holds. [°C]
    """

    capacity_wh_k: Array
    conductance_w_k: dict[Surface, Array]
    heater_w: Array
    set_c: Array


def vessels_of(
    water_l: ArrayLike,
    still_w_k: ArrayLike,
    moving_w_k: ArrayLike,
    packed_w_k: ArrayLike,
    heater_w: ArrayLike = 0.0,
    set_c: ArrayLike = 25.0,
    temperature_c: ArrayLike = 25.0,
    salinity_psu: ArrayLike = 35.0,
) -> Vessels:
    """Containers from the water really in them and the heat that their walls let through.

    Parameters
    ----------
    water_l : float or array
        Water. [l]
    still_w_k, moving_w_k, packed_w_k : float or array
        U-value times area in still air, in moving air, and packed tight among others. [W/K]
    heater_w : float or array
        Power of the heater; 0 for none. [W]
    set_c : float or array
        Temperature that its thermostat holds. [°C]
    temperature_c : float or array
        Temperature for density and heat capacity, which hardly depend on it. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    Vessels
        All broadcast to one length. [-]

    References
    ----------
    Density and heat capacity from TEOS-10; IOC, SCOR and IAPSO (2010).

    Examples
    --------
    >>> float(vessels_of(30.0, 4.71, 12.6, 2.47).capacity_wh_k[0].round(2))
    34.1
    """
    check(
        water_l=water_l,
        still_w_k=still_w_k,
        moving_w_k=moving_w_k,
        packed_w_k=packed_w_k,
        heater_w=heater_w,
        set_c=set_c,
    )
    litres = np.atleast_1d(np.asarray(water_l, dtype=np.float64))
    capacity: Array = heat_capacity_of_volume_wh_k(
        litres, np.asarray(temperature_c, dtype=np.float64), np.asarray(salinity_psu, dtype=np.float64)
    )
    columns = (capacity, still_w_k, moving_w_k, packed_w_k, heater_w, set_c)
    whole, still, moving, packed, power, held = np.broadcast_arrays(
        *(np.asarray(column, dtype=np.float64) for column in columns)
    )
    surfaces = {Surface.STILL: still, Surface.MOVING: moving, Surface.PACKED: packed}
    return Vessels(whole, surfaces, power, held)
