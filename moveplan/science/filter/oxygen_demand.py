"""Oxygen that live rock and filter media use, and how long the water or air around them lasts.

The rates are orders of magnitude.  Submerged, still rock lasts 1 to 2 h; longer only with an air stone, or drained,
damp and lidded with air, which is right for rock without sponges and corals (common practice, no source).  Die-off
can triple the rate within a day (policy).
"""

from __future__ import annotations

from moveplan.science.gas.dissolved import oxygen_in_gas_mg_l
from moveplan.science.numbers import Number, choose
from moveplan.science.ranges import ranged

ROCK_RATES_MG_KG_H = (1.0, 3.0, 6.0)
"""Oxygen use of live rock, low, likely, high [mg/(kg h) at 26 °C].

41 ± 3 µmol/(g AFDW h) of encrusting reef growth at 20 °C, Collins et al. (2002), ICES J. Mar. Sci. 59, S94; with 0.5
to 2 g AFDW in a kilogram of rock (assumed) and a doubling in 10 K.
"""
OXYGEN_PER_AMMONIA = 4.57
"""Oxygen used in turning ammonia into nitrate [mg/mg N]; stoichiometry, growth left out."""


@ranged
def media_oxygen_use_mg_h(
    ammonia_mg_n_h: Number,
    other_bacteria_share: Number | float = 0.75,
    activity_share: Number | float = 1.0,
) -> Number:
    """Oxygen that ripe filter media use.

    Parameters
    ----------
    ammonia_mg_n_h : float or array
        Ammonia that the media take up in the running tank, as nitrogen. [mg N/h]
    other_bacteria_share : float or array
        Oxygen use of other bacteria over that of nitrification; 0.5 to 1, policy. [-]
    activity_share : float or array
        Use over that in the running tank; 0.3 to 0.5 once nothing is fed, policy. [-]

    Returns
    -------
    float or array
        Oxygen use. [mg/h]

    Notes
    -----
    Two molecules of oxygen for each atom of nitrogen: 4.57 mg/mg.

    Examples
    --------
    >>> round(media_oxygen_use_mg_h(17.25, 0.0), 1)
    78.8
    """
    return OXYGEN_PER_AMMONIA * ammonia_mg_n_h * (1.0 + other_bacteria_share) * activity_share


@ranged
def damp_time_h(
    gas_l: Number,
    oxygen_use_mg_h: Number,
    temperature_c: Number,
    salinity_psu: Number,
    oxygen_left_fraction: Number | float = 0.5,
) -> Number:
    """Time that the air over drained, damp rock or media under a lid lasts.

    Parameters
    ----------
    gas_l : float or array
        Air under the lid. [l]
    oxygen_use_mg_h : float or array
        Oxygen use of the rock or media. [mg/h]
    temperature_c : float or array
        Temperature. [°C]
    salinity_psu : float or array
        Practical salinity. [-]
    oxygen_left_fraction : float or array
        Share of the air's oxygen that is to be left. [-]

    Returns
    -------
    float or array
        Time; infinite where nothing is used. [h]

    Notes
    -----
    Oxygen of the air from :func:`~moveplan.science.gas.dissolved.oxygen_in_gas_mg_l`; the film of water on damp rock is
    thin, so that nothing but the stock counts.

    Examples
    --------
    >>> round(damp_time_h(40.0, 45.0, 26.0, 35.0), 1)
    117.4
    """
    stock = gas_l * oxygen_in_gas_mg_l(temperature_c, salinity_psu) * (1.0 - oxygen_left_fraction)
    used: Number = choose(oxygen_use_mg_h > 0.0, oxygen_use_mg_h, 1.0)
    return choose(oxygen_use_mg_h > 0.0, stock / used, float("inf"))
