"""Mixing of waters: water changes and merged systems."""

from __future__ import annotations

import numpy as np

from moveplan.science.numbers import Number, choose
from moveplan.science.ranges import ranged, within


@ranged
def change_to_reach(
    kept_concentration: Number, new_concentration: Number, target_concentration: Number
) -> Number:
    """Share of the water to change, in one go, to reach a concentration.

    Parameters
    ----------
    kept_concentration : float or array
        Before, in any unit. [-]
    new_concentration : float or array
        In the new water, in the same unit. [-]
    target_concentration : float or array
        Wanted, in the same unit. [-]

    Returns
    -------
    float or array
        Share of the volume; above 1 where one change cannot reach the target, 0 where none is needed because
        old and new are alike. [-]

    Notes
    -----
    Mass balance ``(C_0 - C_target) / (C_0 - C_new)``.

    Examples
    --------
    >>> change_to_reach(40.0, 0.0, 10.0)
    0.75
    """
    step = kept_concentration - new_concentration
    missing = kept_concentration - target_concentration
    never: Number = choose(missing == 0.0, 0.0, np.inf)
    return choose(step == 0.0, never, missing / choose(step == 0.0, 1.0, step))


@ranged
def changes_needed(
    kept_concentration: Number,
    new_concentration: Number,
    target_concentration: Number,
    changed_fraction: Number,
) -> Number:
    """Count the equal water changes that bring a concentration to a target or past it.

    Parameters
    ----------
    kept_concentration : float or array
        Before, in any unit. [-]
    new_concentration : float or array
        In the new water, below the target and in the same unit. [-]
    target_concentration : float or array
        Wanted, in the same unit. [-]
    changed_fraction : float or array
        Share of the volume changed each time, above 0 and below 1. [-]

    Returns
    -------
    float or array
        Whole number of changes. [-]

    Raises
    ------
    OutOfRangeError
        Where the new water is no better than the target.

    Notes
    -----
    ``ln((C_target - C_new) / (C_0 - C_new)) / ln(1 - x)``, rounded up.

    Examples
    --------
    >>> changes_needed(40.0, 0.0, 10.0, 0.5)
    2.0
    """
    excess = target_concentration - new_concentration
    within("target_concentration", excess, 1e-9, np.inf, "above the new water")
    within("changed_fraction", changed_fraction, 0.01, 0.99, "a share that leaves something to change")
    ratio = (kept_concentration - new_concentration) / (target_concentration - new_concentration)
    steps: Number = np.ceil(np.log(np.maximum(ratio, 1.0)) / -np.log(1.0 - changed_fraction) - 1e-9)
    return steps
