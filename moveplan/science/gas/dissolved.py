"""Oxygen in water and in the gas above it."""

from __future__ import annotations

from inspect import unwrap

import gsw

from moveplan.science.animals.respiration import OXYGEN_G_MOL
from moveplan.science.numbers import KELVIN, Number, exp, greater, log
from moveplan.science.ranges import ranged
from moveplan.science.water.seawater import density_kg_m3

ATMOSPHERE_KPA = 101.325
"""Standard atmosphere [kPa]; 10th General Conference on Weights and Measures (1954)."""
OXYGEN_IN_AIR = 0.20946
"""Oxygen in dry air by volume [-]; US Standard Atmosphere (1976)."""
GAS_CONSTANT_L_ATM = 0.0820574
"""Gas constant [l atm/(mol K)]; CODATA."""
CARBON_DIOXIDE_G_MOL = 44.0095
"""Molar mass of CO2 [g/mol]; IUPAC atomic weights."""
_solubility = unwrap(gsw.O2sol_SP_pt)
"""Without what looks for masked values, as the density of sea water."""


@ranged
def oxygen_solubility_umol_kg(temperature_c: Number, salinity_psu: Number) -> Number:
    """Oxygen that sea water holds in balance with moist air at 101.325 kPa.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Dissolved oxygen at saturation. [µmol/kg]

    References
    ----------
    Garcia and Gordon (1992), Limnol. Oceanogr. 37, 1307-1312, by ``gsw.O2sol_SP_pt``.

    Examples
    --------
    >>> round(oxygen_solubility_umol_kg(25.0, 35.0), 2)
    206.77
    """
    solubility: Number = _solubility(salinity_psu, temperature_c)
    return solubility


@ranged
def water_vapour_pressure_kpa(temperature_c: Number, salinity_psu: Number) -> Number:
    """Vapour pressure over sea water.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Vapour pressure. [kPa]

    References
    ----------
    Weiss and Price (1980), Mar. Chem. 8, 347-359, equation 10.

    Examples
    --------
    >>> round(water_vapour_pressure_kpa(26.0, 35.0), 3)
    3.296
    """
    hundreds = (temperature_c + KELVIN) / 100.0
    return ATMOSPHERE_KPA * exp(
        24.4543 - 67.4509 / hundreds - 4.8489 * log(hundreds) - 0.000544 * salinity_psu
    )


@ranged
def pressure_at_altitude_kpa(altitude_m: Number) -> Number:
    """Air pressure at an altitude in the standard atmosphere.

    Parameters
    ----------
    altitude_m : float or array
        Height above the sea. [m]

    Returns
    -------
    float or array
        Pressure. [kPa]

    References
    ----------
    ISO 2533:1975, Standard atmosphere: ``101.325 (1 - 2.25577e-5 h)^5.25588``.

    Examples
    --------
    >>> round(pressure_at_altitude_kpa(1000.0), 2)
    89.87
    """
    pressure: Number = ATMOSPHERE_KPA * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588
    return pressure


@ranged
def oxygen_saturation_mg_l(
    temperature_c: Number, salinity_psu: Number, pressure_kpa: Number | float = ATMOSPHERE_KPA
) -> Number:
    """Oxygen that sea water holds in balance with moist air at a pressure.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]
    pressure_kpa : float or array
        Air pressure. [kPa]

    Returns
    -------
    float or array
        Dissolved oxygen at saturation. [mg/l]

    Notes
    -----
    Solubility times density, scaled by ``(P - p_w) / (101.325 - p_w)``.

    References
    ----------
    Garcia and Gordon (1992), Limnol. Oceanogr. 37, 1307-1312; pressure as in Benson and Krause (1984),
    Limnol. Oceanogr. 29, 620-632.

    Examples
    --------
    >>> round(oxygen_saturation_mg_l(25.0, 35.0), 3)
    6.771
    """
    vapour = water_vapour_pressure_kpa(temperature_c, salinity_psu)
    solubility = oxygen_solubility_umol_kg(temperature_c, salinity_psu)
    density = density_kg_m3(temperature_c, salinity_psu)
    factor: Number = (pressure_kpa - vapour) / (ATMOSPHERE_KPA - vapour)
    return solubility * density * OXYGEN_G_MOL * factor * 1e-6


