"""Heat and water lost by an open surface: mixing bins, tanks and tubs without a lid."""

from __future__ import annotations

from moveplan.science.gas import water_vapour_pressure_kpa
from moveplan.science.numbers import Number
from moveplan.science.ranges import ranged, within

LATENT_KJ_KG = 2440.0
"""Heat of evaporation near 25 °C [kJ/kg]; steam tables (recalled)."""
POOL_W_M2_PA = 0.089
"""Heat of evaporation by difference of vapour pressure, no draught [W/(m² Pa)]; ASHRAE Handbook, pools (recalled)."""
DRY_W_M2_K = 8.7
"""Convection and radiation of a surface of water in a still room [W/(m² K)]; recalled."""


@ranged
def evaporation_kg_m2_h(
    temperature_c: Number,
    salinity_psu: Number,
    air_c: Number,
    humidity: Number,
    activity: Number | float = 0.5,
) -> Number:
    """Water that an open surface loses in a room without draught.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]
    air_c : float or array
        Air above it. [°C]
    humidity : float or array
        Relative humidity of the air. [-]
    activity : float or array
        0.5 undisturbed, 1 agitated. [-]

    Returns
    -------
    float or array
        Water lost; below zero where the air's moisture settles on cold water. [kg/(m² h)]

    References
    ----------
    ASHRAE Handbook, HVAC Applications, natatoriums: ``w = 0.089 (p_w - p_a) / Y`` with an activity factor (recalled).

    Examples
    --------
    >>> round(evaporation_kg_m2_h(26.0, 35.0, 20.0, 0.5), 2)
    0.14
    """
    above = humidity * water_vapour_pressure_kpa(air_c, 0.0 * air_c)
    drive = 1000.0 * (water_vapour_pressure_kpa(temperature_c, salinity_psu) - above)
    return 3.6 * activity * POOL_W_M2_PA * drive / LATENT_KJ_KG


@ranged
def open_surface_loss_w_m2(
    temperature_c: Number,
    salinity_psu: Number,
    air_c: Number,
    humidity: Number,
    activity: Number | float = 0.5,
) -> Number:
    """Heat that an open surface loses in a room without draught.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]
    air_c : float or array
        Air above it. [°C]
    humidity : float or array
        Relative humidity of the air. [-]
    activity : float or array
        0.5 undisturbed, 1 agitated. [-]

    Returns
    -------
    float or array
        Heat lost, by evaporation, convection and radiation. [W/m²]

    Notes
    -----
    Evaporation goes on where water and air are equally warm.

    References
    ----------
    ASHRAE Handbook, HVAC Applications, natatoriums (recalled), and 8.7 W/(m² K).

    Examples
    --------
    >>> round(open_surface_loss_w_m2(26.0, 35.0, 20.0, 0.5))
    147
    """
    water = evaporation_kg_m2_h(temperature_c, salinity_psu, air_c, humidity, activity)
    return water * LATENT_KJ_KG / 3.6 + DRY_W_M2_K * (temperature_c - air_c)


@ranged
def open_surface_u_w_m2_k(
    temperature_c: Number,
    salinity_psu: Number,
    air_c: Number,
    humidity: Number,
    activity: Number | float = 0.5,
) -> Number:
    """Heat that an open surface loses per kelvin by which the water is warmer than the air.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature, at least 1 K above the air. [°C]
    salinity_psu : float or array
        Practical salinity. [-]
    air_c : float or array
        Air above it. [°C]
    humidity : float or array
        Relative humidity of the air. [-]
    activity : float or array
        0.5 undisturbed, 1 agitated. [-]

    Returns
    -------
    float or array
        U-value; 20 to 40 for tanks and bins in rooms. [W/(m² K)]

    References
    ----------
    ASHRAE Handbook, HVAC Applications, natatoriums (recalled), and 8.7 W/(m² K).

    Examples
    --------
    >>> round(open_surface_u_w_m2_k(26.0, 35.0, 20.0, 0.5), 1)
    24.5
    """
    warmer = temperature_c - air_c
    within("temperature_c - air_c", warmer, 1.0, 40.0, "K; the loss is not in proportion to less")
    return open_surface_loss_w_m2(temperature_c, salinity_psu, air_c, humidity, activity) / warmer


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
