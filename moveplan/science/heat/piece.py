"""One piece of a temperature path: well-mixed water, air that stays or rises exponentially, constant power.

``dT/dt = a (T_air(t) + P/UA - T)`` with ``a = UA/C`` and ``T_air(t) = T_0 + D (1 - exp(-b t))``.  The closed form is
written so that it stays exact where the two rates meet, and its temperature has at most one turning point, so that
every passage of a level can be bracketed.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from moveplan.science.numbers import Array

TOUCH_K = 1e-9
"""A level is passed where it is passed by more than this [K]; far below any thermometer."""
_ROUNDS = 80
"""Most halvings of a bracket; with Newton's steps between them about ten are needed. [-]"""
_CLOSE_H = 1e-10
"""Step at which a root is found [h], and its share of the time."""


def _share_done(value: Array) -> Array:
    """``(1 - exp(-x)) / x``, one at zero."""
    safe = np.where(value == 0.0, 1.0, value)
    return np.where(value == 0.0, 1.0, -np.expm1(-safe) / safe)


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of many containers' paths in which neither power nor law of the air changes.

    Parameters
    ----------
    begin_h, length_h : array
        When it begins on the path, and how long it lasts; zero where a container has no such piece. [h]
    start_c : array
        Temperature of the water at its beginning. [°C]
    final_c : array
        Air at its beginning, and what the heater adds in the end. [°C]
    rise_k : array
        How much the air will still rise, below zero where it falls. [K]
    rate_h, rise_rate_h : array
        Inverse time constants of the water and of the air. [1/h]
    """

    begin_h: Array
    length_h: Array
    start_c: Array
    final_c: Array
    rise_k: Array
    rate_h: Array
    rise_rate_h: Array

    def temperature_c(self, time_h: Array) -> Array:
        """Temperature a time after the beginning."""
        fast = np.maximum(self.rate_h, self.rise_rate_h)
        slow = np.minimum(self.rate_h, self.rise_rate_h)
        way = np.exp(-self.rate_h * time_h)
        plain = self.final_c + (self.start_c - self.final_c) * way
        if not self.rise_k.any():
            return plain
        lag = self.rate_h * time_h * np.exp(-slow * time_h) * _share_done((fast - slow) * time_h)
        return plain + self.rise_k * (1.0 - way - lag)

    def slope_k_h(self, time_h: Array, temperature_c: Array) -> Array:
        """Change of temperature in an hour, from the equation itself."""
        air = self.final_c - self.rise_k * np.expm1(-self.rise_rate_h * time_h)
        return self.rate_h * (air - temperature_c)

    def turning_h(self) -> Array:
        """Time of the turning point, not after the end; zero where there is none."""
        if not self.rise_k.any():
            return np.zeros_like(self.start_c)
        gap = self.start_c - self.final_c
        pace = np.where(self.rise_k == 0.0, 1.0, self.rise_k * self.rise_rate_h)
        ratio = np.where(self.rise_k == 0.0, 0.0, gap / pace)
        grown = (self.rate_h - self.rise_rate_h) * ratio
        turns = (ratio > 0.0) & (grown > -1.0)
        grown = np.where(turns, grown, 0.0)
        tiny = np.abs(grown) < 1e-12
        time = ratio * np.where(tiny, 1.0, np.log1p(grown) / np.where(tiny, 1.0, grown))
        return np.where(turns, np.minimum(time, self.length_h), 0.0)

    def first_outside_h(self, lowest_c: Array, highest_c: Array, wanted: Array) -> Array:
        """Time at which the temperature first leaves a range, for the containers wanted; else infinite."""
        turn = self.turning_h()
        found = np.full(self.length_h.shape, np.inf)
        before = np.zeros_like(turn)
        for after in (turn, self.length_h) if turn.any() else (self.length_h,):
            reached = self.temperature_c(after)
            down = lowest_c - reached > TOUCH_K
            passes = wanted & np.isinf(found) & (down | (reached - highest_c > TOUCH_K)) & (after > before)
            if passes.any():
                level = np.where(down, lowest_c, highest_c)[passes]
                found[passes] = self._of(passes).root_h(level, before[passes], after[passes])
            before = after
        return found

    def outside_h(self, lowest_c: Array, highest_c: Array) -> Array:
        """Time of it that the temperature is outside a range."""
        turn, outside = self.turning_h(), np.zeros_like(self.start_c)
        for begin, end in ((np.zeros_like(turn), turn), (turn, self.length_h)):
            first, last = self.temperature_c(begin), self.temperature_c(end)
            for level, side in ((lowest_c, -1.0), (highest_c, 1.0)):
                was, ends = side * (first - level) > 0.0, side * (last - level) > 0.0
                passes = (was != ends) & (end > begin)
                met = np.where(was, end, begin)
                if passes.any():
                    met[passes] = self._of(passes).root_h(level[passes], begin[passes], end[passes])
                outside += np.where(was, met - begin, 0.0) + np.where(ends & ~was, end - met, 0.0)
        return outside

    def _of(self, wanted: Array) -> Piece:
        return Piece(*(getattr(self, name)[wanted] for name in self.__slots__))

    def root_h(self, level_c: Array, low_h: Array, high_h: Array) -> Array:
        """Time of a level inside a bracket in which the temperature only rises or only falls."""
        if not self.rise_k.any():
            ratio = (self.start_c - self.final_c) / (level_c - self.final_c)
            return np.log(np.maximum(ratio, 1.0)) / self.rate_h
        rising = self.temperature_c(high_h) > level_c
        time = np.minimum(0.5 * (low_h + high_h), low_h + 0.5 / np.maximum(self.rate_h, self.rise_rate_h))
        for _ in range(_ROUNDS):
            temperature = self.temperature_c(time)
            late = (temperature > level_c) == rising
            high_h, low_h = np.where(late, time, high_h), np.where(late, low_h, time)
            slope = self.slope_k_h(time, temperature)
            step = time - (temperature - level_c) / np.where(slope == 0.0, 1.0, slope)
            inside = (slope != 0.0) & (step >= low_h) & (step <= high_h)
            following = np.where(inside, step, 0.5 * (low_h + high_h))
            settled = np.abs(following - time) <= _CLOSE_H * (1.0 + time)
            time = following
            if settled.all():
                break
        return time
