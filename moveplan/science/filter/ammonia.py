"""Ammonia: how much animals give off, and how much of it is the un-ionised form that harms them.

Readings of hobby and trade meters are on the NBS scale; the total scale of oceanography lies about 0.14 lower
(:func:`moveplan.science.water.carbonate_constants.ph_nbs_minus_total`).  A constant of one scale used with a
reading of the other is wrong by a third, so the scale is named with each pH and each constant.
"""

from __future__ import annotations

from enum import StrEnum

from moveplan.science.animals.respiration import OXYGEN_G_MOL
from moveplan.science.filter.ammonium import pka_clegg_whitfield
from moveplan.science.numbers import Number
from moveplan.science.ranges import ranged, within
from moveplan.science.water.carbonate_constants import ph_nbs_minus_total

NITROGEN_G_MOL = 14.0067
"""Molar mass of N [g/mol]; IUPAC atomic weights."""
PH_ERROR = 1.3
"""By how much the un-ionised part may be higher than computed, for the error of a pH on the NBS scale in sea
water: 0.05 to 0.1 is 12 to 26 %, a colour kit's 0.2 is 58 %; recalled. [-]"""


class PhScale(StrEnum):
    """Scale on which a pH was measured."""

    NBS = "NBS"
    TOTAL = "total"


@ranged
def ammonia_excretion_mg_n_h(oxygen_use_mg_h: Number, ammonia_quotient: Number) -> Number:
    """Ammonia that animals give off.

    Parameters
    ----------
    oxygen_use_mg_h : float or array
        Oxygen use. [mg/h]
    ammonia_quotient : float or array
        Nitrogen given off per oxygen used, by moles: 0.10 fasted, 0.20 fed. [-]

    Returns
    -------
    float or array
        Total ammonia, as nitrogen. [mg N/h]

    References
    ----------
    Brett and Zala (1975), J. Fish. Res. Board Can. 32, 2479-2486, give 0.110 starved and 0.216 fed.

    Examples
    --------
    >>> round(ammonia_excretion_mg_n_h(5.2163, 0.10), 4)
    0.2283
    """
    return oxygen_use_mg_h / OXYGEN_G_MOL * ammonia_quotient * NITROGEN_G_MOL


@ranged
def pka_nbs(temperature_c: Number, salinity_psu: Number) -> Number:
    """Acid constant of ammonium in sea water, for a pH on the NBS scale.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity of sea water, 19 to 40. [-]

    Returns
    -------
    float or array
        pKa. [-]

    Notes
    -----
    :func:`~moveplan.science.filter.ammonium.pka_clegg_whitfield` and the difference of the
    scales, :func:`~moveplan.science.water.carbonate_constants.ph_nbs_minus_total`.

    Examples
    --------
    >>> round(pka_nbs(25.0, 35.0), 4)
    9.3828
    """
    pka: Number = pka_clegg_whitfield(temperature_c, salinity_psu)
    return pka + ph_nbs_minus_total(temperature_c, salinity_psu)


@ranged
def unionised_fraction(
    ph: Number, temperature_c: Number, salinity_psu: Number, scale: PhScale = PhScale.NBS
) -> Number:
    """Share of total ammonia that is un-ionised.

    Parameters
    ----------
    ph : float or array
        pH on the scale named. [-]
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity of reef water. [-]
    scale : PhScale
        NBS for a meter or kit calibrated with ordinary buffers, total for an oceanographer's value. [-]

    Returns
    -------
    float or array
        Fraction between 0 and 1; the error of the pH is the larger one, :data:`PH_ERROR`. [-]

    Raises
    ------
    OutOfRangeError
        Also for a salinity outside 28 to 40: the constants are for sea water.

    Notes
    -----
    ``1 / (1 + 10^(pKa - pH))`` with :func:`~moveplan.science.filter.ammonium.pka_clegg_whitfield` on the total scale,
    carried to the NBS scale by :func:`pka_nbs`.  The table of Bower and Bidwell
    (1978), which ends at 25 °C, gives 7 to 9 % more.

    References
    ----------
    Clegg and Whitfield (1995), Geochim. Cosmochim. Acta 59, 2403-2421: -2 to 40 °C, salinity 0 to 40.

    Examples
    --------
    >>> round(unionised_fraction(8.2, 25.0, 35.0), 4)
    0.0616
    >>> round(unionised_fraction(8.0, 25.0, 35.0, PhScale.TOTAL), 4)
    0.0537
    """
    within("salinity_psu", salinity_psu, 28.0, 40.0, "reef water")
    pka_of = pka_clegg_whitfield if scale is PhScale.TOTAL else pka_nbs
    pka: Number = pka_of(temperature_c, salinity_psu)
    fraction: Number = 1.0 / (1.0 + 10.0 ** (pka - ph))
    return fraction


@ranged
def total_ammonia_at_limit_mg_n_l(
    unionised_mg_n_l: Number, ph: Number, temperature_c: Number, salinity_psu: Number
) -> Number:
    """Total ammonia at which the un-ionised part reaches a limit, for a pH on the NBS scale.

    Parameters
    ----------
    unionised_mg_n_l : float or array
        Limit of un-ionised ammonia, as nitrogen. [mg N/l]
    ph : float or array
        pH on the NBS scale. [-]
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity of reef water. [-]

    Returns
    -------
    float or array
        Total ammonia, as nitrogen; what a test kit should read at most. [mg N/l]

    References
    ----------
    Clegg and Whitfield (1995), Geochim. Cosmochim. Acta 59, 2403-2421.

    Examples
    --------
    >>> round(total_ammonia_at_limit_mg_n_l(0.02, 8.2, 26.0, 35.0), 3)
    0.303
    """
    return unionised_mg_n_l / unionised_fraction(ph, temperature_c, salinity_psu)
