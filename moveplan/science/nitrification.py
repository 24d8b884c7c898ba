"""Ammonia from food, and what ripe surfaces remove of it; the growth of a filter is in ``cycling``."""

from __future__ import annotations

from moveplan.science.ammonia import NITROGEN_G_MOL
from moveplan.science.numbers import Number, lesser
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
def removal_g_n_m2_day(
    total_ammonia_mg_n_l: Number, greatest_removal_g_n_m2_day: Number | float = 0.28
) -> Number:
    """Ammonia that a square metre of ripe surface removes at a concentration.

    Parameters
    ----------
    total_ammonia_mg_n_l : float or array
        Total ammonia, as nitrogen. [mg N/l]
    greatest_removal_g_n_m2_day : float or array
        Removal at 1 mg/l and above. [g N/(m² day)]

    Returns
    -------
    float or array
        Removal. [g N/(m² day)]

    References
    ----------
    Greatest rate of Nijhof and Bovendeur (1990), Aquaculture 87, 133-143; proportional below 1 mg/l as
    Malone and Pfeiffer (2006), Aquacult. Eng. 34, 389-402, recommend.

    Examples
    --------
    >>> removal_g_n_m2_day(0.5), removal_g_n_m2_day(3.0)
    (0.14, 0.28)
    """
    removal: Number = greatest_removal_g_n_m2_day * lesser(total_ammonia_mg_n_l, 1.0)
    return removal


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


@ranged
def oxygen_used_mg_l(nitrified_mg_n_l: Number) -> Number:
    """Oxygen that nitrification uses.

    Parameters
    ----------
    nitrified_mg_n_l : float or array
        Nitrogen nitrified. [mg N/l]

    Returns
    -------
    float or array
        Oxygen. [mg/l]

    References
    ----------
    Two moles of O2 a mole of nitrogen: 4.57 g for each g N, US EPA (1993), Nitrogen control manual (recalled).

    Examples
    --------
    >>> round(oxygen_used_mg_l(1.0), 2)
    4.57
    """
    return 2.0 * 31.9988 / NITROGEN_G_MOL * nitrified_mg_n_l


@ranged
def media_oxygen_use_mg_h(
    load_g_n_day: Number, unfed_share: Number | float = 0.4, other_bacteria: Number | float = 0.0
) -> Number:
    """Oxygen that ripe media use in a tub, without their daily food.

    Parameters
    ----------
    load_g_n_day : float or array
        Total ammonia that they are used to remove, as nitrogen. [g N/day]
    unfed_share : float or array
        Share of their use that is left without food: 0.3 to 0.5. [-]
    other_bacteria : float or array
        Use by other bacteria, over that by nitrification: 0.5 to 1 where they are dirty. [-]

    Returns
    -------
    float or array
        Oxygen. [mg/h]

    Notes
    -----
    :func:`oxygen_used_mg_l` for each gram of nitrogen; both shares are assumed, order of magnitude only.  Five
    litres shut over media of 0.414 g N a day are down to 2 mg/l of oxygen within an hour.

    Examples
    --------
    >>> round(media_oxygen_use_mg_h(0.414, 1.0)), round(5.0 * (6.66 - 2.0) / media_oxygen_use_mg_h(0.414), 2)
    (79, 0.74)
    """
    full: Number = 1000.0 * oxygen_used_mg_l(load_g_n_day) / 24.0
    return full * unfed_share * (1.0 + other_bacteria)


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
