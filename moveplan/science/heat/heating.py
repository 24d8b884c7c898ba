"""Heating and holding of tanks and tubs; losses are in :mod:`moveplan.science.heat.cooling`."""

from __future__ import annotations

from moveplan.science.numbers import Number, time_towards
from moveplan.science.ranges import ordered, ranged
from moveplan.science.water.seawater import density_kg_m3, heat_capacity_j_kg_k

_SECONDS = 3600.0
"""Seconds of an hour. [s/h]"""


@ranged
def heat_capacity_of_volume_wh_k(volume_l: Number, temperature_c: Number, salinity_psu: Number) -> Number:
    """Energy that warms a volume of sea water by one kelvin.

    Parameters
    ----------
    volume_l : float or array
        Volume. [l]
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Heat capacity of the volume. [Wh/K]

    References
    ----------
    Density and heat capacity from TEOS-10; IOC, SCOR and IAPSO (2010).

    Examples
    --------
    >>> round(heat_capacity_of_volume_wh_k(1.0, 25.0, 35.0), 4)
    1.1368
    """
    mass = volume_l * density_kg_m3(temperature_c, salinity_psu) / 1000.0
    return mass * heat_capacity_j_kg_k(temperature_c, salinity_psu) / _SECONDS


@ranged
def time_constant_h(
    volume_l: Number, conductance_w_k: Number, temperature_c: Number, salinity_psu: Number
) -> Number:
    """Time in which the difference to the surroundings falls to 37 %.

    Parameters
    ----------
    volume_l : float or array
        Volume of water. [l]
    conductance_w_k : float or array
        Heat lost per kelvin of difference, U-value times area. [W/K]
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Time constant. [h]

    Notes
    -----
    ``rho V cp / (U A)``; Newton's law of cooling for well-mixed water.

    Examples
    --------
    >>> round(time_constant_h(400.0, 15.0, 25.0, 35.0), 2)
    30.31
    """
    return heat_capacity_of_volume_wh_k(volume_l, temperature_c, salinity_psu) / conductance_w_k


@ranged
def heating_time_with_loss_h(
    start_c: Number,
    end_c: Number,
    power_w: Number,
    conductance_w_k: Number,
    ambient_c: Number,
    constant_h: Number,
) -> Number:
    """Time to warm a volume that loses heat to its surroundings meanwhile.

    Parameters
    ----------
    start_c : float or array
        Temperature before. [°C]
    end_c : float or array
        Temperature after, not below the one before. [°C]
    power_w : float or array
        Heater power. [W]
    conductance_w_k : float or array
        Heat lost per kelvin of difference. [W/K]
    ambient_c : float or array
        Temperature of the surroundings. [°C]
    constant_h : float or array
        Time constant of the volume, from :func:`time_constant_h`. [h]

    Returns
    -------
    float or array
        Time; infinite where the heater cannot reach the end temperature. [h]

    Notes
    -----
    ``t = -tau ln((t_end - t_inf) / (t_start - t_inf))``, ``t_inf = t_ambient + P / UA``.

    Examples
    --------
    >>> tau = time_constant_h(400.0, 15.0, 25.0, 35.0)
    >>> round(heating_time_with_loss_h(20.0, 25.0, 300.0, 15.0, 20.0, tau), 2)
    8.72
    """
    ordered("start_c", start_c, "end_c", end_c)
    final = ambient_c + power_w / conductance_w_k
    return time_towards(start_c, end_c, final, constant_h)
