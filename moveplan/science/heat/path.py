"""The path of temperature of many containers at once, through rooms, doorways and the road in their order.

Each segment has one law of the air around the containers: constant, or rising as in a closed vehicle in the sun.
A heater with a thermostat heats below its setting, is off above it, and holds it while it is strong enough and the
air is not warmer.  All closed form; the temperature is continuous in every input.  The time of first leaving a range
is not, and cannot be: a path that just touches a limit leaves it or does not.  :func:`extremes_c` says how near it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from moveplan.science.heat.piece import TOUCH_K, Piece
from moveplan.science.heat.vessels import Segment, Vessels
from moveplan.science.numbers import Array
from moveplan.science.ranges import check, ordered

FOR_EVER = 50.0
"""Time constants after which nothing changes any more to the last digit [-]; exp(-50) = 2e-22."""
_NO_RISE_K = 1e-12
"""A rise of the air that is taken for none [K]."""
_PASSES = 6
"""Most changes between heating, holding and off within a segment, whose air only rises or only falls: four, and two
passages that take no time. [-]"""


def end_temperatures_c(vessels: Vessels, start_c: ArrayLike, segments: Sequence[Segment]) -> Array:
    """Temperature of each container at the end of each segment.

    Parameters
    ----------
    vessels : Vessels
        The containers. [-]
    start_c : float or array
        Temperature at the start. [°C]
    segments : sequence of Segment
        The way in its order. [-]

    Returns
    -------
    array
        One row a segment, one column a container. [°C]

    References
    ----------
    Newton's law of cooling for well-mixed water, as in Froese (1998), Aquaculture 159, 283-292.

    Examples
    --------
    >>> from moveplan.science.heat.vessels import vessels_of
    >>> way = [Segment(4.0, 18.0), Segment(1.5, 8.0), Segment(3.0, 18.0)]
    >>> end_temperatures_c(vessels_of(30.0, 4.71, 12.6, 2.47), 25.5, way).round(1).ravel().tolist()
    [22.3, 19.6, 19.1]
    """
    check(start_c=start_c)
    temperature = np.broadcast_to(np.asarray(start_c, dtype=np.float64), vessels.capacity_wh_k.shape)
    rows = np.empty((len(segments), len(temperature)))
    for number, segment in enumerate(segments):
        pieces = _pieces(vessels, temperature, segment, np.zeros_like(temperature), segment.duration_h)
        temperature = _end_c(pieces)
        rows[number] = temperature
    return rows


def first_exit_h(
    vessels: Vessels,
    start_c: ArrayLike,
    segments: Sequence[Segment],
    lowest_c: ArrayLike,
    highest_c: ArrayLike,
) -> Array:
    """Time at which each container first leaves a range; the last segment goes on for ever.

    Parameters
    ----------
    vessels : Vessels
        The containers. [-]
    start_c : float or array
        Temperature at the start. [°C]
    segments : sequence of Segment
        The way in its order. [-]
    lowest_c, highest_c : float or array
        Temperatures that must not be passed. [°C]

    Returns
    -------
    array
        One element a container; 0 where it starts outside, infinite where it never leaves. [h]

    References
    ----------
    Newton's law of cooling for well-mixed water, as in Froese (1998), Aquaculture 159, 283-292.

    Examples
    --------
    >>> from moveplan.science.heat.vessels import vessels_of
    >>> tub = vessels_of(30.0, 4.71, 12.6, 2.47)
    >>> float(first_exit_h(tub, 25.5, [Segment(4.0, 18.0), Segment(1.5, 8.0)], 22.0, 29.0)[0].round(2))
    4.16
    >>> float(first_exit_h(tub, 25.5, [Segment(4.0, 18.0), Segment(1.5, 23.0)], 22.0, 29.0)[0])
    inf
    """
    low, high, start = _checked(vessels, lowest_c, highest_c, start_c)
    found = np.where((start < low - TOUCH_K) | (start > high + TOUCH_K), 0.0, np.inf)
    for piece in _path(vessels, start_c, segments):
        inside = np.isinf(found)
        if not inside.any():
            break
        found = np.minimum(found, piece.begin_h + piece.first_outside_h(low, high, inside))
    return found


def outside_h(
    vessels: Vessels,
    start_c: ArrayLike,
    segments: Sequence[Segment],
    lowest_c: ArrayLike,
    highest_c: ArrayLike,
) -> Array:
    """Time for which each container is outside a range, from the first segment to the end of the last.

    Parameters
    ----------
    vessels : Vessels
        The containers. [-]
    start_c : float or array
        Temperature at the start. [°C]
    segments : sequence of Segment
        The way in its order. [-]
    lowest_c, highest_c : float or array
        Temperatures that must not be passed. [°C]

    Returns
    -------
    array
        One element a container; unlike the time of first leaving it is continuous in every input. [h]

    References
    ----------
    Newton's law of cooling for well-mixed water, as in Froese (1998), Aquaculture 159, 283-292.

    Examples
    --------
    >>> from moveplan.science.heat.vessels import vessels_of
    >>> tub = vessels_of(30.0, 4.71, 12.6, 2.47)
    >>> way = [Segment(4.0, 18.0), Segment(1.5, 8.0), Segment(3.0, 18.0)]
    >>> float(outside_h(tub, 25.5, way, 22.0, 29.0)[0].round(2))
    4.34
    """
    low, high, start = _checked(vessels, lowest_c, highest_c, start_c)
    found = np.zeros_like(start)
    for piece in _path(vessels, start, segments, for_ever=False):
        found += piece.outside_h(low, high)
    return found


def _checked(
    vessels: Vessels, lowest_c: ArrayLike, highest_c: ArrayLike, start_c: ArrayLike
) -> tuple[Array, Array, Array]:
    """Give the limits and the temperature at the start, one of each a container. [°C]."""
    check(start_c=start_c, lowest_c=lowest_c, highest_c=highest_c)
    ordered("lowest_c", lowest_c, "highest_c", highest_c)
    shape = vessels.capacity_wh_k.shape
    low, high, start = (
        np.broadcast_to(np.asarray(value, dtype=np.float64), shape)
        for value in (lowest_c, highest_c, start_c)
    )
    return low, high, start


def _end_c(pieces: Sequence[Piece]) -> Array:
    return pieces[-1].temperature_c(pieces[-1].length_h)


def _path(
    vessels: Vessels, start_c: ArrayLike, segments: Sequence[Segment], *, for_ever: bool = True
) -> Sequence[Piece]:
    """Give all pieces of the way, the last segment for ever or to its end."""
    temperature = np.broadcast_to(np.asarray(start_c, dtype=np.float64), vessels.capacity_wh_k.shape)
    begin, path = np.zeros_like(temperature), []
    for number, segment in enumerate(segments, start=1):
        length: Array | float = segment.duration_h
        if for_ever and number == len(segments):
            constant = vessels.capacity_wh_k / vessels.conductance_w_k[segment.surface]
            length = segment.duration_h + FOR_EVER * np.maximum(constant, segment.rise_constant_h)
        pieces = _pieces(vessels, temperature, segment, begin, length)
        path += pieces
        temperature, begin = _end_c(pieces), begin + length
    return path


def _pieces(
    vessels: Vessels, start_c: Array, segment: Segment, begin_h: Array, length_h: Array | float
) -> list[Piece]:
    """Give the pieces of one segment: one without heaters, else one for each change of what the heaters do."""
    conductance = vessels.conductance_w_k[segment.surface]
    powered = (vessels.heater_w > 0.0) & segment.heated
    lift = np.where(powered, vessels.heater_w / conductance, 0.0)
    at_set = np.where(powered, vessels.set_c, np.inf)
    rate = conductance / vessels.capacity_wh_k
    rise_rate = np.full_like(rate, 1.0 / segment.rise_constant_h)
    temperature, left, passed = start_c, np.broadcast_to(length_h, rate.shape), np.zeros_like(rate)
    air, rise = np.full_like(rate, segment.air_c), _noticed(np.full_like(rate, segment.rise_k))
    pieces: list[Piece] = []
    ended = np.zeros_like(rate)
    for turn in range(_PASSES):
        strong = air + lift >= at_set
        holds = (ended == 0.0) & (temperature == at_set) & (air <= at_set) & strong
        below = (temperature < at_set) | ((temperature == at_set) & ~strong)
        heats = np.where(ended == 0.0, below, ended < 0.0)
        final = np.where(holds, at_set, np.where(heats, air + lift, air))
        follows = np.where(holds, 0.0, rise)
        piece = Piece(begin_h + passed, left, temperature, final, follows, rate, rise_rate)
        if turn < _PASSES - 1 and powered.any():
            upper, lower = np.where(heats, at_set, np.inf), np.where(heats, -np.inf, at_set)
            reach = piece.first_outside_h(lower, upper, powered & ~holds)
            change = np.where(holds, _held_h(at_set - air, lift, rise, rise_rate), reach)
            piece = replace(piece, length_h=np.minimum(left, change))
        pieces.append(piece)
        left, passed = left - piece.length_h, passed + piece.length_h
        more = left > 0.0
        if not more.any():
            break
        temperature = np.where(more, at_set, piece.temperature_c(piece.length_h))
        gone = np.exp(-rise_rate * piece.length_h)
        air, rise = air + rise * (1.0 - gone), _noticed(rise * gone)
        ended = np.where(more & holds, np.sign(rise), 0.0)
    return pieces


def _noticed(rise_k: Array) -> Array:
    """Give the rise of the air, zero where it is less than any number here can tell."""
    return np.where(np.abs(rise_k) < _NO_RISE_K, 0.0, rise_k)


def _held_h(below_set_k: Array, lift_k: Array, rise_k: Array, rise_rate_h: Array) -> Array:
    """Time for which the setting can be held, until the air is warmer or the heater too weak."""
    room = np.where(rise_k > 0.0, below_set_k, below_set_k - lift_k)
    share = np.where(rise_k == 0.0, 1.0, room / np.where(rise_k == 0.0, 1.0, rise_k))
    ends = (share >= 0.0) & (share < 1.0)
    return np.where(ends, -np.log1p(-np.where(ends, share, 0.0)) / rise_rate_h, np.inf)
