"""Screens for lifting by hand: they say when to look closer, never that a lift is safe.

Not valid for one-handed, seated or confined lifts, nor for loads that slosh; defer to local rules.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from moveplan.science.numbers import Number, choose, greater, lesser
from moveplan.science.ranges import check, ranged, within
from moveplan.science.tables import table


@ranged
def recommended_weight_limit_kg(
    reach_cm: Number,
    hands_height_cm: Number,
    lift_distance_cm: Number,
    twist_degrees: Number,
    frequency_multiplier: Number | float = 1.0,
    coupling_multiplier: Number | float = 1.0,
) -> Number:
    """Recommended weight limit of the revised NIOSH lifting equation.

    Parameters
    ----------
    reach_cm : float or array
        Horizontal distance of the hands from the ankles; nothing may be lifted beyond 63. [cm]
    hands_height_cm : float or array
        Height of the hands at the start of the lift. [cm]
    lift_distance_cm : float or array
        Height through which the load is moved. [cm]
    twist_degrees : float or array
        Angle of twist. [degrees]
    frequency_multiplier : float or array
        From :func:`frequency_multiplier_rare` or the manual's Table 5. [-]
    coupling_multiplier : float or array
        1.00 good grip, 0.95 fair, 0.90 poor. [-]

    Returns
    -------
    float or array
        Mass that nearly all healthy workers could lift under these conditions. [kg]

    Notes
    -----
    ``23 HM VM DM AM FM CM``; ``HM = 25 / H``, ``VM = 1 - 0.003 |V - 75|``, ``DM = 0.82 + 4.5 / D``,
    ``AM = 1 - 0.0032 A``.

    References
    ----------
    Waters, Putz-Anderson and Garg (1994), Applications manual for the revised NIOSH lifting equation,
    DHHS (NIOSH) publication 94-110.

    Examples
    --------
    >>> round(recommended_weight_limit_kg(40.0, 30.0, 60.0, 30.0, 1.0, 0.95), 3)
    9.557
    """
    horizontal: Number = choose(reach_cm > 63.0, 0.0, lesser(25.0 / greater(reach_cm, 25.0), 1.0))
    vertical: Number = 1.0 - 0.003 * np.abs(hands_height_cm - 75.0)
    distance = 0.82 + 4.5 / greater(lift_distance_cm, 25.0)
    asymmetry = 1.0 - 0.0032 * twist_degrees
    posture: Number = horizontal * vertical * distance * asymmetry
    limit: Number = 23.0 * posture * frequency_multiplier * coupling_multiplier
    return limit


@ranged
def lifting_index(mass_kg: Number, weight_limit_kg: Number) -> Number:
    """Mass over recommended limit: above 1 the risk is raised, above 3 it is high.

    Parameters
    ----------
    mass_kg : float or array
        Mass to lift. [kg]
    weight_limit_kg : float or array
        Recommended weight limit. [kg]

    Returns
    -------
    float or array
        Lifting index; infinite where nothing may be lifted. [-]

    References
    ----------
    Waters, Putz-Anderson and Garg (1994), DHHS (NIOSH) publication 94-110.

    Examples
    --------
    >>> round(lifting_index(20.5, 9.557), 2)
    2.15
    """
    divisor: Number = choose(weight_limit_kg > 0.0, weight_limit_kg, 1.0)
    return choose(weight_limit_kg > 0.0, mass_kg / divisor, np.inf)


@ranged
def frequency_multiplier_rare(lifts_per_min: Number) -> Number:
    """Frequency multiplier for at most one hour of lifting with the hands below 75 cm.

    Parameters
    ----------
    lifts_per_min : float or array
        Lifts in a minute, up to 6. [1/min]

    Returns
    -------
    float or array
        Multiplier, between table values on a straight line. [-]

    References
    ----------
    Waters, Putz-Anderson and Garg (1994), DHHS (NIOSH) publication 94-110, Table 5 (recalled).

    Examples
    --------
    >>> frequency_multiplier_rare(1.0), frequency_multiplier_rare(0.1)
    (0.94, 1.0)
    """
    rows = table("lifting")["frequency"]
    result: Number = np.interp(lifts_per_min, rows["lifts_per_min"], rows["multiplier"])
    return result


def guideline_filter_kg(height: str, arms: str = "close", people: str = "men") -> float:
    """Guideline figure of the British filter for lifting and lowering.

    Parameters
    ----------
    height : str
        ``head``, ``shoulder``, ``elbow``, ``knuckle`` or ``low``. [-]
    arms : str
        ``close`` to the body or ``extended``. [-]
    people : str
        Column of the figure, ``men`` or ``women``. [-]

    Returns
    -------
    float
        Mass above which to assess further; a filter, not a limit. [kg]

    References
    ----------
    Health and Safety Executive, Manual handling at work, INDG143, and L23 (recalled).

    Examples
    --------
    >>> guideline_filter_kg("elbow")
    25.0
    """
    figures: dict[str, list[float]] = table("lifting")["filter"][people]
    return float(figures[height][("close", "extended").index(arms)])


def team_capacity_kg(capacities_kg: Sequence[float]) -> float:
    """Give what up to three people can lift together by the British rule.

    Parameters
    ----------
    capacities_kg : sequence of float
        What each could lift alone, one to three people. [kg]

    Returns
    -------
    float
        Two lift two thirds of their sum, three lift half of it. [kg]

    Raises
    ------
    OutOfRangeError
        For nobody, or more than three: no factor is published for larger teams; use mechanical aid.

    References
    ----------
    Health and Safety Executive, Manual handling operations regulations, guidance L23 (recalled).

    Examples
    --------
    >>> round(team_capacity_kg([25.0, 25.0]), 2), team_capacity_kg([25.0] * 3)
    (33.33, 37.5)
    """
    within("people", len(capacities_kg), 1, 3, "HSE L23 gives factors for teams of two and three")
    for capacity_kg in capacities_kg:
        check(weight_limit_kg=capacity_kg)
    return math.fsum(capacities_kg) * (1.0, 2.0 / 3.0, 0.5)[len(capacities_kg) - 1]


def people_to_lift(mass_kg: float, weight_limit_kg: float) -> int | None:
    """Fewest people of equal strength who may lift a mass, or None if it needs mechanical aid.

    Parameters
    ----------
    mass_kg : float
        Mass to lift. [kg]
    weight_limit_kg : float
        What each could lift alone. [kg]

    Returns
    -------
    int or None
        One, two or three; None where even three are not enough: use lifters, straps, a dolly, a crew. [-]

    References
    ----------
    Team factors of the Health and Safety Executive, guidance L23 (recalled).

    Examples
    --------
    >>> people_to_lift(30.0, 25.0), people_to_lift(84.0, 25.0)
    (2, None)
    """
    check(mass_kg=mass_kg, weight_limit_kg=weight_limit_kg)
    teams = (count for count in (1, 2, 3) if team_capacity_kg([weight_limit_kg] * count) >= mass_kg)
    return next(teams, None)


@ranged
def turning_diagonal_m(length_m: Number, width_m: Number) -> Number:
    """Clear space that a flat rectangle needs to be turned on the spot.

    Parameters
    ----------
    length_m : float or array
        Length. [m]
    width_m : float or array
        Width. [m]

    Returns
    -------
    float or array
        Diagonal. [m]

    Notes
    -----
    Pythagoras.

    Examples
    --------
    >>> round(turning_diagonal_m(1.2, 0.5), 2)
    1.3
    """
    diagonal: Number = np.hypot(length_m, width_m)
    return diagonal
