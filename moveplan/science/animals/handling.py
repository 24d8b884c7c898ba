"""What capture does to the oxygen use of an animal, and how it wears off."""

from __future__ import annotations

from moveplan.science.numbers import Number, choose, exp, greater, lesser, log
from moveplan.science.ranges import ordered, ranged

_LN_2 = log(2.0)


@ranged
def handling_factor(
    hours_since_capture: Number,
    quiet: Number | float = 1.5,
    peak: Number | float = 3.6,
    half_life_h: Number | float = 0.5,
    least_factor: Number | float = 1.0,
) -> Number:
    """Oxygen use over that at rest, some time after an animal was netted.

    Parameters
    ----------
    hours_since_capture : float or array
        Time since the last netting; each new one starts the curve again. [h]
    quiet : float or array
        What it settles at, dark and quiet in a container. [-]
    peak : float or array
        Right after capture; never above 5. [-]
    half_life_h : float or array
        Time in which the excess halves; 0.5 for small fish, 2 for large predators or after a long chase. [h]
    least_factor : float or array
        Least that is counted; 2 on the road, in ordinary transport. [-]

    Returns
    -------
    float or array
        Factor; low confidence, drawn from one species. [-]

    Notes
    -----
    ``quiet + (peak - quiet) 2^(-t / half life)``, and never less than ``least_factor``.

    References
    ----------
    Radull, Kaiser and Hecht (2002), Mar. Freshw. Res. 53, 465-469: capture took juvenile spotted grunter to 2.4
    times routine use, over after 1.5 h.  McMahon et al. (2024) for slower recovery of a reef snapper when warmed.

    Examples
    --------
    >>> [round(handling_factor(hours), 3) for hours in (0.25, 1.0, 1.5)]
    [2.985, 2.025, 1.763]
    >>> handling_factor(8.0, least_factor=2.0)
    2.0
    """
    ordered("quiet", quiet, "peak", peak)
    curve: Number = quiet + (peak - quiet) * exp(-_LN_2 * hours_since_capture / half_life_h)
    return greater(curve, least_factor)


@ranged
def mean_handling_factor(
    duration_h: Number,
    hours_since_capture: Number | float = 0.0,
    quiet: Number | float = 1.5,
    peak: Number | float = 3.6,
    half_life_h: Number | float = 0.5,
    least_factor: Number | float = 1.0,
) -> Number:
    """Mean of :func:`handling_factor` over a time.

    Parameters
    ----------
    duration_h : float or array
        Length of the time. [h]
    hours_since_capture : float or array
        Time since the last netting when it begins. [h]
    quiet : float or array
        What it settles at. [-]
    peak : float or array
        Right after capture. [-]
    half_life_h : float or array
        Time in which the excess halves. [h]
    least_factor : float or array
        Least that is counted. [-]

    Returns
    -------
    float or array
        Mean factor. [-]

    Notes
    -----
    Integral of the curve up to where it passes ``least_factor``, and of ``least_factor`` from there.

    Examples
    --------
    >>> [round(mean_handling_factor(hours), 3) for hours in (0.5, 1.0, 2.0, 4.0, 8.0)]
    [3.015, 2.636, 2.21, 1.877, 1.689]
    """
    ordered("quiet", quiet, "peak", peak)
    excess: Number = peak - quiet + 0.0 * duration_h
    floor: Number = least_factor - quiet + 0.0 * duration_h
    passes = (floor > 0.0) & (excess > floor)
    ratio: Number = choose(passes, excess / choose(passes, floor, 1.0), 1.0)
    passed_h: Number = choose(floor > 0.0, half_life_h / _LN_2 * log(ratio), float("inf"))
    above: Number = lesser(greater(passed_h - hours_since_capture, 0.0), duration_h)
    decay: Number = _LN_2 / half_life_h + 0.0 * duration_h
    share: Number = decay * above
    worn: Number = -exp(-decay * hours_since_capture) * (exp(-share) - 1.0) / decay
    span: Number = choose(duration_h > 0.0, duration_h, 1.0)
    mean: Number = (quiet * above + excess * worn + least_factor * (duration_h - above)) / span
    at_once = handling_factor(hours_since_capture + 0.0 * duration_h, quiet, peak, half_life_h, least_factor)
    return choose(duration_h > 1e-6 * half_life_h, mean, at_once)
