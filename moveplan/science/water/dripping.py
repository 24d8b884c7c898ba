"""Exchanging the water of animals drop by drop, or by pouring through.

Bail the container down first: on a large volume a drip does nothing in a day.  End on the reading, not on the clock.
"""

from __future__ import annotations

import numpy as np

from moveplan.science.numbers import Number, choose, greater, lesser, log
from moveplan.science.ranges import ranged

_BAILED_L_PER_G, _LEAST_BAILED_L, _MOST_BAILED_L = 0.035, 2.0, 5.0
"""Water to bail animals into by their mass, its least and its most; common practice, no source. [l/g, l]"""


@ranged
def greatest_flow_l_h(
    volume_l: Number,
    salinity_psu: Number,
    new_salinity_psu: Number,
    salinity_slew_per_h: Number,
) -> Number:
    """Flow of new water that keeps the change of salinity below a cap.

    Parameters
    ----------
    volume_l : float or array
        Water in the vessel at the start. [l]
    salinity_psu : float or array
        Salinity in the vessel at the start. [-]
    new_salinity_psu : float or array
        Salinity of the new water. [-]
    salinity_slew_per_h : float or array
        Greatest change of salinity in an hour; by group in :mod:`moveplan.science.animals.acclimation`. [1/h]

    Returns
    -------
    float or array
        Flow; infinite where the salinities are equal. [l/h]

    Notes
    -----
    The salinity moves fastest at the start: ``dS/dt = (q / V) (S_new - S)``, dripping or overflowing.

    Examples
    --------
    >>> greatest_flow_l_h(3.0, 33.0, 35.0, 1.0), greatest_flow_l_h(3.0, 34.5, 35.0, 2.0)
    (1.5, 12.0)
    """
    step: Number = np.abs(new_salinity_psu - salinity_psu)
    flow: Number = salinity_slew_per_h * volume_l / choose(step == 0.0, 1.0, step)
    return choose(step == 0.0, np.inf, flow)


@ranged
def overflow_acclimation_time_h(
    salinity_psu: Number,
    new_salinity_psu: Number,
    accepted_step_psu: Number,
    salinity_slew_per_h: Number,
) -> Number:
    """Shortest time to bring animals to a new salinity in an overflowing vessel.

    Parameters
    ----------
    salinity_psu : float or array
        Salinity in the vessel at the start. [-]
    new_salinity_psu : float or array
        Salinity of the new water. [-]
    accepted_step_psu : float or array
        Difference at which the animals may be released, above 0. [-]
    salinity_slew_per_h : float or array
        Greatest change of salinity in an hour; by group in :mod:`moveplan.science.animals.acclimation`. [1/h]

    Returns
    -------
    float or array
        Time at :func:`greatest_flow_l_h`, held constant; zero where the step is accepted already. [h]

    Notes
    -----
    ``(V / q) ln(step / accepted)`` with ``q = slew V / step``.

    Examples
    --------
    >>> round(overflow_acclimation_time_h(33.0, 35.0, 0.5, 2.0), 3)
    1.386
    """
    step: Number = np.abs(new_salinity_psu - salinity_psu)
    ratio: Number = choose(step > accepted_step_psu, step / accepted_step_psu, 1.0)
    time: Number = step / salinity_slew_per_h * log(ratio)
    return time


@ranged
def bailed_volume_l(biomass_g: Number) -> Number:
    """Water to which a container is bailed down before it is dripped.

    Parameters
    ----------
    biomass_g : float or array
        Mass of all animals in it. [g]

    Returns
    -------
    float or array
        Water that stays, with an air stone in it. [l]

    Notes
    -----
    35 ml for each gram of fish (20 to 50), at least 2 l, at most 5 l: common practice, no source.

    Examples
    --------
    >>> [round(bailed_volume_l(grams), 2) for grams in (20.0, 100.0, 400.0)]
    [2.0, 3.5, 5.0]
    """
    return lesser(greater(_BAILED_L_PER_G * biomass_g, _LEAST_BAILED_L), _MOST_BAILED_L)