@ranged
def oxygen_in_gas_mg_l(
    temperature_c: Number,
    salinity_psu: Number,
    oxygen_fraction: Number | float = OXYGEN_IN_AIR,
    pressure_kpa: Number | float = ATMOSPHERE_KPA,
) -> Number:
    """Oxygen in a moist gas above sea water.

    Parameters
    ----------
    temperature_c : float or array
        Temperature of water and gas. [°C]
    salinity_psu : float or array
        Practical salinity of the water. [-]
    oxygen_fraction : float or array
        Oxygen in the dry gas by volume; 0.20946 in air, 1 in pure oxygen. [-]
    pressure_kpa : float or array
        Pressure. [kPa]

    Returns
    -------
    float or array
        Oxygen. [mg/l of gas]

    Notes
    -----
    Ideal gas less water vapour of Weiss and Price (1980).

    Examples
    --------
    >>> round(oxygen_in_gas_mg_l(26.0, 35.0, 1.0), 1)
    1261.1
    """
    dry: Number = (pressure_kpa - water_vapour_pressure_kpa(temperature_c, salinity_psu)) / ATMOSPHERE_KPA
    moles: Number = oxygen_fraction * dry / (GAS_CONSTANT_L_ATM * (temperature_c + KELVIN))
    return 1000.0 * OXYGEN_G_MOL * moles


@ranged
def oxygen_partition(temperature_c: Number, salinity_psu: Number) -> Number:
    """Oxygen in water over oxygen in the gas that is in balance with it, both by volume.

    Parameters
    ----------
    temperature_c : float or array
        Temperature of water and gas. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Partition coefficient, about 0.025. [-]

    References
    ----------
    Henry's law with Garcia and Gordon (1992), Limnol. Oceanogr. 37, 1307-1312.

    Examples
    --------
    >>> round(oxygen_partition(26.0, 35.0), 4)
    0.0252
    """
    return oxygen_saturation_mg_l(temperature_c, salinity_psu) / oxygen_in_gas_mg_l(
        temperature_c, salinity_psu
    )


@ranged
def usable_oxygen_mg(
    water_l: Number,
    gas_l: Number,
    oxygen_in_gas_mg_l: Number,
    oxygen_in_water_mg_l: Number,
    oxygen_minimum_mg_l: Number,
    partition: Number,
) -> Number:
    """Oxygen that animals can use before the water falls to a minimum.

    Parameters
    ----------
    water_l : float or array
        Water. [l]
    gas_l : float or array
        Gas above it; its volume is taken as constant. [l]
    oxygen_in_gas_mg_l : float or array
        Oxygen in the gas at the start. [mg/l of gas]
    oxygen_in_water_mg_l : float or array
        Dissolved oxygen at the start. [mg/l]
    oxygen_minimum_mg_l : float or array
        Dissolved oxygen at the end. [mg/l]
    partition : float or array
        From :func:`oxygen_partition`. [-]

    Returns
    -------
    float or array
        Oxygen; zero if there is none to spare. [mg]

    Notes
    -----
    ``V_g (C_g - DO_min / K) + V_w (DO_0 - DO_min)``: two phases in balance.  Water that nobody stirs starves
    a fish sooner.

    Examples
    --------
    >>> round(usable_oxygen_mg(2.0, 4.0, 264.15, 6.657, 4.0, 0.0252))
    427
    """
    in_gas = gas_l * (oxygen_in_gas_mg_l - oxygen_minimum_mg_l / partition)
    in_water = water_l * (oxygen_in_water_mg_l - oxygen_minimum_mg_l)
    return greater(in_gas + in_water, 0.0)
