"""Heat and water lost by an open surface: mixing bins, tanks and tubs without a lid."""

from __future__ import annotations

from moveplan.science.numbers import Number
from moveplan.science.ranges import ranged


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
