"""Heating, holding and cooling of tanks, tubs and boxes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from moveplan.science.numbers import Number, choose, exp, greater, log
from moveplan.science.ranges import check, ordered, ranged
from moveplan.science.seawater import density_kg_m3, heat_capacity_j_kg_k

_SECONDS = 3600.0


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
def heating_energy_kwh(volume_l: Number, start_c: Number, end_c: Number, salinity_psu: Number) -> Number:
    """Energy that warms a volume, losses left out.

    Parameters
    ----------
    volume_l : float or array
        Volume. [l]
    start_c : float or array
        Temperature before. [°C]
    end_c : float or array
        Temperature after, not below the one before. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Energy. [kWh]

    Notes
    -----
    ``rho V cp dT`` with properties at the mean temperature.

    Examples
    --------
    >>> round(heating_energy_kwh(200.0, 20.0, 26.0, 35.0), 3)
    1.365
    """
    ordered("start_c", start_c, "end_c", end_c)
    capacity = heat_capacity_of_volume_wh_k(volume_l, 0.5 * (start_c + end_c), salinity_psu)
    return capacity * (end_c - start_c) / 1000.0


@ranged
def heating_time_h(
    volume_l: Number, start_c: Number, end_c: Number, power_w: Number, salinity_psu: Number
) -> Number:
    """Time to warm a volume, losses left out.

    Parameters
    ----------
    volume_l : float or array
        Volume. [l]
    start_c : float or array
        Temperature before. [°C]
    end_c : float or array
        Temperature after, not below the one before. [°C]
    power_w : float or array
        Heater power. [W]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Time. [h]

    Notes
    -----
    ``rho V cp dT / P`` with properties at the mean temperature.

    Examples
    --------
    >>> round(heating_time_h(400.0, 20.0, 25.0, 300.0, 35.0), 2)
    7.58
    """
    return 1000.0 * heating_energy_kwh(volume_l, start_c, end_c, salinity_psu) / power_w


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
    return _time_towards(start_c, end_c, final, constant_h)


@ranged
def hold_power_w(conductance_w_k: Number, set_c: Number, ambient_c: Number) -> Number:
    """Power that holds a temperature; zero in surroundings that are warmer.

    Parameters
    ----------
    conductance_w_k : float or array
        Heat lost per kelvin of difference. [W/K]
    set_c : float or array
        Temperature to hold. [°C]
    ambient_c : float or array
        Temperature of the surroundings. [°C]

    Returns
    -------
    float or array
        Power. [W]

    Notes
    -----
    ``UA (t_set - t_ambient)``.

    Examples
    --------
    >>> round(hold_power_w(6.82, 26.0, 18.0), 1)
    54.6
    """
    return greater(conductance_w_k * (set_c - ambient_c), 0.0)


def u_value_w_m2_k(layers: Sequence[tuple[float, float]], surface_resistance_m2_k_w: float = 0.13) -> float:
    """Heat that a wall of layers lets through.

    Parameters
    ----------
    layers : sequence of (float, float)
        Thickness [m] and conductivity [W/(m K)] of each layer; a thickness of zero is refused. [-]
    surface_resistance_m2_k_w : float
        Resistance of the air film outside; the film on the water side is left out. [m² K/W]

    Returns
    -------
    float
        U-value. [W/(m² K)]

    Raises
    ------
    OutOfRangeError
        For a thickness or a conductivity outside the range of building and packing materials.

    References
    ----------
    ISO 6946:2017, clause 6 and Table 7 (0.13 for walls in still air, 0.04 outdoors; recalled).

    Examples
    --------
    >>> round(u_value_w_m2_k([(0.025, 0.035)]), 3)
    1.184
    """
    check(surface_resistance_m2_k_w=surface_resistance_m2_k_w)
    resistance = surface_resistance_m2_k_w
    for thickness_m, conductivity_w_m_k in layers:
        check(thickness_m=thickness_m, conductivity_w_m_k=conductivity_w_m_k)
        resistance += thickness_m / conductivity_w_m_k
    return 1.0 / resistance


@ranged
def wetted_area_m2(length_m: Number, width_m: Number, depth_m: Number) -> Number:
    """Area through which a filled box loses heat: bottom, lid and the walls up to the water line.

    Parameters
    ----------
    length_m : float or array
        Inner length. [m]
    width_m : float or array
        Inner width. [m]
    depth_m : float or array
        Depth of water. [m]

    Returns
    -------
    float or array
        Area. [m²]

    References
    ----------
    Surface as in Froese (1998), Aquaculture 159, 283-292.

    Examples
    --------
    >>> round(wetted_area_m2(0.6, 0.4, 0.25), 2)
    0.98
    """
    return 2.0 * length_m * width_m + 2.0 * (length_m + width_m) * depth_m


@ranged
def cooled_temperature_c(
    start_c: Number, ambient_c: Number, duration_h: Number, constant_h: Number
) -> Number:
    """Temperature of a closed container after a time in other surroundings, colder or warmer.

    Parameters
    ----------
    start_c : float or array
        Temperature at the start. [°C]
    ambient_c : float or array
        Temperature of the surroundings. [°C]
    duration_h : float or array
        Time. [h]
    constant_h : float or array
        Time constant, from :func:`time_constant_h` or :func:`froese_constant_h`. [h]

    Returns
    -------
    float or array
        Temperature. [°C]

    References
    ----------
    Newton's law of cooling as in Froese (1998), Aquaculture 159, 283-292.

    Examples
    --------
    >>> round(cooled_temperature_c(26.0, 10.0, 12.0, froese_constant_h(40.0, 40.0, 8.0)), 2)
    18.27
    """
    return ambient_c + (start_c - ambient_c) * exp(-duration_h / constant_h)


@ranged
def cooling_time_h(start_c: Number, ambient_c: Number, limit_c: Number, constant_h: Number) -> Number:
    """Time until a closed container reaches a limit, on the way down or up.

    Parameters
    ----------
    start_c : float or array
        Temperature at the start. [°C]
    ambient_c : float or array
        Temperature of the surroundings. [°C]
    limit_c : float or array
        Temperature that must not be passed. [°C]
    constant_h : float or array
        Time constant. [h]

    Returns
    -------
    float or array
        Time; infinite where the limit is never reached. [h]

    References
    ----------
    Newton's law of cooling as in Froese (1998), Aquaculture 159, 283-292.

    Examples
    --------
    >>> round(cooling_time_h(26.0, 10.0, 22.0, froese_constant_h(40.0, 40.0, 8.0)), 3)
    5.231
    >>> cooling_time_h(26.0, 24.0, 22.0, 10.0)
    inf
    """
    return _time_towards(start_c, limit_c, ambient_c, constant_h)


def _time_towards(start: Number, end: Number, final: Number, constant_h: Number) -> Number:
    """Time from start to end on an exponential way to final; infinite if end does not lie on the way."""
    on_the_way = ((end - start) * (final - end) > 0.0) | (end == start)
    share = choose(
        on_the_way & (start != final), (end - final) / choose(start == final, 1.0, start - final), 1.0
    )
    return choose(on_the_way, -constant_h * log(share), np.inf)


@ranged
def froese_constant_h(
    length_cm: Number, width_cm: Number, volume_l: Number, insulation_cm_h: Number | float = 0.11
) -> Number:
    """Time constant of a polystyrene fish box from its measured insulation.

    Parameters
    ----------
    length_cm : float or array
        Inner length of the box. [cm]
    width_cm : float or array
        Inner width of the box. [cm]
    volume_l : float or array
        Water in the box. [l]
    insulation_cm_h : float or array
        Insulation property of the box; 0.11 for a standard box with walls of 2.5 cm. [cm/h]

    Returns
    -------
    float or array
        Time constant. [h]

    Notes
    -----
    ``W_v / (I W_s)`` with ``W_s = 2 L W + 2 W_v / W + 2 W_v / L``.  That time is in hours is inferred: 0.11
    then equals 1.25 W/(m² K), and 25 mm of polystyrene have 1.18.

    References
    ----------
    Froese (1998), Aquaculture 159, 283-292, insulating properties of styrofoam boxes.

    Examples
    --------
    >>> round(froese_constant_h(40.0, 40.0, 8.0), 2)
    18.18
    """
    water_ml = 1000.0 * volume_l
    surface = 2.0 * length_cm * width_cm + 2.0 * water_ml / width_cm + 2.0 * water_ml / length_cm
    return water_ml / (insulation_cm_h * surface)


@ranged
def mixed_temperature_c(
    first_volume_l: Number, first_c: Number, second_volume_l: Number, second_c: Number
) -> Number:
    """Temperature of two waters of like salinity poured together.

    Parameters
    ----------
    first_volume_l : float or array
        Volume of one water. [l]
    first_c : float or array
        Its temperature. [°C]
    second_volume_l : float or array
        Volume of the other. [l]
    second_c : float or array
        Its temperature. [°C]

    Returns
    -------
    float or array
        Temperature of the mixture. [°C]

    Notes
    -----
    Heat balance with equal volumetric heat capacities; they differ by less than 0.3 % in reef water.

    Examples
    --------
    >>> round(mixed_temperature_c(30.0, 26.0, 70.0, 20.0), 1)
    21.8
    """
    heat = first_volume_l * first_c + second_volume_l * second_c
    return heat / (first_volume_l + second_volume_l)
