"""Water and the gas above it as two stirred boxes, by the array: when a content first passes a limit.

The engine behind :mod:`moveplan.science.gas.ends`, for oxygen and for carbon dioxide alike.  What crosses the
surface depends on what is dissolved; for oxygen that is the content itself, for carbon dioxide a curved function of
the inorganic carbon.  Between two changes of conductance, vent or source the pair is solved exactly for a straight
line through that curve, in steps so short that the line fits; oxygen needs no steps.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from moveplan.science.numbers import Array

NEVER_H = 1e6
"""Times beyond this are given as infinite [h]."""
_MOST_STEPS, _MOST_ROUNDS = 2000, 80
"""Most steps of one phase, and most halvings of a bracket between Newton's steps. Chosen. [-]"""
_LEAST_RATE = 1e-12
"""Least rate that counts, so that nothing is divided by zero. [1/h]"""
_SOON_H = 1e-3
"""Time from which on brackets are halved by their ratio and no longer by their length. [h]"""
_STEP = 0.2
"""Greatest relative change of what is dissolved in one step. Chosen. [-]"""


@dataclass(frozen=True, slots=True)
class Course:
    """What each container (row) meets in each stretch of time (column); the last column reaches to for ever.

    Parameters
    ----------
    end_h : array
        End of each stretch, rising along a row. [h]
    conductance_l_h : array
        Conductance of the surface. [l/h]
    vent_l_h : array
        Exchange of the gas with the room, as the water in balance with it. [l/h]
    source : array
        What is added to the water. [content times l/h]
    """

    end_h: Array
    conductance_l_h: Array
    vent_l_h: Array
    source: Array


@dataclass(frozen=True, slots=True)
class Boxes:
    """Containers as columns; contents in any unit by volume of water.

    Parameters
    ----------
    water_l : array
        Water. [l]
    gas_l : array
        Water that would hold as much as the gas, in balance with it. [l]
    content : array
        Content of the water at the start. [-]
    in_gas : array
        Dissolved content in balance with the gas at the start. [-]
    in_room : array
        Dissolved content in balance with the air of the room. [-]
    table_content, table_dissolved : array
        A row of contents for each container, rising, and what of each is dissolved. [-]
    """

    water_l: Array
    gas_l: Array
    content: Array
    in_gas: Array
    in_room: Array
    table_content: Array
    table_dissolved: Array

    def first_passing_h(self, course: Course, limit: Array, sign: int) -> Array:
        """Find when the content first passes a limit, upwards (sign 1) or downwards (-1); infinite if never."""
        passed: Array = np.where(sign * (self.content - limit) > 0.0, 0.0, np.inf)
        found: list[_Passing] = []
        march = _March(self, course, np.flatnonzero(np.isinf(passed)))
        for _ in range(_MOST_STEPS):
            if not march.left.size:
                break
            step = march.step()
            passes, passing = step.passing(march.left, march.time, limit[march.left], sign)
            found += passing
            march.go(step, ~passes)
        if found:
            every = _Passing(*(np.concatenate([getattr(p, f.name) for p in found]) for f in fields(_Passing)))
            passed[every.row.astype(np.intp)] = every.time_h()
        return passed

    def content_after(self, course: Course) -> Array:
        """Give the content of the water at the end of a course."""
        result = np.array(self.content)
        march = _March(self, course, np.flatnonzero(course.end_h[:, -1] > 0.0))
        for _ in range(_MOST_STEPS):
            if not march.left.size:
                break
            rows = march.left
            march.go(march.step(), np.ones(rows.size, dtype=bool), result)
        return result

    def dissolved_at(self, content: Array) -> Array:
        """Read what is dissolved at a content."""
        return _line(self.table_content, self.table_dissolved, content)


@dataclass(frozen=True, slots=True)
class _Modes:
    """A quantity that moves by ``sum of slope_i (1 - exp(-rate_i t)) / rate_i``."""

    start: Array
    slope_fast: Array
    slope_slow: Array

    def after(self, span_fast: Array, span_slow: Array) -> Array:
        value: Array = self.start + self.slope_fast * span_fast + self.slope_slow * span_slow
        return value


