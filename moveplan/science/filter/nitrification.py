"""Ammonia from food, and what ripe surfaces remove of it; the growth of a filter is in ``cycling``."""

from __future__ import annotations

from moveplan.science.filter.ammonia import NITROGEN_G_MOL
from moveplan.science.numbers import Number
from moveplan.science.ranges import check, ranged
from moveplan.science.tables import table

AMMONIUM_G_MOL = 18.0385
"""Molar mass of NH4+ [g/mol]; IUPAC atomic weights."""


@ranged
def ammonia_from_feed_g_n_day(feed_g_day: Number, protein_fraction: Number) -> Number:
    """Ammonia that comes from food.

    Parameters
    ----------
    feed_g_day : float or array
        Dry food given in a day. [g/day]
    protein_fraction : float or array
        Protein in it, by mass. [-]

    Returns
    -------
    float or array
        Total ammonia, as nitrogen. [g N/day]

    Notes
    -----
    ``F PC 0.092``; 0.092 is 0.16 nitrogen in protein times 0.80 x 0.80 x 0.90.

    References
    ----------
    Timmons and Ebeling (2013), Recirculating aquaculture: 2000 g at 32 % give 58.9 g.

    Examples
    --------
    >>> round(ammonia_from_feed_g_n_day(10.0, 0.45), 3)
    0.414
    """
    return feed_g_day * protein_fraction * 0.092


@ranged
def live_rock_removal_mg_n_day(live_rock_kg: Number, ammonium_rate_mg_kg_h: Number | float = 0.141) -> Number:
    """Ammonia that live rock removes at low concentrations: a floor, not a ceiling.

    Parameters
    ----------
    live_rock_kg : float or array
        Mass of live rock. [kg]
    ammonium_rate_mg_kg_h : float or array
        Ammonium removed, as NH4+. [mg/(kg h)]

    Returns
    -------
    float or array
        Total ammonia, as nitrogen. [mg N/day]

    References
    ----------
    Li et al. (2017), Acta Oceanol. Sin. 36(12), 87-94: 0.141 mg/(kg h), taken to be as NH4+.

    Examples
    --------
    >>> round(live_rock_removal_mg_n_day(40.0), 1)
    105.1
    """
    removal: Number = live_rock_kg * ammonium_rate_mg_kg_h * 24.0 * NITROGEN_G_MOL / AMMONIUM_G_MOL
    return removal


def surviving_fraction(duration_h: float, keeping: str) -> tuple[float, float]:
    """Share of their activity that bacteria keep, worst and best.

    Parameters
    ----------
    duration_h : float
        Time out of the running system. [h]
    keeping : str
        ``wet-aerated``, ``damp``, ``sealed`` or ``dried``. [-]

    Returns
    -------
    tuple of float
        Least and greatest share that is left. [-]

    Notes
    -----
    The same share is lost in each span of hours.  Common practice, no source; data/nitrification.toml.

    Examples
    --------
    >>> [round(share, 3) for share in surviving_fraction(24.0, "sealed")]
    [0.25, 0.49]
    """
    check(duration_h=duration_h)
    row = table("nitrification")["keeping"][keeping]
    spans = duration_h / row["hours"]
    best, worst = (float((1.0 - lost) ** spans) for lost in row["lost"])
    return worst, best
