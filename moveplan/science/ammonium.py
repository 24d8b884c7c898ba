"""Acid constant of ammonium by published fits, each on the pH scale that it names."""

from __future__ import annotations

from moveplan.science.numbers import Number, log10, sqrt
from moveplan.science.ranges import ranged, within

_KELVIN = 273.15


@ranged
def pka_bower_bidwell(temperature_c: Number) -> Number:
    """Acid constant of ammonium in sea water near salinity 34, for a pH on the NBS scale.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature, 10 to 32. [°C]

    Returns
    -------
    float or array
        pKa. [-]

    Notes
    -----
    ``9.350 - 0.0324 (t - 25)``, a line through the paper's table with an error below 0.001.  The table ends at
    25 °C; carried on to 32 °C the un-ionised part stays 7 to 9 % above that of Clegg and Whitfield.

    References
    ----------
    Bower and Bidwell (1978), J. Fish. Res. Board Can. 35, 1012-1016.

    Examples
    --------
    >>> round(pka_bower_bidwell(25.0), 3)
    9.35
    """
    within(
        "temperature_c", temperature_c, 10.0, 32.0, "table of Bower and Bidwell (1978) and a little beyond"
    )
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
