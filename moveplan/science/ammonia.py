"""Ammonia: how much animals give off, and how much of it is the un-ionised form that harms them.

Readings of hobby and trade meters are on the NBS scale; the total scale of oceanography lies about 0.14
lower (:func:`moveplan.science.carbonate.ph_nbs_minus_total`).  A constant of one scale used with a reading of
the other is wrong by a third, so the scale is named with each pH and each constant.
"""

from __future__ import annotations

from enum import StrEnum

from moveplan.science.numbers import Number, log10, sqrt
from moveplan.science.ranges import ranged, within
from moveplan.science.respiration import OXYGEN_G_MOL

NITROGEN_G_MOL = 14.0067
"""Molar mass of N [g/mol]; IUPAC atomic weights."""
AMMONIA_G_MOL = 17.0305
"""Molar mass of NH3 [g/mol]; IUPAC atomic weights."""

_KELVIN = 273.15


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
def measured_ammonia_quotient(ammonia_mg_n_h: Number, oxygen_use_mg_h: Number) -> Number:
    """Ammonia quotient of an experiment that measured both.

    Parameters
    ----------
    ammonia_mg_n_h : float or array
        Total ammonia given off, as nitrogen. [mg N/h]
    oxygen_use_mg_h : float or array
        Oxygen used. [mg/h]

    Returns
    -------
    float or array
        Nitrogen per oxygen, by moles. [-]

    References
    ----------
    Definition as in Brett and Zala (1975), J. Fish. Res. Board Can. 32, 2479-2486.

    Examples
    --------
    >>> round(measured_ammonia_quotient(8.2, 170.0), 3)
    0.11
    """
    return (ammonia_mg_n_h / NITROGEN_G_MOL) / (oxygen_use_mg_h / OXYGEN_G_MOL)


@ranged
def ammonia_as_nitrogen_mg_l(ammonia_mg_l: Number) -> Number:
    """Nitrogen in a concentration of NH3.

    Parameters
    ----------
    ammonia_mg_l : float or array
        Ammonia as NH3. [mg/l]

    Returns
    -------
    float or array
        The same as nitrogen. [mg N/l]

    Notes
    -----
    Ratio of molar masses, 0.82245.

    Examples
    --------
    >>> round(ammonia_as_nitrogen_mg_l(0.035), 5)
    0.02879
    """
    return ammonia_mg_l * NITROGEN_G_MOL / AMMONIA_G_MOL


@ranged
def pka_bower_bidwell(temperature_c: Number) -> Number:
    """Acid constant of ammonium in sea water near salinity 34, for a pH on the NBS scale.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        pKa. [-]

    Notes
    -----
    ``9.350 - 0.0324 (t - 25)``, a line through the paper's table with an error below 0.001.

    References
    ----------
    Bower and Bidwell (1978), J. Fish. Res. Board Can. 35, 1012-1016.

    Examples
    --------
    >>> round(pka_bower_bidwell(25.0), 3)
    9.35
    """
    return 9.350 - 0.0324 * (temperature_c - 25.0)


@ranged
def pka_emerson(temperature_c: Number) -> Number:
    """Acid constant of ammonium in fresh water, for a pH on the NBS scale.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]

    Returns
    -------
    float or array
        pKa. [-]

    References
    ----------
    Emerson et al. (1975), J. Fish. Res. Board Can. 32, 2379-2383.

    Examples
    --------
    >>> round(pka_emerson(25.0), 4)
    9.2464
    """
    return 0.09018 + 2729.92 / (temperature_c + _KELVIN)


@ranged
def pka_criteria_1989(temperature_c: Number, salinity_psu: Number) -> Number:
    """Acid constant of ammonium as in the United States criteria for salt water, NBS scale, at 1 atm.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        pKa. [-]

    Notes
    -----
    ``9.245 + 0.116 I + 0.0324 (298 - T) + 0.0415 P / T``, ``I = 19.9273 S / (1000 - 1.005109 S)``.

    References
    ----------
    US EPA (1989), Ambient water quality criteria for ammonia (saltwater), EPA 440/5-88-004.

    Examples
    --------
    >>> round(pka_criteria_1989(25.0, 34.0), 4)
    9.3217
    """
    kelvin = temperature_c + _KELVIN
    ionic = 19.9273 * salinity_psu / (1000.0 - 1.005109 * salinity_psu)
    return 9.245 + 0.116 * ionic + 0.0324 * (298.0 - kelvin) + 0.0415 / kelvin


