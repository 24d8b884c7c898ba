"""Heat lost by tanks, tubs and boxes: walls, time constants, and the time to a limit."""

from __future__ import annotations

from collections.abc import Sequence

from moveplan.science.numbers import Number, time_towards
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
    19 in a draught; see :mod:`moveplan.science.heat.walls`.

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
    >>> round(cooling_time_h(26.0, 10.0, 22.0, 18.18), 2)
    5.23
    >>> cooling_time_h(26.0, 24.0, 22.0, 10.0)
    inf
    """
    return time_towards(start_c, limit_c, ambient_c, constant_h)


@ranged
def open_bin_conductance_w_k(
    water_area_m2: Number, open_u_value_w_m2_k: Number, wall_area_m2: Number, wall_u_value_w_m2_k: Number
) -> Number:
    """Heat that a bin without a lid loses per kelvin of difference.

    Parameters
    ----------
    water_area_m2 : float or array
        Open surface of the water. [m²]
    open_u_value_w_m2_k : float or array
        U-value of that surface; 25 where nothing better is known. [W/(m² K)]
    wall_area_m2 : float or array
        Walls and floor. [m²]
    wall_u_value_w_m2_k : float or array
        Their U-value. [W/(m² K)]

    Returns
    -------
    float or array
        Conductance. [W/K]

    Notes
    -----
    The two ways out beside each other: ``U_s A_s + U_w A_w``.

    Examples
    --------
    >>> round(open_bin_conductance_w_k(0.4, 25.0, 2.0, 7.35), 1)
    24.7
    """
    return open_u_value_w_m2_k * water_area_m2 + wall_u_value_w_m2_k * wall_area_m2
