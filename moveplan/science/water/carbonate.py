"""Carbonate chemistry of sea water: pH, carbon dioxide and alkalinity, by a solver of our own.

pH is on the total scale; :func:`~moveplan.science.water.carbonate_constants.ph_nbs_minus_total` leads to the NBS
scale that meters read.
"""

from __future__ import annotations

import numpy as np

from moveplan.science.numbers import Array, Number, greater, sqrt
from moveplan.science.ranges import ranged
from moveplan.science.water.carbonate_constants import Constants, constants
from moveplan.science.water.seawater import density_kg_m3

_LOWEST_PH, _HIGHEST_PH = 2.0, 12.0
"""Between these a pH is looked for, far beyond what animals bear. [-]"""
_MOST_STEPS = 60
"""Most steps of the search for a pH, which ends sooner as it settles. [-]"""
_MMOL, _UATM = 1e-3, 1e-6
"""A millimole and a microatmosphere. [mol, atm]"""


@ranged
def alkalinity_mmol_kg_from_dkh(
    alkalinity_dkh: Number, temperature_c: Number, salinity_psu: Number
) -> Number:
    """Alkalinity by mass of sea water from the degrees of a test kit.

    Parameters
    ----------
    alkalinity_dkh : float or array
        Alkalinity in German degrees of carbonate hardness. [dKH]
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Total alkalinity. [mmol/kg]

    Notes
    -----
    One degree is 10 mg of CaO in a litre: 0.35664 meq/l.

    Examples
    --------
    >>> round(alkalinity_mmol_kg_from_dkh(6.6, 25.0, 35.0), 2)
    2.3
    """
    return alkalinity_dkh * 356.64 / density_kg_m3(temperature_c, salinity_psu)


def alkalinity_of(
    hydrogen: Number, carbon_dioxide: Number, ammonia: Number, known: Constants[Number]
) -> Number:
    """Alkalinity of water whose hydrogen ion and dissolved carbon dioxide are known.

    Parameters
    ----------
    hydrogen : float or array
        Hydrogen ion on the total scale. [mol/kg]
    carbon_dioxide : float or array
        Dissolved carbon dioxide. [mol/kg]
    ammonia : float or array
        Total ammonia. [mol/kg]
    known : Constants
        Constants of the water. [-]

    Returns
    -------
    float or array
        Total alkalinity, the un-ionised ammonia in it. [mol/kg]

    References
    ----------
    Dickson (1981), Deep-Sea Res. 28A, 609-623, definition of alkalinity, minor acids left out.

    Examples
    --------
    >>> round(float(1000 * alkalinity_of(10**-8.042, 1.107e-5, 0.0, constants(26.0, 35.0))), 2)
    2.3
    """
    carbonate = carbon_dioxide * known.k1 / hydrogen * (1.0 + 2.0 * known.k2 / hydrogen)
    borate = known.total_boron * known.boric / (known.boric + hydrogen)
    free_ammonia = ammonia * known.ammonium / (known.ammonium + hydrogen)
    return carbonate + borate + known.water / hydrogen - hydrogen + free_ammonia


def carbon_per_carbon_dioxide(
    hydrogen: Number, known: Constants[Number], gas_ratio: Number | float = 0.0
) -> Number:
    """Inorganic carbon in water, and in a gas above it, for each dissolved carbon dioxide.

    Parameters
    ----------
    hydrogen : float or array
        Hydrogen ion on the total scale. [mol/kg]
    known : Constants
        Constants of the water. [-]
    gas_ratio : float or array
        Carbon dioxide in the gas over that dissolved; 0 without gas. [-]

    Returns
    -------
    float or array
        Total carbon over dissolved carbon dioxide. [-]

    Notes
    -----
    ``1 + g + K1 / h + K1 K2 / h^2``: mass balance of inorganic carbon.

    Examples
    --------
    >>> round(carbon_per_carbon_dioxide(10**-8.042, constants(26.0, 35.0)))
    180
    """
    ratio: Number = 1.0 + gas_ratio + known.k1 / hydrogen * (1.0 + known.k2 / hydrogen)
    return ratio


