"""Mass of animals and the oxygen that they use."""

from __future__ import annotations

from moveplan.science.numbers import KELVIN, Number, exp
from moveplan.science.ranges import ranged

OXYGEN_G_MOL = 31.9988
"""Molar mass of O2 [g/mol]; IUPAC atomic weights."""

_ARRHENIUS_K = 5020.0
"""Activation energy of respiration over the gas constant; Clarke and Johnston (1999). [K]"""
_REFERENCE_C = 26.0
"""Temperature at which uses of oxygen are tabulated. [°C]"""


@ranged
def fish_mass_g(
    length_cm: Number, coefficient_a: Number | float = 0.02, exponent_b: Number | float = 3.0
) -> Number:
    """Mass of a fish from its total length.

    Parameters
    ----------
    length_cm : float or array
        Total length. [cm]
    coefficient_a : float or array
        Body-shape coefficient; 0.02 for a deep-bodied reef fish. [-]
    exponent_b : float or array
        Exponent of length, near 3. [-]

    Returns
    -------
    float or array
        Wet mass. [g]

    Notes
    -----
    ``W = a L^b`` with W in g and L in cm.

    References
    ----------
    Froese (2006), J. Appl. Ichthyol. 22, 241-253: b from 2.5 to 3.5, median 3.03 over 1773 species.
    Froese, Thorson and Reyes (2014), J. Appl. Ichthyol. 30, 78-85 for coefficients by body shape.

    Examples
    --------
    >>> round(fish_mass_g(10.0), 2), round(fish_mass_g(15.0, 0.0112, 3.04), 1)
    (20.0, 42.1)
    """
    mass: Number = coefficient_a * length_cm**exponent_b
    return mass


@ranged
def fish_oxygen_use_mg_h(fish_mass_g: Number, temperature_c: Number) -> Number:
    """Oxygen that a resting bony fish uses.

    Parameters
    ----------
    fish_mass_g : float or array
        Wet mass of one fish. [g]
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        Oxygen use of one fish; trust it within a factor of 1.5 either way. [mg/h]

    Notes
    -----
    ``R = (M / 50)^0.80 exp(15.7 - 5020 / T)`` mmol/h: the paper's line for a fish of 50 g, scaled to other
    masses with the exponent of the same paper.

    References
    ----------
    Clarke and Johnston (1999), J. Anim. Ecol. 68, 893-905.

    Examples
    --------
    >>> round(fish_oxygen_use_mg_h(50.0, 26.0), 2)
    10.86
    """
    mass_factor: Number = (fish_mass_g / 50.0) ** 0.80
    return OXYGEN_G_MOL * mass_factor * exp(15.7 - _ARRHENIUS_K / (temperature_c + KELVIN))


@ranged
def oxygen_use_temperature_factor(temperature_c: Number) -> Number:
    """Oxygen use at a temperature over that at 26 °C.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        Factor. [-]

    References
    ----------
    Arrhenius slope of Clarke and Johnston (1999), J. Anim. Ecol. 68, 893-905; its use for invertebrates is
    common practice, no source.

    Examples
    --------
    >>> round(oxygen_use_temperature_factor(22.0), 3)
    0.797
    """
    return exp(_ARRHENIUS_K * (1.0 / (_REFERENCE_C + KELVIN) - 1.0 / (temperature_c + KELVIN)))


@ranged
def invertebrate_oxygen_use_mg_h(
    animal_mass_g: Number, oxygen_rate_mg_kg_h: Number, temperature_c: Number
) -> Number:
    """Oxygen that an invertebrate, or wet live rock, uses.

    Parameters
    ----------
    animal_mass_g : float or array
        Wet mass, shell included. [g]
    oxygen_rate_mg_kg_h : float or array
        Rate of its group at 26 °C. [mg/(kg h)]
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        Oxygen use. [mg/h]

    Notes
    -----
    Mass times the group's rate times :func:`oxygen_use_temperature_factor`.

    Examples
    --------
    >>> invertebrate_oxygen_use_mg_h(100.0, 40.0, 26.0)
    4.0
    """
    rate = animal_mass_g / 1000.0 * oxygen_rate_mg_kg_h
    return rate * oxygen_use_temperature_factor(temperature_c)


@ranged
def coral_oxygen_use_mg_h(
    tissue_area_cm2: Number, oxygen_rate_umol_cm2_h: Number, temperature_c: Number
) -> Number:
    """Oxygen that a coral uses in the dark.

    Parameters
    ----------
    tissue_area_cm2 : float or array
        Surface covered with tissue. [cm²]
    oxygen_rate_umol_cm2_h : float or array
        Rate at 26 °C. [µmol/(cm² h)]
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        Oxygen use. [mg/h]

    Notes
    -----
    Area times rate times :func:`oxygen_use_temperature_factor`; the rate per area does not depend on the
    size of the colony.

    Examples
    --------
    >>> round(coral_oxygen_use_mg_h(200.0, 0.5, 26.0), 2)
    3.2
    """
    rate = tissue_area_cm2 * oxygen_rate_umol_cm2_h * OXYGEN_G_MOL / 1000.0
    return rate * oxygen_use_temperature_factor(temperature_c)


@ranged
def stressed_oxygen_use_mg_h(oxygen_use_mg_h: Number, stress_multiplier: Number) -> Number:
    """Oxygen use of an animal that is not at rest.

    Parameters
    ----------
    oxygen_use_mg_h : float or array
        Oxygen use at rest. [mg/h]
    stress_multiplier : float or array
        1.5 calm in the dark, 2 ordinary transport, 3 in the first hour after netting; never above 5. [-]

    Returns
    -------
    float or array
        Oxygen use. [mg/h]

    References
    ----------
    Aerobic scope of 3 to 6 after Fry (1971) and Killen et al. (2016), recalled; the values are policy.

    Examples
    --------
    >>> stressed_oxygen_use_mg_h(5.0, 2.0)
    10.0
    """
    return oxygen_use_mg_h * stress_multiplier
