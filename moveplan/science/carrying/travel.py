"""Time on the road."""

from __future__ import annotations

from moveplan.science.numbers import Number, ceiling, choose, greater
from moveplan.science.ranges import ranged


@ranged
def driving_time_h(distance_km: Number, speed_km_h: Number, ends_h: Number | float = 0.0) -> Number:
    """Time at the wheel, breaks left out; it grows with the distance and has no step.

    Parameters
    ----------
    distance_km : float or array
        Distance from door to door. [km]
    speed_km_h : float or array
        Mean speed between the ends. [km/h]
    ends_h : float or array
        Time for both ends: out of one street, into the other, parking. [h]

    Returns
    -------
    float or array
        Time; none where there is no way. [h]

    Notes
    -----
    The ends, and distance over speed.

    Examples
    --------
    >>> driving_time_h(100.0, 50.0), round(60 * driving_time_h(31.0, 75.0, 8 / 60), 1)
    (2.0, 32.8)
    """
    result: Number = choose(distance_km > 0.0, ends_h + distance_km / speed_km_h, 0.0)
    return result


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
    ends_h: Number | float = 0.0,
) -> Number:
    """Time from door to door, breaks included.

    Parameters
    ----------
    distance_km : float or array
        Distance from door to door. [km]
    speed_km_h : float or array
        Mean speed between the ends. [km/h]
    break_after_h : float or array
        Longest stretch without a break. [h]
    break_length_h : float or array
        Length of one break. [h]
    ends_h : float or array
        Time for both ends. [h]

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
    driving = driving_time_h(distance_km, speed_km_h, ends_h)
    return driving + break_time_h(driving, break_after_h, break_length_h)