def hydrogen_at(
    alkalinity: Number, carbon_dioxide: Number, ammonia: Number, known: Constants[Number]
) -> Number:
    """Solve for the hydrogen ion of water whose alkalinity and dissolved carbon dioxide are known.

    Parameters
    ----------
    alkalinity, carbon_dioxide, ammonia : float or array
        Total alkalinity, dissolved carbon dioxide, total ammonia. [mol/kg]
    known : Constants
        Constants of the water. [-]

    Returns
    -------
    float or array
        Hydrogen ion on the total scale. [mol/kg]

    Notes
    -----
    A quadratic for carbonate alkalinity, repeated with what borate, water and ammonia take at its result:
    each round is some ten times nearer.

    References
    ----------
    Dickson, Sabine and Christian (2007), Guide to best practices for ocean CO2 measurements, chapter 2.

    Examples
    --------
    >>> round(float(-np.log10(hydrogen_at(2.3e-3, 1.107e-5, 0.0, constants(26.0, 35.0)))), 2)
    8.04
    """
    first: Number = carbon_dioxide * known.k1
    carbonate = alkalinity
    hydrogen = alkalinity
    for _ in range(_MOST_STEPS):
        previous = hydrogen
        root = sqrt(first * first + 8.0 * carbonate * first * known.k2)
        hydrogen = (first + root) / (2.0 * carbonate)
        others = alkalinity_of(hydrogen, 0.0 * first, ammonia, known)
        carbonate = greater(alkalinity - others, 0.01 * alkalinity)
        if np.all(np.abs(hydrogen - previous) <= 1e-13 * hydrogen):
            break
    return hydrogen


def ph_total_of(
    alkalinity: Array, carbon: Array, ammonia: Array, known: Constants[Array], gas_ratio: Array
) -> Array:
    """Solve for the pH of water, alone or under a gas that its carbon dioxide is shared with.

    Parameters
    ----------
    alkalinity, carbon, ammonia : array
        Total alkalinity, total carbon of water and gas, total ammonia, by mass of water. [mol/kg]
    known : Constants
        Constants of the water. [-]
    gas_ratio : array
        Carbon dioxide in the gas over that dissolved; 0 without gas. [-]

    Returns
    -------
    array
        pH on the total scale. [-]

    Notes
    -----
    Newton's method on the alkalinity as a function of pH, which only rises; a step that would leave the
    bracket is replaced with its middle, so that the search cannot fail.

    References
    ----------
    Dickson, Sabine and Christian (2007), Guide to best practices for ocean CO2 measurements, chapter 2.

    Examples
    --------
    >>> one = np.array([1.0])
    >>> known = constants(26.0 * one, 35.0 * one)
    >>> ph_total_of(2.3e-3 * one, 1.9932e-3 * one, 0.0 * one, known, 0.0 * one).round(3).tolist()
    [8.042]
    """
    low: Array = np.full_like(alkalinity, _LOWEST_PH)
    high: Array = np.full_like(alkalinity, _HIGHEST_PH)
    ph: Array = np.full_like(alkalinity, 7.5)
    for _ in range(_MOST_STEPS):
        excess, slope = _alkalinity_excess(ph, alkalinity, carbon, ammonia, known, gas_ratio)
        low, high = np.where(excess < 0.0, ph, low), np.where(excess < 0.0, high, ph)
        following = ph - excess / slope
        following = np.where((following > low) & (following < high), following, 0.5 * (low + high))
        step, ph = np.abs(following - ph).max(initial=0.0), following
        if step < 1e-11:
            break
    return ph


def _alkalinity_excess(
    ph: Array, alkalinity: Array, carbon: Array, ammonia: Array, known: Constants[Array], gas_ratio: Array
) -> tuple[Array, Array]:
    """Alkalinity at a pH less the one given, and its slope with pH."""
    step = 1e-6
    here, there = (10.0**-value for value in (ph, ph + step))
    below, above = (
        alkalinity_of(
            hydrogen, carbon / carbon_per_carbon_dioxide(hydrogen, known, gas_ratio), ammonia, known
        )
        for hydrogen in (here, there)
    )
    return below - alkalinity, (above - below) / step


@ranged
def inorganic_carbon_mmol_kg(
    alkalinity_mmol_kg: Number, carbon_dioxide_uatm: Number, temperature_c: Number, salinity_psu: Number
) -> Number:
    """Dissolved inorganic carbon of sea water in balance with a partial pressure of carbon dioxide.

    Parameters
    ----------
    alkalinity_mmol_kg : float or array
        Total alkalinity. [mmol/kg]
    carbon_dioxide_uatm : float or array
        Partial pressure of carbon dioxide. [µatm]
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Dissolved inorganic carbon. [mmol/kg]

    Notes
    -----
    The content of water under a gas so large that nothing changes it.

    References
    ----------
    :mod:`moveplan.science.water.carbonate_constants`.

    Examples
    --------
    >>> round(inorganic_carbon_mmol_kg(2.3, 400.0, 26.0, 35.0), 3)
    1.993
    """
    known: Constants[Number] = constants(temperature_c, salinity_psu)
    dissolved: Number = known.k0 * carbon_dioxide_uatm * _UATM
    alkalinity: Number = alkalinity_mmol_kg * _MMOL
    hydrogen = hydrogen_at(alkalinity, dissolved, 0.0 * alkalinity, known)
    return dissolved * carbon_per_carbon_dioxide(hydrogen, known) / _MMOL
