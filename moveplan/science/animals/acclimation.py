"""How fast temperature and salinity may change for animals."""

from __future__ import annotations

GREATEST_TEMPERATURE_STEP_K = 3.0
"""Greatest change of temperature in all, within 24 to 28 °C [K]; common practice, no source."""

_DELICATE_GROUPS = frozenset({"urchin", "starfish"})


def salinity_slew_for_group(group: str, rising: bool) -> float:
    """Greatest change of salinity in an hour for a group of animals.

    Parameters
    ----------
    group : str
        Group of :mod:`moveplan.science.animals.livestock`. [-]
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
