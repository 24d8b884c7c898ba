"""Salt and water for a volume of sea water, and the trim of a volume that is off: mass balances."""

from __future__ import annotations

from moveplan.science.numbers import Number
from moveplan.science.ranges import ordered, ranged, within
from moveplan.science.water.seawater import absolute_salinity_g_kg, density_kg_m3


@ranged
def seawater_mass_kg(volume_l: Number, temperature_c: Number, salinity_psu: Number) -> Number:
    """Mass of a volume of sea water.

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
        Mass. [kg]

    References
    ----------
    Density from TEOS-10; IOC, SCOR and IAPSO (2010).

    Examples
    --------
    >>> round(seawater_mass_kg(100.0, 25.0, 35.0), 3)
    102.334
    """
    return volume_l * density_kg_m3(temperature_c, salinity_psu) / 1000.0


@ranged
def dissolved_salt_kg(volume_l: Number, temperature_c: Number, salinity_psu: Number) -> Number:
    """Anhydrous salt dissolved in a volume of sea water.

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
        Mass of salt. [kg]

    Notes
    -----
    Mass balance: mass of sea water times Absolute Salinity.

    Examples
    --------
    >>> round(dissolved_salt_kg(100.0, 25.0, 35.0), 4)
    3.5986
    """
    mass = seawater_mass_kg(volume_l, temperature_c, salinity_psu)
    return mass * absolute_salinity_g_kg(salinity_psu) / 1000.0


@ranged
def fresh_water_kg(volume_l: Number, temperature_c: Number, salinity_psu: Number) -> Number:
    """Fresh water in a volume of sea water; near enough its litres too.

    Parameters
    ----------
    volume_l : float or array
        Volume of the sea water. [l]
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Mass of fresh water. [kg]

    Notes
    -----
    Mass balance: mass of sea water less mass of salt.

    Examples
    --------
    >>> round(fresh_water_kg(100.0, 25.0, 35.0), 3)
    98.736
    """
    mass = seawater_mass_kg(volume_l, temperature_c, salinity_psu)
    return mass - dissolved_salt_kg(volume_l, temperature_c, salinity_psu)


@ranged
def dry_mix_kg(salt_kg: Number, mix_water_fraction: Number) -> Number:
    """Bought salt mix that holds a mass of anhydrous salt.

    Parameters
    ----------
    salt_kg : float or array
        Anhydrous salt. [kg]
    mix_water_fraction : float or array
        Share of the mix's mass that is water of crystals and moisture. [-]

    Returns
    -------
    float or array
        Mass of dry mix. [kg]

    References
    ----------
    Kester et al. (1967), Limnol. Oceanogr. 12, 176-179: a recipe weighed with hydrated salts holds 0.149 of
    water (recalled); bought mixes hold less.

    Examples
    --------
    >>> round(dry_mix_kg(3.5986, 0.05), 3)
    3.788
    """
    return salt_kg / (1.0 - mix_water_fraction)


@ranged
def salt_to_raise_kg(
    volume_l: Number, temperature_c: Number, salinity_psu: Number, target_salinity_psu: Number
) -> Number:
    """Anhydrous salt that raises a volume to a higher salinity.

    Parameters
    ----------
    volume_l : float or array
        Volume before. [l]
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity before. [-]
    target_salinity_psu : float or array
        Practical salinity wanted, not below the one before. [-]

    Returns
    -------
    float or array
        Salt to dissolve. [kg]

    Raises
    ------
    OutOfRangeError
        Also where the target is below the salinity before.

    Notes
    -----
    Mass balance ``M (SA2 - SA1) / (1000 - SA2)``.

    Examples
    --------
    >>> round(salt_to_raise_kg(100.0, 25.0, 33.0, 35.0), 4)
    0.2128
    """
    ordered("salinity_psu", salinity_psu, "target_salinity_psu", target_salinity_psu)
    mass = seawater_mass_kg(volume_l, temperature_c, salinity_psu)
    before, after = absolute_salinity_g_kg(salinity_psu), absolute_salinity_g_kg(target_salinity_psu)
    return mass * (after - before) / (1000.0 - after)


@ranged
def water_to_lower_kg(
    volume_l: Number, temperature_c: Number, salinity_psu: Number, target_salinity_psu: Number
) -> Number:
    """Fresh water that lowers a volume to a lower salinity.

    Parameters
    ----------
    volume_l : float or array
        Volume before. [l]
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity before. [-]
    target_salinity_psu : float or array
        Practical salinity wanted, above 0 and not above the one before. [-]

    Returns
    -------
    float or array
        Fresh water to add. [kg]

    Raises
    ------
    OutOfRangeError
        Also where the target is above the salinity before, or below 1.

    Notes
    -----
    Mass balance ``M (SA1 / SA2 - 1)``.

    Examples
    --------
    >>> round(water_to_lower_kg(100.0, 25.0, 36.0, 35.0), 3)
    2.926
    """
    ordered("target_salinity_psu", target_salinity_psu, "salinity_psu", salinity_psu)
    within("target_salinity_psu", target_salinity_psu, 1.0, 42.0, "a mass balance cannot dilute to nothing")
    mass = seawater_mass_kg(volume_l, temperature_c, salinity_psu)
    return mass * (salinity_psu / target_salinity_psu - 1.0)
