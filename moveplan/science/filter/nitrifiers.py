"""How fast the bacteria of a filter grow, by temperature."""

from __future__ import annotations

from moveplan.science.numbers import Number
from moveplan.science.ranges import ranged, within
from moveplan.science.tables import kinetic


@ranged
def ammonia_oxidiser_growth_per_day(temperature_c: Number) -> Number:
    """Greatest growth rate of bacteria that oxidise ammonia in sea water.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature, 10 to 36; trust it from 18 to 32. [°C]

    Returns
    -------
    float or array
        Growth rate. [1/day]

    Notes
    -----
    ``mu_opt (T - Tx)(T - Tn)^2 / ((To - Tn) ((To - Tn)(T - To) - (To - Tx)(To + Tn - 2 T)))``, with least, best
    and greatest temperature Tn, To and Tx from data/nitrification.toml.  It is scaled to US EPA (1975, 1993),
    Nitrogen control manual (recalled), ``0.47 exp(0.098 (t - 15))`` in fresh water, times the marine share 0.40 of
    Nijhof and Bovendeur (1990), Aquaculture 87, 133-143, at 26 °C; beyond that the manual's curve rises without
    end.  Cultures that live in sea water already: no factor for salinities of 25 to 40.

    References
    ----------
    Rosso, Lobry and Flandrois (1993), J. Theor. Biol. 162, 447-463 (recalled): growth by cardinal temperatures.

    Examples
    --------
    >>> [round(ammonia_oxidiser_growth_per_day(at), 3) for at in (20.0, 26.0, 31.0, 34.0)]
    [0.36, 0.552, 0.631, 0.585]
    """
    return _growth("ammonia", temperature_c)


@ranged
def nitrite_oxidiser_growth_per_day(temperature_c: Number) -> Number:
    """Greatest growth rate of bacteria that oxidise nitrite in sea water.

    Parameters
    ----------
    temperature_c : float or array
        Water temperature, 10 to 36; trust it from 18 to 32. [°C]

    Returns
    -------
    float or array
        Growth rate. [1/day]

    Notes
    -----
    As :func:`ammonia_oxidiser_growth_per_day`, with 0.90 of its rate at 26 °C.

    References
    ----------
    Rosso, Lobry and Flandrois (1993), J. Theor. Biol. 162, 447-463 (recalled): growth by cardinal temperatures.

    Examples
    --------
    >>> [round(nitrite_oxidiser_growth_per_day(at), 3) for at in (20.0, 26.0, 30.0, 34.0)]
    [0.325, 0.497, 0.55, 0.455]
    """
    return _growth("nitrite", temperature_c)


def _growth(oxidised: str, temperature_c: Number) -> Number:
    within("temperature_c", temperature_c, 10.0, 36.0, "growth of nitrifiers, measured up to about 36 °C")
    least, best, greatest = (kinetic(f"{end}_{oxidised}") for end in ("least", "best", "greatest"))
    over, span = temperature_c - least, best - least
    shape = span * (temperature_c - best) - (best - greatest) * (best + least - 2.0 * temperature_c)
    return kinetic(f"growth_{oxidised}") * (temperature_c - greatest) * over * over / (span * shape)