@ranged
def pka_bell(temperature_c: Number, salinity_psu: Number) -> Number:
    """Acid constant of ammonium in sea water after the corrected fit, on a scale near NBS.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]

    Returns
    -------
    float or array
        pKa. [-]

    References
    ----------
    Bell et al. (2007), Environ. Chem. 4, 183-186, with the correction (2008), Environ. Chem. 5, 258.

    Examples
    --------
    >>> round(pka_bell(25.0, 35.0), 4)
    9.3609
    """
    return 10.0423 - 0.0315536 * temperature_c + 0.003071 * salinity_psu


@ranged
def pka_clegg_whitfield(temperature_c: Number, salinity_psu: Number) -> Number:
    """Acid constant of ammonium in sea water on the total scale, per kilogram of sea water.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature. [°C]
    salinity_psu : float or array
        Practical salinity, up to 40. [-]

    Returns
    -------
    float or array
        pKa. [-]

    Notes
    -----
    Equation 18, molal, then ``-log10(1 - 0.001005 S)`` for the kilogram of sea water.

    References
    ----------
    Clegg and Whitfield (1995), Geochim. Cosmochim. Acta 59, 2403-2421.

    Examples
    --------
    >>> round(pka_clegg_whitfield(25.0, 35.0), 4)
    9.2458
    """
    within("salinity_psu", salinity_psu, 0.0, 40.0, "range of Clegg and Whitfield (1995)")
    return _clegg_whitfield_molal(temperature_c + _KELVIN, salinity_psu) - log10(
        1.0 - 0.001005 * salinity_psu
    )


def _clegg_whitfield_molal(kelvin: Number, salinity: Number) -> Number:
    root_t, root_s = sqrt(kelvin), sqrt(salinity)
    fourth: Number = sqrt(root_s) * (0.04203362 - 11.24742 / kelvin)
    half = root_s * (-13.6416 + 1.176949 * root_t - 0.02860785 * kelvin + 545.4834 / kelvin)
    three_halves = -0.1462507 + 0.0090226468 * root_t - 0.0001471361 * kelvin + 10.5425 / kelvin
    second = 0.004669309 - 0.0001691742 * root_t - 0.5677934 / kelvin
    five_halves = -2.354039e-05 + 0.009698623 / kelvin
    series = fourth + half + salinity * (root_s * three_halves + salinity * (second + root_s * five_halves))
    return 9.244605 - 2729.33 * (1.0 / 298.15 - 1.0 / kelvin) + series


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
        Fraction between 0 and 1; the published models differ by about 10 %. [-]

    Raises
    ------
    OutOfRangeError
        Also for a salinity outside 28 to 40: the constants are for sea water.

    Notes
    -----
    ``1 / (1 + 10^(pKa - pH))`` with :func:`pka_bower_bidwell` on the NBS scale and
    :func:`pka_clegg_whitfield` on the total scale.

    References
    ----------
    Bower and Bidwell (1978), J. Fish. Res. Board Can. 35, 1012-1016; Clegg and Whitfield (1995), Geochim.
    Cosmochim. Acta 59, 2403-2421.

    Examples
    --------
    >>> round(unionised_fraction(8.2, 25.0, 35.0), 4)
    0.0661
    >>> round(unionised_fraction(8.0, 25.0, 35.0, PhScale.TOTAL), 4)
    0.0537
    """
    within("salinity_psu", salinity_psu, 28.0, 40.0, "reef water; Bower and Bidwell (1978) is for 34")
    if scale is PhScale.TOTAL:
        pka = pka_clegg_whitfield(temperature_c, salinity_psu)
    else:
        pka = pka_bower_bidwell(temperature_c)
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
    Bower and Bidwell (1978), J. Fish. Res. Board Can. 35, 1012-1016.

    Examples
    --------
    >>> round(total_ammonia_at_limit_mg_n_l(0.02, 8.2, 26.0, 35.0), 3)
    0.282
    """
    return unionised_mg_n_l / unionised_fraction(ph, temperature_c, salinity_psu)
