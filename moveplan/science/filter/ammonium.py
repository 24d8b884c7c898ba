"""Acid constant of ammonium by published fits, each on the pH scale that it names."""

from __future__ import annotations

from moveplan.science.numbers import KELVIN, Number, log10, sqrt
from moveplan.science.ranges import ranged, within


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
    return _clegg_whitfield_molal(temperature_c + KELVIN, salinity_psu) - log10(1.0 - 0.001005 * salinity_psu)


def _clegg_whitfield_molal(kelvin: Number, salinity: Number) -> Number:
    root_t, root_s = sqrt(kelvin), sqrt(salinity)
    fourth: Number = sqrt(root_s) * (0.04203362 - 11.24742 / kelvin)
    half = root_s * (-13.6416 + 1.176949 * root_t - 0.02860785 * kelvin + 545.4834 / kelvin)
    three_halves = -0.1462507 + 0.0090226468 * root_t - 0.0001471361 * kelvin + 10.5425 / kelvin
    second = 0.004669309 - 0.0001691742 * root_t - 0.5677934 / kelvin
    five_halves = -2.354039e-05 + 0.009698623 / kelvin
    series = fourth + half + salinity * (root_s * three_halves + salinity * (second + root_s * five_halves))
    return 9.244605 - 2729.33 * (1.0 / 298.15 - 1.0 / kelvin) + series