def _span(rate: Array, time: Array) -> Array:
    span: Array = -np.expm1(-rate * time) / rate
    return span


@dataclass(frozen=True, slots=True)
class _Passing:
    """Steps in which a limit is passed, with the bracket in which it happens."""

    row: Array
    since: Array
    over: Array
    slope_fast: Array
    slope_slow: Array
    fast: Array
    slow: Array
    low: Array
    high: Array

    def time_h(self) -> Array:
        """Find the root in each bracket by Newton's method, and by a mean where that would leave the bracket."""
        low, high, time = self.low, self.high, self.low
        modes = _Modes(self.over, self.slope_fast, self.slope_slow)
        before = np.sign(modes.after(_span(self.fast, high), _span(self.slow, high)))
        for _ in range(_MOST_ROUNDS):
            value = modes.after(_span(self.fast, time), _span(self.slow, time))
            past = np.sign(value) == before
            low, high = np.where(past, low, time), np.where(past, time, high)
            slope = self.slope_fast * np.exp(-self.fast * time) + self.slope_slow * np.exp(-self.slow * time)
            newton = time - value / np.where(slope == 0.0, 1e-300, slope)
            inside = (newton >= low) & (newton <= high)
            following = np.where(inside, newton, np.sqrt((low + _SOON_H) * (high + _SOON_H)) - _SOON_H)
            change, time = np.abs(following - time) / (1.0 + time), following
            if change.max() < 1e-9:
                break
        return self.since + time


@dataclass(frozen=True, slots=True)
class _Step:
    water: _Modes
    fast: Array
    slow: Array
    length: Array
    turn: Array  # time of the only turning point, the length of the step where there is none
    water_end: Array
    gas_end: Array
    time_end: Array

    def passing(
        self, rows: NDArray[np.intp], since: Array, limit: Array, sign: int
    ) -> tuple[NDArray[np.bool_], list[_Passing]]:
        """Tell who passes the limit in this step, and where; most steps are passed by nobody."""
        turns = self.turn < self.length
        at_turn = np.zeros(rows.size, dtype=bool)
        if turns.any():
            spans = (_span(rate[turns], self.turn[turns]) for rate in (self.fast, self.slow))
            of = _Modes(*(getattr(self.water, f.name)[turns] for f in fields(_Modes)))
            at_turn[turns] = sign * (of.after(*spans) - limit[turns]) > 0.0
        passes = at_turn | (sign * (self.water_end - limit) > 0.0)
        here = np.flatnonzero(passes)
        if not here.size:
            return passes, []
        moves = self.water
        columns = (
            since,
            moves.start - limit,
            moves.slope_fast,
            moves.slope_slow,
            self.fast,
            self.slow,
            np.where(at_turn, 0.0, np.where(turns, self.turn, 0.0)),
            np.where(at_turn, self.turn, self.length),
        )
        return passes, [_Passing(rows[here].astype(np.float64), *(column[here] for column in columns))]


