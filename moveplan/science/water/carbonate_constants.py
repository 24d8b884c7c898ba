"""Constants of the carbonate system in sea water, and the step between two pH scales.

Constants are on the total pH scale and per kilogram of sea water, as in the Guide to best practices for ocean
CO2 measurements (Dickson, Sabine and Christian, 2007).  Meters read the NBS scale.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Generic

from moveplan.science.filter.ammonium import pka_clegg_whitfield
from moveplan.science.numbers import KELVIN, Number, exp, log, log10, sqrt
from moveplan.science.ranges import ranged, within


@dataclass(frozen=True, slots=True)
class Constants(Generic[Number]):
    """Constants of one water on the total scale.

    Parameters
    ----------
    k0 : float or array
        Solubility of carbon dioxide by partial pressure. [mol/(kg atm)]
    k1, k2 : float or array
        First and second constant of carbonic acid. [mol/kg]
    boric, water, ammonium : float or array
        Constants of boric acid, water (mol²/kg²) and ammonium. [mol/kg]
    total_boron : float or array
        Boron. [mol/kg]
    """

    k0: Number
    k1: Number
    k2: Number
    boric: Number
    water: Number
    ammonium: Number
    total_boron: Number


def constants(temperature_c: Number, salinity_psu: Number) -> Constants[Number]:
    """Constants of the carbonate system in one water.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature, 2 to 35. [°C]
    salinity_psu : float or array
        Practical salinity, 19 to 40. [-]

    Returns
    -------
    Constants
        All constants. [-]

    Raises
    ------
    OutOfRangeError
        Outside the range of the carbonic acid and ammonium fits.

    References
    ----------
    Weiss (1974), Mar. Chem. 2, 203-215 (K0); Lueker, Dickson and Keeling (2000), Mar. Chem. 70, 105-119 (K1,
    K2); Dickson (1990), Deep-Sea Res. 37, 755-766 (boric acid); Millero (1995), Geochim. Cosmochim. Acta 59,
    661-677 (water); Uppström (1974), Deep-Sea Res. 21, 161-162 (boron); Clegg and Whitfield (1995).

    Examples
    --------
    >>> round(-log10(constants(25.0, 35.0).k1), 3)
    5.847
    """
    within("temperature_c", temperature_c, 2.0, 35.0, "range of Lueker et al. (2000)")
    within(
        "salinity_psu", salinity_psu, 19.0, 40.0, "range of Lueker et al. (2000), Clegg and Whitfield (1995)"
    )
    kelvin: Number = temperature_c + KELVIN
    k1, k2 = _carbonic_acid(kelvin, salinity_psu)
    ammonium: Number = 10.0 ** -pka_clegg_whitfield(temperature_c, salinity_psu)
    return Constants(
        k0=carbon_dioxide_by_pressure_mol_kg_atm(temperature_c, salinity_psu),
        k1=k1,
        k2=k2,
        boric=_boric_acid(kelvin, salinity_psu),
        water=_water(kelvin, salinity_psu) / _seawater_over_total(kelvin, salinity_psu),
        ammonium=ammonium,
        total_boron=0.0004157 * salinity_psu / 35.0,
    )


def _by_fugacity(kelvin: Number, salinity: Number) -> Number:
    hundreds = kelvin / 100.0
    salt = salinity * (0.023517 - 0.023656 * hundreds + 0.0047036 * hundreds * hundreds)
    return exp(-60.2409 + 93.4517 / hundreds + 23.3585 * log(hundreds) + salt)


def _fugacity_share(kelvin: Number) -> Number:
    """Fugacity over partial pressure of carbon dioxide at 1 atm, Weiss (1974), equations 6, 9 and 11."""
    pure = -1636.75 + kelvin * (12.0408 + kelvin * (-0.0327957 + 3.16528e-5 * kelvin))
    with_air = 57.7 - 0.118 * kelvin
    return exp((pure + 2.0 * with_air) * 1.01325 / (83.14462 * kelvin))


def _carbonic_acid(kelvin: Number, salinity: Number) -> tuple[Number, Number]:
    squared = salinity * salinity
    pk1 = 3633.86 / kelvin - 61.2172 + 9.6777 * log(kelvin) - 0.011555 * salinity + 0.0001152 * squared
    pk2 = 471.78 / kelvin + 25.929 - 3.16967 * log(kelvin) - 0.01781 * salinity + 0.0001122 * squared
    return exp(-math.log(10.0) * pk1), exp(-math.log(10.0) * pk2)


def _boric_acid(kelvin: Number, salinity: Number) -> Number:
    root = sqrt(salinity)
    top = (
        -8966.9 - 2890.53 * root - 77.942 * salinity + 1.728 * root * salinity - 0.0996 * salinity * salinity
    )
    constant = 148.0248 + 137.1942 * root + 1.62142 * salinity
    slope = -24.4344 - 25.085 * root - 0.2474 * salinity
    return exp(top / kelvin + constant + slope * log(kelvin) + 0.053105 * root * kelvin)


def _water(kelvin: Number, salinity: Number) -> Number:
    """Ion product on the seawater scale."""
    salt = sqrt(salinity) * (-5.977 + 118.67 / kelvin + 1.0495 * log(kelvin)) - 0.01615 * salinity
    return exp(148.9802 - 13847.26 / kelvin - 23.6521 * log(kelvin) + salt)


def _seawater_over_total(kelvin: Number, salinity: Number) -> Number:
    """Hydrogen ion on the seawater scale over that on the total scale."""
    ionic: Number = 19.924 * salinity / (1000.0 - 1.005 * salinity)
    per_kilogram = 1.0 - 0.001005 * salinity
    bisulfate = _bisulfate(kelvin, ionic) * per_kilogram
    fluoride = exp(1590.2 / kelvin - 12.641 + 1.525 * sqrt(ionic)) * per_kilogram
    sulfate_share = 0.14 / 96.062 * salinity / 1.80655 / bisulfate
    fluoride_share = 0.000067 / 18.998 * salinity / 1.80655 / fluoride
    return (1.0 + sulfate_share + fluoride_share) / (1.0 + sulfate_share)


def _bisulfate(kelvin: Number, ionic: Number) -> Number:
    """Bisulfate on the free scale after Dickson (1990), J. Chem. Thermodyn. 22, 113-127, molal."""
    logarithm, root = log(kelvin), sqrt(ionic)
    plain = -4276.1 / kelvin + 141.328 - 23.093 * logarithm
    half = (-13856.0 / kelvin + 324.57 - 47.986 * logarithm) * root
    first = (35474.0 / kelvin - 771.54 + 114.723 * logarithm) * ionic
    return exp(plain + half + first - 2698.0 / kelvin * root * ionic + 1776.0 / kelvin * ionic * ionic)


@ranged
def ph_nbs_minus_total(temperature_c: Number, salinity_psu: Number) -> Number:
    """How much higher a meter on the NBS scale reads than the total scale says.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity of sea water, 19 to 40. [-]

    Returns
    -------
    float or array
        Difference, about 0.14; it varies with the electrode too. [-]

    References
    ----------
    Takahashi et al. (1982), GEOSECS Pacific expedition 3, p. 80 (activity coefficient); Dickson (1990) and
    Dickson and Riley (1979), Mar. Chem. 7, 89-99 (total and seawater scale).

    Examples
    --------
    >>> round(ph_nbs_minus_total(25.0, 35.0), 3)
    0.137
    """
    within("salinity_psu", salinity_psu, 19.0, 40.0, "sea water; Takahashi et al. (1982)")
    kelvin: Number = temperature_c + KELVIN
    squared = salinity_psu * salinity_psu
    activity: Number = 1.2948 - 0.002036 * kelvin + (0.0004607 - 0.000001475 * kelvin) * squared
    return -log10(activity * _seawater_over_total(kelvin, salinity_psu))


@ranged
def carbon_dioxide_by_pressure_mol_kg_atm(temperature_c: Number, salinity_psu: Number) -> Number:
    """Dissolved carbon dioxide for each atmosphere of partial pressure, at 1 atm in all.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        Solubility. [mol/(kg atm)]

    References
    ----------
    Weiss (1974), Mar. Chem. 2, 203-215, equations 9, 11 and 12.

    Examples
    --------
    >>> round(carbon_dioxide_by_pressure_mol_kg_atm(25.0, 35.0), 5)
    0.0283
    """
    kelvin = temperature_c + KELVIN
    return _by_fugacity(kelvin, salinity_psu) * _fugacity_share(kelvin)
