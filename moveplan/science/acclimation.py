"""How fast temperature and salinity may change for animals."""

from __future__ import annotations

import numpy as np

from moveplan.science.numbers import Number
from moveplan.science.ranges import check, ranged

TEMPERATURE_SLEW_K_H = 2.0
"""Greatest change of temperature in an hour [K/h]; common practice, no source for reef fish."""
GREATEST_TEMPERATURE_STEP_K = 3.0
"""Greatest change of temperature in all, within 24 to 28 °C [K]; common practice, no source."""
GREATEST_RISE_PSU = 2.0
"""Greatest rise of salinity in all, on one day [-]; common practice: rising costs oxygen."""

_DELICATE_GROUPS = frozenset({"urchin", "starfish"})


@ranged
def temperature_ramp_h(first_c: Number, second_c: Number) -> Number:
    """Shortest time to bring animals from one temperature to another.

    Parameters
    ----------
    first_c : float or array
        Temperature of their water. [°C]
    second_c : float or array
        Temperature of the new water. [°C]

    Returns
    -------
    float or array
        Time. [h]

    Notes
    -----
    2 K in an hour, up or down: common practice, no source; more than 3 K in all belongs into another day.

    Examples
    --------
    >>> temperature_ramp_h(24.0, 26.5)
    1.25
    """
    difference: Number = np.abs(second_c - first_c)
    return difference / TEMPERATURE_SLEW_K_H


def salinity_slew_for_group(group: str, rising: bool) -> float:
    """Greatest change of salinity in an hour for a group of animals.

    Parameters
    ----------
    group : str
        Group of :mod:`moveplan.science.livestock`. [-]
    rising : bool
        Whether the new water is saltier. [-]

    Returns
    -------
    float
        Change in an hour. [1/h]

    Notes
    -----
    Fish 5 down and 1 up, invertebrates 1, urchins and stars 0.5: common practice, no source.  Lowering is mild for
    fish: 12 of 13 kinds lived at 10 for two weeks, Wu and Woo (1983), Aquaculture 32, 175-181; clownfish grew alike
    at 15 to 35, Fishes 9, 30 (2024).

    Examples
    --------
    >>> salinity_slew_for_group("fish", rising=False), salinity_slew_for_group("urchin", rising=False)
    (5.0, 0.5)
    """
    if group == "fish":
        return 1.0 if rising else 5.0
    return 0.5 if group in _DELICATE_GROUPS else 1.0


def salinity_ramp_h(salinity_psu: float, new_salinity_psu: float, group: str) -> float:
    """Shortest time to bring a group of animals from one salinity to another.

    Parameters
    ----------
    salinity_psu : float
        Salinity of their water. [-]
    new_salinity_psu : float
        Salinity of the new water. [-]
    group : str
        Group of :mod:`moveplan.science.livestock`. [-]

    Returns
    -------
    float
        Time at the greatest change in an hour; a rise above 2 in all belongs into another day. [h]

    Notes
    -----
    Difference over :func:`salinity_slew_for_group`.

    Examples
    --------
    >>> salinity_ramp_h(36.0, 33.5, "fish"), salinity_ramp_h(33.5, 35.0, "starfish")
    (0.5, 3.0)
    """
    check(salinity_psu=salinity_psu, new_salinity_psu=new_salinity_psu)
    step = new_salinity_psu - salinity_psu
    return abs(step) / salinity_slew_for_group(group, step > 0.0)
