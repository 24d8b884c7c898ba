"""Heat lost by tanks, tubs and boxes: walls, time constants, and the time to a limit."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from moveplan.science.numbers import Number, exp, time_towards
from moveplan.science.ranges import check, ranged


def u_value_w_m2_k(layers: Sequence[tuple[float, float]], surface_resistance_m2_k_w: float = 0.13) -> float:
    """Heat that a wall of layers lets through.

    Parameters
    ----------
    layers : sequence of (float, float)
        Thickness [m] and conductivity [W/(m K)] of each layer; a thickness of zero is refused. [-]
    surface_resistance_m2_k_w : float
        Resistance of the air film outside: 0.13 in still air only, 0.04 in moving air. [m² K/W]

    Returns
    -------
    float
        U-value. [W/(m² K)]

    Raises
    ------
    OutOfRangeError
        For a thickness or a conductivity outside the range of building and packing materials.

    Notes
    -----
    The film on the water side is left out.  Bare walls hang on the air film: a tub of 3 mm has 7 in still air and
    19 in a draught; see :mod:`moveplan.science.walls`.

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
def round_area_m2(diameter_m: Number, depth_m: Number) -> Number:
    """Area through which a filled pail loses heat: bottom, lid and the wall up to the water line.

    Parameters
    ----------
    diameter_m : float or array
        Inner diameter. [m]
    depth_m : float or array
        Depth of water. [m]

    Returns
    -------
    float or array
        Area. [m²]

    Notes
    -----
    ``pi D² / 2 + pi D d``.

    Examples
    --------
    >>> round(round_area_m2(0.28, 0.2436), 3)
    0.337
    """
    return pi * diameter_m * (0.5 * diameter_m + depth_m)


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
        Time constant, from :func:`~moveplan.science.heat.time_constant_h` or :func:`froese_constant_h`. [h]

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
    return time_towards(start_c, limit_c, ambient_c, constant_h)


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
