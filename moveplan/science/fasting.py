"""How long before the catch animals are fed last: long enough for an empty gut, no longer."""

from __future__ import annotations

from moveplan.science.livestock import Feeding
from moveplan.science.numbers import Number, exp, log
from moveplan.science.ranges import check, ranged

GREATEST_FAST_H = 48.0
"""Longest fast before the catch [h]; policy."""
GREATEST_WHOLE_FAST_H = 60.0
"""Longest time from the last meal to the next one [h]; policy."""
SMALL_FISH_G = 5.0
"""Mass below which a fish has little to live on [g]; policy."""
LARGE_PREDATOR_G = 50.0
"""Mass from which a hunter counts as large [g]; policy."""

_SMALL = (12.0, 15.0, 24.0)
_NORMAL = (18.0, 24.0, 36.0)
_LARGE_PREDATOR = (36.0, 42.0, 48.0)
_FILTER = (24.0, 24.0, 48.0)
_NONE = (0.0, 0.0, 48.0)
_MEAL_G = {_SMALL: 0.1, _NORMAL: 1.0, _LARGE_PREDATOR: 5.0}
"""One thing eaten, by window [g]; assumed."""
_EMPTY, _CLEAN = 0.95, 0.99


@ranged
def emptying_time_h(meal_g: Number, temperature_c: Number, emptied_fraction: Number | float = 0.95) -> Number:
    """Time in which the stomach of a hunting fish empties.

    Parameters
    ----------
    meal_g : float or array
        Wet mass of one thing eaten. [g]
    temperature_c : float or array
        Water temperature. [°C]
    emptied_fraction : float or array
        Share that has left the stomach. [-]

    Returns
    -------
    float or array
        Time; over 22 species the fit explains half of the variance, and a full stomach of a large fish takes twice
        as long. [h]

    Notes
    -----
    Exponential, at ``0.049 exp(0.072 t - 0.060 ln m)`` in an hour.

    References
    ----------
    He and Wurtsbaugh (1993), Trans. Am. Fish. Soc. 122, 717-730.

    Examples
    --------
    >>> [round(emptying_time_h(grams, 26.0, 0.99), 1) for grams in (0.1, 1.0, 5.0)]
    [12.6, 14.5, 15.9]
    """
    rate: Number = 0.049 * exp(0.072 * temperature_c - 0.060 * log(meal_g))
    return -log(1.0 - emptied_fraction + 0.0 * rate) / rate


def fast_window_h(animal_mass_g: float, temperature_c: float, feeding: Feeding) -> tuple[float, float, float]:
    """Give when an animal is fed for the last time, in hours before it is caught.

    Parameters
    ----------
    animal_mass_g : float
        Wet mass of one animal. [g]
    temperature_c : float
        Water temperature. [°C]
    feeding : Feeding
        How it feeds. [-]

    Returns
    -------
    tuple of float
        Least, wished and most; wished 0 where no fast is needed. [h]

    Notes
    -----
    Fish 18 to 36, wished 24; below 5 g, pickers of plankton and grazers 12 to 24, wished 15; hunters of 50 g and more
    36 to 48, wished 42; corals and filter feeders no feed for 24; snails and crabs none.  Common practice, no source,
    held against :func:`emptying_time_h`: least and wished are not below the times to 95 and 99 % empty, which counts
    in cool water.  Never above 48: policy.

    Examples
    --------
    >>> fast_window_h(20.0, 26.0, Feeding.NORMAL)
    (18.0, 24.0, 36.0)
    >>> fast_window_h(200.0, 26.0, Feeding.LARGE_PREDATOR)
    (36.0, 42.0, 48.0)
    """
    check(animal_mass_g=animal_mass_g, temperature_c=temperature_c)
    window = _window(animal_mass_g, feeding)
    if window not in _MEAL_G:
        return window
    least, wished, most = window
    empty = emptying_time_h(_MEAL_G[window], temperature_c, _EMPTY)
    clean = emptying_time_h(_MEAL_G[window], temperature_c, _CLEAN)
    most = min(max(most, clean), GREATEST_FAST_H)
    return min(max(least, empty), most), min(max(wished, clean), most), most


def _window(animal_mass_g: float, feeding: Feeding) -> tuple[float, float, float]:
    if feeding is Feeding.NONE:
        return _NONE
    if feeding is Feeding.FILTER:
        return _FILTER
    if animal_mass_g < SMALL_FISH_G or feeding in {Feeding.GRAZER, Feeding.PLANKTON}:
        return _SMALL
    if feeding is Feeding.LARGE_PREDATOR and animal_mass_g >= LARGE_PREDATOR_G:
        return _LARGE_PREDATOR
    return _NORMAL