class _March:
    """Containers on their way, each at a time of its own."""

    def __init__(self, boxes: Boxes, course: Course, rows: NDArray[np.intp]) -> None:
        self._boxes, self._course = boxes, course
        self._columns = course.conductance_l_h, course.vent_l_h, course.source
        self.left = rows
        self.time: Array = np.zeros(rows.size)
        self._content, self._gas = boxes.content[rows], boxes.in_gas[rows]
        self._take(rows)

    def _take(self, rows: NDArray[np.intp]) -> None:
        boxes, course = self._boxes, self._course
        self._water_l, self._gas_l, self._room = boxes.water_l[rows], boxes.gas_l[rows], boxes.in_room[rows]
        self._table = boxes.table_content[rows], boxes.table_dissolved[rows]
        self._end = course.end_h[rows]

    def step(self) -> _Step:
        at = (self._end <= self.time[:, None]).sum(axis=1)
        end = self._end[np.arange(at.size), at]
        conductance, vent, source = (column[self.left, at] for column in self._columns)
        dissolved, slope, reach = self._straight(conductance, vent, source)
        flux = conductance * (self._gas - dissolved)
        rise = (flux + source) / self._water_l
        gas_rise = (vent * (self._room - self._gas) - flux) / self._gas_l
        out = conductance * slope / self._water_l
        back = (conductance + vent) / self._gas_l
        apart = np.hypot(out - back, 2.0 * conductance * np.sqrt(slope / (self._water_l * self._gas_l)))
        fast = 0.5 * (out + back + apart)
        slow = np.maximum(out * vent / self._gas_l / fast, _LEAST_RATE)
        bend = conductance / self._water_l * gas_rise - out * rise
        gas_bend = conductance * slope / self._gas_l * rise - back * gas_rise
        water = _modes(self._content, rise, bend, slow, apart)
        left = end - self.time
        length = left if reach is None else np.minimum(left, _reached(water, fast, slow, reach))
        spans = _span(fast, length), _span(slow, length)
        gas_end = _modes(self._gas, gas_rise, gas_bend, slow, apart).after(*spans)
        time_end = np.where(length >= left, end, self.time + length)
        turn = _turn(water, apart, length)
        return _Step(water, fast, slow, length, turn, water.after(*spans), gas_end, time_end)

    def _straight(self, conductance: Array, vent: Array, source: Array) -> tuple[Array, Array, Array | None]:
        """Dissolved part, its slope, and how far the content may move on that slope; None for any way.

        The line runs towards where the container would settle, so that it settles at the right place.
        """
        if self._table[0].shape[1] == 2:
            return self._content, np.ones(self._content.size), None
        contents, parts = self._table
        dissolved = _line(contents, parts, self._content)
        settled = self._room + source / np.maximum(vent, 1e-9) + source / conductance
        rising = settled >= dissolved
        part = np.clip(np.abs(settled - dissolved) / dissolved, 1e-3, _STEP)
        ahead = dissolved * np.where(rising, 1.0 + part, 1.0 - part)
        slope = (ahead - dissolved) / (_line(parts, contents, ahead) - self._content)
        return dissolved, slope, _STEP * dissolved / slope

    def go(self, step: _Step, keep: NDArray[np.bool_], into: Array | None = None) -> None:
        """Take the step, and go on with those that are to be kept and have not come to the end."""
        self._content, self._gas, self.time = step.water_end, step.gas_end, step.time_end
        if into is not None:
            into[self.left] = self._content
        keep = keep & (self.time < self._end[:, -1])
        if keep.all():
            return
        self.left, self.time = self.left[keep], self.time[keep]
        self._content, self._gas = self._content[keep], self._gas[keep]
        self._take(self.left)


def _modes(start: Array, rise: Array, bend: Array, slow: Array, apart: Array) -> _Modes:
    fast_part = (-bend - slow * rise) / apart
    return _Modes(start, fast_part, rise - fast_part)


def _turn(of: _Modes, apart: Array, length: Array) -> Array:
    """Time at which the slope is zero."""
    opposed = of.slope_fast * of.slope_slow < 0.0
    ratio = np.where(opposed, -of.slope_fast / np.where(opposed, of.slope_slow, 1.0), 1.0)
    time = np.where(opposed, np.log(np.maximum(ratio, 1.0)) / apart, length)
    return np.minimum(np.where(time > 0.0, time, length), length)


def _reached(of: _Modes, fast: Array, slow: Array, reach: Array) -> Array:
    """Time in which neither part moves the content further than a reach."""
    times = []
    for slope, rate in ((of.slope_fast, fast), (of.slope_slow, slow)):
        share = reach * rate / np.maximum(np.abs(slope), 1e-300)
        times.append(np.where(share < 1.0, -np.log1p(-np.minimum(share, 0.999999)) / rate, np.inf))
    time: Array = np.minimum(*times)
    return time


def _line(xs: Array, ys: Array, x: Array) -> Array:
    """Read each row's table by straight pieces; they are carried on beyond its ends."""
    at = np.clip((xs < x[:, None]).sum(axis=1) - 1, 0, xs.shape[1] - 2)
    row = np.arange(x.size)
    first, low = xs[row, at], ys[row, at]
    value: Array = low + (ys[row, at + 1] - low) / (xs[row, at + 1] - first) * (x - first)
    return value
