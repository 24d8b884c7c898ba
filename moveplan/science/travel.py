"""Time on the road."""

from __future__ import annotations

from moveplan.science.numbers import Number, ceiling, greater
from moveplan.science.ranges import ranged


@ranged
def driving_time_h(distance_km: Number, speed_km_h: Number) -> Number:
    """Time at the wheel, breaks left out.

    Parameters
    ----------
    distance_km : float or array
        Distance from door to door. [km]
    speed_km_h : float or array
        Mean speed from door to door. [km/h]

    Returns
    -------
    float or array
        Time. [h]

    Notes
    -----
    Distance over speed.

    Examples
    --------
    >>> driving_time_h(100.0, 50.0)
    2.0
    """
    return distance_km / speed_km_h


@ranged
def break_time_h(
    driving_h: Number, break_after_h: Number | float = 2.0, break_length_h: Number | float = 0.25
) -> Number:
    """Time for breaks: one after each stretch that is followed by more driving.

    Parameters
    ----------
    driving_h : float or array
        Time at the wheel. [h]
    break_after_h : float or array
        Longest stretch without a break. [h]
    break_length_h : float or array
        Length of one break. [h]

    Returns
    -------
    float or array
        Time for breaks. [h]

    References
    ----------
    The Highway Code (GB), rule 91: at least 15 minutes every two hours (recalled).

    Examples
    --------
    >>> break_time_h(1.5), break_time_h(3.33), break_time_h(4.5)
    (0.0, 0.25, 0.5)
    """
    stretches: Number = ceiling(driving_h / break_after_h - 1e-9)
    return greater(stretches - 1.0, 0.0) * break_length_h


@ranged
def drive_time_h(
    distance_km: Number,
    speed_km_h: Number,
    break_after_h: Number | float = 2.0,
    break_length_h: Number | float = 0.25,
) -> Number:
    """Time from door to door, breaks included.

    Parameters
    ----------
    distance_km : float or array
        Distance from door to door. [km]
    speed_km_h : float or array
        Mean speed from door to door. [km/h]
    break_after_h : float or array
        Longest stretch without a break. [h]
    break_length_h : float or array
        Length of one break. [h]

    Returns
    -------
    float or array
        Time. [h]

    References
    ----------
    The Highway Code (GB), rule 91 (recalled).

    Examples
    --------
    >>> round(drive_time_h(241.4016, 72.42048), 3)
    3.583
    """
    driving = driving_time_h(distance_km, speed_km_h)
    return driving + break_time_h(driving, break_after_h, break_length_h)
