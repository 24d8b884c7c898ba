"""Screens for lifting by hand: they say when to look closer, never that a lift is safe.

Not valid for one-handed, seated or confined lifts, nor for loads that slosh; defer to local rules.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from moveplan.science.numbers import Number
from moveplan.science.ranges import check, ranged, within
from moveplan.science.tables import table

TEAM = (1.0, 2.0 / 3.0, 0.5, 0.5)
"""Share of the sum of their capabilities that one, two, three and four people lift together.

The first three: Health and Safety Executive, L23. Four: no factor is published, that of three is taken; more than four
seldom get a hold. [-]
"""
ON_STAIRS = 2
"""Carriers who bear a load on stairs, however many hold it: the lower one most of it, a third guides; HSE L23. [-]"""
STAIRS = 0.8
"""Share that is left on stairs; assumed. [-]"""
NEAR_M = 10.0
"""Way that may be carried without a rest before the figures shrink; HSE L23, recalled. [m]"""
FAR = 0.8
"""Share that is left beyond it, where nobody sets the load down; assumed. [-]"""
BANDS = ("green", "amber", "red", "beyond")
"""Bands of a team's load: low, medium, high and very high risk."""
_BETWEEN = {"handles": ("low", "knuckle")}
"""Zones on a boundary: handles of a tub on the floor, 0.3 to 0.4 m up, are between two."""


def guideline_filter_kg(height: str, arms: str = "close", people: str = "men") -> float:
    """Guideline figure of the British filter for lifting and lowering.

    Parameters
    ----------
    height : str
        ``head``, ``shoulder``, ``elbow`` (waist to elbow), ``knuckle`` (knuckle to waist), ``low``, or ``handles``:
        of a tub on the floor, an in-between value of the last two. [-]
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
    >>> guideline_filter_kg("elbow"), guideline_filter_kg("handles")
    (25.0, 15.0)
    """
    figures: dict[str, list[float]] = table("lifting")["filter"][people]
    column = ("close", "extended").index(arms)
    zones = _BETWEEN.get(height, (height,))
    return math.fsum(figures[zone][column] for zone in zones) / len(zones)


def team_limit_kg(
    people: Sequence[str],
    zones: Sequence[str],
    *,
    arms: str = "close",
    stairs: bool = False,
    distance_m: float = 0.0,
    lifts_per_h: float = 30.0,
    twist_degrees: float = 0.0,
) -> float:
    """Give what a team may lift or carry before somebody has to look closer.

    Parameters
    ----------
    people : sequence of str
        Column of the filter for each, ``men`` or ``women``; one to four. [-]
    zones : sequence of str
        Heights that the hands pass, as in :func:`guideline_filter_kg`; the worst counts. [-]
    arms : str
        ``close`` to the body or ``extended``. [-]
    stairs : bool
        Whether it goes over stairs: two carriers count at most, the strongest. [-]
    distance_m : float
        Way without a rest. [m]
    lifts_per_h : float
        How often. [1/h]
    twist_degrees : float
        Angle of twist, up to 90. [degrees]

    Returns
    -------
    float
        Mass above which hands alone are not enough. [kg]

    Raises
    ------
    OutOfRangeError
        For nobody or more than four people, a twist beyond 90 degrees, more than 480 lifts an hour.

    References
    ----------
    Health and Safety Executive, Manual handling operations regulations, guidance L23, and INDG143 (recalled).

    Examples
    --------
    >>> round(team_limit_kg(["men", "men"], ["handles"]), 1)
    20.0
    >>> round(team_limit_kg(["men", "men", "men"], ["knuckle"], stairs=True), 1)
    21.3
    """
    within("people", len(people), 1, len(TEAM), "HSE L23: more than four seldom works")
    check(distance_m=distance_m, lifts_per_h=lifts_per_h, twist_degrees=twist_degrees)
    each = sorted(
        (min(guideline_filter_kg(zone, arms, one) for zone in zones) for one in people), reverse=True
    )
    bearers = each[:ON_STAIRS] if stairs else each
    limit = TEAM[len(bearers) - 1] * math.fsum(bearers) * (STAIRS if stairs else 1.0)
    far = FAR if distance_m > NEAR_M else 1.0
    figures = table("lifting")
    often = float(np.interp(lifts_per_h, figures["often"]["lifts_per_h"], figures["often"]["factor"]))
    twist = float(np.interp(twist_degrees, figures["twist"]["degrees"], figures["twist"]["factor"]))
    return limit * far * often * twist


def team_band(people: int, mass_kg: float) -> str:
    """Tell in which band of risk a load is for a team.

    Parameters
    ----------
    people : int
        Two to four. [-]
    mass_kg : float
        Load. [kg]

    Returns
    -------
    str
        ``green``, ``amber``, ``red``, or ``beyond`` what any team of so many should lift. [-]

    References
    ----------
    Health and Safety Executive, Manual handling assessment charts, INDG383, team handling (recalled, low confidence).

    Examples
    --------
    >>> team_band(2, 36.0), team_band(4, 100.0), team_band(3, 126.0)
    ('amber', 'amber', 'beyond')
    """
    return BANDS[sum(mass_kg > end for end in band_ends_kg(people))]


def band_ends_kg(people: int) -> tuple[float, float, float]:
    """Give where the green, the amber and the red band of a team end.

    Parameters
    ----------
    people : int
        Two to four. [-]

    Returns
    -------
    tuple of float
        Heaviest load of each band. [kg]

    References
    ----------
    Health and Safety Executive, Manual handling assessment charts, INDG383, team handling (recalled, low confidence).

    Examples
    --------
    >>> band_ends_kg(2)
    (35.0, 50.0, 85.0)
    """
    within("people", people, 2, len(TEAM), "HSE INDG383 has teams of two, three, and four or more")
    green, amber, red = table("lifting")["team"][str(people)]
    return float(green), float(amber), float(red)


@ranged
def carry_cycle_s(
    distance_m: Number,
    stair_steps: Number,
    loaded_m_s: Number,
    empty_m_s: Number,
    step_loaded_s: Number,
    step_empty_s: Number,
    handling_s: Number,
) -> Number:
    """Time to carry one thing from a room to a vehicle, or back, and to return with empty hands.

    Parameters
    ----------
    distance_m : float or array
        One way on the level. [m]
    stair_steps : float or array
        One way. [-]
    loaded_m_s, empty_m_s : float or array
        Pace with the load and without. [m/s]
    step_loaded_s, step_empty_s : float or array
        Time for a step with the load and without. [s]
    handling_s : float or array
        Taking hold and setting down. [s]

    Returns
    -------
    float or array
        Time, without a rest allowance. [s]

    Notes
    -----
    Way over pace there and back, steps there and back, and handling. ISO 11228-1:2021 holds for 0.5 to 1.0 m/s.

    Examples
    --------
    >>> round(carry_cycle_s(25.0, 14.0, 0.7, 1.2, 1.2, 0.55, 40.0), 1)
    121.0
    """
    walking = distance_m / loaded_m_s + distance_m / empty_m_s
    result: Number = walking + stair_steps * (step_loaded_s + step_empty_s) + handling_s
    return result
