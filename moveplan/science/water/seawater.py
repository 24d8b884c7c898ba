"""Density, heat capacity and salinity of sea water at the surface, from TEOS-10 by the gsw library."""

from __future__ import annotations

from inspect import unwrap

import gsw

from moveplan.science.numbers import Number, greater, lesser
from moveplan.science.ranges import ranged, within

ABSOLUTE_PER_PRACTICAL = 35.16504 / 35.0
"""Absolute Salinity of standard sea water over its practical salinity [g/kg]; Millero et al. (2008)."""

_INVERSE_STEPS = 8
"""Steps of the search for a salinity; fewer settle it within a float. [-]"""
_INVERSE_SLOPE = 1320.0
"""Practical salinity for a step of 1 in specific gravity, near enough for a start. [-]"""
_density, _capacity = unwrap(gsw.rho_t_exact), unwrap(gsw.cp_t_exact)
_practical = unwrap(gsw.SP_from_C)
"""Without what looks for masked values, of which there are none: looking loads ``numpy.ma``, which is large."""


@ranged
def absolute_salinity_g_kg(salinity_psu: Number) -> Number:
    """Grams of salt in a kilogram of sea water of standard composition.

    Parameters
    ----------
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Absolute Salinity. [g/kg]

    References
    ----------
    IOC, SCOR and IAPSO (2010), The international thermodynamic equation of seawater, section 2.4.

    Examples
    --------
    >>> absolute_salinity_g_kg(35.0)
    35.16504
    """
    return salinity_psu * ABSOLUTE_PER_PRACTICAL


@ranged
def density_kg_m3(temperature_c: Number, salinity_psu: Number) -> Number:
    """Density of sea water, or of fresh water at salinity 0, at the surface.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Density. [kg/m³]

    References
    ----------
    IOC, SCOR and IAPSO (2010), TEOS-10, by ``gsw.rho_t_exact``.

    Examples
    --------
    >>> round(density_kg_m3(25.0, 35.0), 3)
    1023.344
    """
    density: Number = _density(salinity_psu * ABSOLUTE_PER_PRACTICAL, temperature_c, 0.0)
    return density


@ranged
def heat_capacity_j_kg_k(temperature_c: Number, salinity_psu: Number) -> Number:
    """Heat needed to warm a kilogram of sea water by one kelvin.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Isobaric heat capacity. [J/(kg K)]

    References
    ----------
    IOC, SCOR and IAPSO (2010), TEOS-10, by ``gsw.cp_t_exact``.

    Examples
    --------
    >>> round(heat_capacity_j_kg_k(25.0, 35.0), 1)
    3999.0
    """
    capacity: Number = _capacity(salinity_psu * ABSOLUTE_PER_PRACTICAL, temperature_c, 0.0)
    return capacity


@ranged
def specific_gravity(salinity_psu: Number, temperature_c: Number, reference_temperature_c: Number) -> Number:
    """Density of sea water over the density of fresh water at a temperature of its own.

    Parameters
    ----------
    salinity_psu : float or array
        Practical salinity. [-]
    temperature_c : float or array
        Temperature of the sample. [°C]
    reference_temperature_c : float or array
        Temperature of the fresh water that the hydrometer's scale compares with. [°C]

    Returns
    -------
    float or array
        Specific gravity. [-]

    References
    ----------
    Ratio of two TEOS-10 densities; IOC, SCOR and IAPSO (2010).

    Examples
    --------
    >>> round(specific_gravity(35.0, 25.0, 25.0), 5), round(specific_gravity(35.0, 25.0, 4.0), 5)
    (1.02637, 1.02337)
    """
    fresh = density_kg_m3(reference_temperature_c, 0.0 * reference_temperature_c)
    return density_kg_m3(temperature_c, salinity_psu) / fresh


@ranged
def salinity_from_specific_gravity_psu(
    specific_gravity_ratio: Number, temperature_c: Number, reference_temperature_c: Number
) -> Number:
    """Salinity that gives a specific gravity, for a stated pair of temperatures.

    Parameters
    ----------
    specific_gravity_ratio : float or array
        Reading of the hydrometer. [-]
    temperature_c : float or array
        Temperature of the sample. [°C]
    reference_temperature_c : float or array
        Temperature of the fresh water that the hydrometer's scale compares with. [°C]

    Returns
    -------
    float or array
        Practical salinity. [-]

    Raises
    ------
    OutOfRangeError
        Also where no salinity from 0 to 42 gives such a reading at these temperatures.

    Notes
    -----
    Fixed-slope iteration on :func:`specific_gravity`, which is almost linear in salinity; the error shrinks
    more than tenfold in each of eight steps.

    References
    ----------
    IOC, SCOR and IAPSO (2010), TEOS-10.

    Examples
    --------
    >>> round(salinity_from_specific_gravity_psu(1.0250, 25.0, 25.0), 3)
    33.186
    """
    fresh = specific_gravity(0.0 * temperature_c, temperature_c, reference_temperature_c)
    saltiest = specific_gravity(0.0 * temperature_c + 42.0, temperature_c, reference_temperature_c)
    salinity: Number = 42.0 * (specific_gravity_ratio - fresh) / (saltiest - fresh)
    within(
        "salinity_psu", salinity, 0.0, 42.0, "from specific gravity at these temperatures; range of TEOS-10"
    )
    for _ in range(_INVERSE_STEPS):
        reading = specific_gravity(salinity, temperature_c, reference_temperature_c)
        salinity = lesser(greater(salinity + _INVERSE_SLOPE * (specific_gravity_ratio - reading), 0.0), 42.0)
    return salinity


@ranged
def salinity_from_conductivity_psu(conductivity_ms_cm: Number, temperature_c: Number) -> Number:
    """Practical salinity of water at the surface, by its electrical conductivity.

    Parameters
    ----------
    conductivity_ms_cm : float or array
        Conductivity at that temperature; a meter that compensates shows it as of 25 °C. [mS/cm]
    temperature_c : float or array
        Temperature that the conductivity belongs to. [°C]

    Returns
    -------
    float or array
        Practical salinity. [-]

    References
    ----------
    Practical Salinity Scale 1978, UNESCO technical papers in marine science 37 (1981), by ``gsw.SP_from_C``.

    Examples
    --------
    >>> round(salinity_from_conductivity_psu(53.0, 25.0), 2)
    34.95
    """
    salinity: Number = _practical(conductivity_ms_cm, temperature_c, 0.0)
    return salinity
