"""How fast oxygen and carbon dioxide pass between water and air: still, sloshing, and with an air stone.

A conductance is the volume of water that would be brought into balance with the air in an hour.  None of these
numbers was measured on tubs: take them within a factor of 2 either way, see ``transfer_factor``.
"""

from __future__ import annotations

from moveplan.science.numbers import Number, lesser
from moveplan.science.ranges import ranged

STILL_K600_M_H = 0.0207
"""Transfer velocity at a Schmidt number of 600 without wind [m/h]; Cole and Caraco (1998), a lake (recalled)."""
BUBBLED_VELOCITY_M_H = 0.08
"""Transfer velocity of a surface that bubbles break [m/h]; recalled, low confidence, 0.05 to 0.15."""
SLOSHING_VELOCITY_M_H = 1.0
"""Transfer velocity of a surface that sloshes on the road or is stirred [m/h]; assumed, low confidence."""
LEAST_BUBBLING_L_MIN = 0.1
"""Air flow below which bubbles break only part of the surface [l/min]; assumed, so that no flow is still water."""

_BUBBLE_L_H = 20.0
"""Conductance for each l/min of air at 0.25 m and 26 °C: 4 % of the oxygen taken up in each metre of rise. [l/h]"""
_BUBBLE_DEPTH_M, _BUBBLE_C, _BUBBLE_PER_K = 0.25, 26.0, 1.024
"""Depth and temperature at which that conductance holds, and its factor for each degree more. [m, °C, -]"""
_LITRES_PER_M3 = 1000.0
"""Litres of a cubic metre. [l/m³]"""


@ranged
def oxygen_schmidt_number(temperature_c: Number) -> Number:
    """Schmidt number of oxygen in sea water of salinity 35.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        Viscosity over diffusivity. [-]

    References
    ----------
    Wanninkhof (2014), Limnol. Oceanogr. Methods 12, 351-362.

    Examples
    --------
    >>> round(oxygen_schmidt_number(26.0), 1)
    424.1
    """
    return _polynomial(temperature_c, 1920.4, -135.6, 5.2122, -0.10939, 0.00093777)


@ranged
def carbon_dioxide_schmidt_number(temperature_c: Number) -> Number:
    """Schmidt number of carbon dioxide in sea water of salinity 35.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        Viscosity over diffusivity. [-]

    References
    ----------
    Wanninkhof (2014), Limnol. Oceanogr. Methods 12, 351-362.

    Examples
    --------
    >>> round(carbon_dioxide_schmidt_number(26.0), 1)
    498.2
    """
    return _polynomial(temperature_c, 2116.8, -136.25, 4.7353, -0.092307, 0.0007555)


def _polynomial(x: Number, a: float, b: float, c: float, d: float, e: float) -> Number:
    return a + x * (b + x * (c + x * (d + x * e)))


@ranged
def carbon_dioxide_over_oxygen(temperature_c: Number) -> Number:
    """Conductance for carbon dioxide over that for oxygen.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        Ratio. [-]

    Notes
    -----
    Square root of the Schmidt numbers of :func:`oxygen_schmidt_number` over
    :func:`carbon_dioxide_schmidt_number`.

    Examples
    --------
    >>> round(carbon_dioxide_over_oxygen(26.0), 2)
    0.92
    """
    ratio: Number = (
        oxygen_schmidt_number(temperature_c) / carbon_dioxide_schmidt_number(temperature_c)
    ) ** 0.5
    return ratio


@ranged
def still_velocity_m_h(temperature_c: Number) -> Number:
    """Transfer velocity of oxygen through a still surface.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        Transfer velocity; in a tub 0.01 to 0.04, low confidence. [m/h]

    Notes
    -----
    ``k600 (Sc / 600)^-1/2``.

    References
    ----------
    Cole and Caraco (1998), Limnol. Oceanogr. 43, 647-656: k600 2.07 cm/h without wind (recalled).

    Examples
    --------
    >>> round(still_velocity_m_h(26.0), 4)
    0.0246
    """
    velocity: Number = STILL_K600_M_H * (oxygen_schmidt_number(temperature_c) / 600.0) ** -0.5
    return velocity


@ranged
def still_conductance_l_h(water_area_m2: Number, temperature_c: Number) -> Number:
    """Conductance of a still surface for oxygen.

    Parameters
    ----------
    water_area_m2 : float or array
        Surface of the water. [m²]
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        Conductance; low confidence, factor 2 either way. [l/h]

    Notes
    -----
    :func:`still_velocity_m_h` times the surface.  Still water is layered: fish low in it meet less.

    Examples
    --------
    >>> round(still_conductance_l_h(0.2, 26.0), 2)
    4.92
    """
    return _LITRES_PER_M3 * still_velocity_m_h(temperature_c) * water_area_m2


@ranged
def sloshing_conductance_l_h(water_area_m2: Number) -> Number:
    """Conductance for oxygen of a surface that sloshes on the road, or is stirred.

    Parameters
    ----------
    water_area_m2 : float or array
        Surface of the water. [m²]

    Returns
    -------
    float or array
        Conductance; assumed, low confidence; a van that stands does not slosh. [l/h]

    Notes
    -----
    :data:`SLOSHING_VELOCITY_M_H` times the surface.

    Examples
    --------
    >>> sloshing_conductance_l_h(0.2)
    200.0
    """
    return _LITRES_PER_M3 * SLOSHING_VELOCITY_M_H * water_area_m2


@ranged
def aerated_conductance_l_h(
    pump_flow_l_min: Number, stone_depth_m: Number, water_area_m2: Number, temperature_c: Number
) -> Number:
    """Conductance for oxygen of water with an air stone.

    Parameters
    ----------
    pump_flow_l_min : float or array
        Air through the stone; count half of what is stated on a pump. [l/min]
    stone_depth_m : float or array
        Depth of the stone under the surface. [m]
    water_area_m2 : float or array
        Surface of the water. [m²]
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        Conductance; low confidence, factor 2 either way. [l/h]

    Notes
    -----
    ``20 Q (h / 0.25) 1.024^(t - 26) + 80 A``: 4 % of the oxygen taken up in each metre of rise (2 % from a coarse
    stone, 8 % from a new fine one), and a surface broken by bubbles.  Reasoned, not measured.

    Examples
    --------
    >>> round(aerated_conductance_l_h(1.0, 0.11, 0.2, 26.0), 1)
    24.8
    """
    bubbled = _LITRES_PER_M3 * BUBBLED_VELOCITY_M_H * water_area_m2
    still = still_conductance_l_h(water_area_m2, temperature_c)
    broken = lesser(pump_flow_l_min / LEAST_BUBBLING_L_MIN, 1.0)
    rising = _bubbles_l_h_per_l_min(stone_depth_m, temperature_c) * pump_flow_l_min
    return rising + still + (bubbled - still) * broken


def _bubbles_l_h_per_l_min(stone_depth_m: Number, temperature_c: Number) -> Number:
    warmth: Number = _BUBBLE_PER_K ** (temperature_c - _BUBBLE_C)
    return _BUBBLE_L_H * stone_depth_m / _BUBBLE_DEPTH_M * warmth
