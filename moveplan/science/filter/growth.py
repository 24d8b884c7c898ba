"""Growth of two populations of bacteria followed through time: with floats for a few scenarios, with arrays for many.

The formulas are written once and take either; a step of a few floats costs a quarter of one of short arrays, and
both give the same numbers to the last bit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeAlias

import numpy as np

from moveplan.science.numbers import Array, Number

FEW = 8
"""Most scenarios that are followed one by one; arrays are faster for more. [-]"""
_LARGEST_RATE_STEP = 0.8
"""Greatest step times rate, of 2.8, where the integration would become unstable. [-]"""

_State: TypeAlias = tuple[Number, Number, Number, Number, Number]


@dataclass(frozen=True, slots=True)
class Growth(Generic[Number]):
    """What sets the rates of change; each value a float, or an array over scenarios.

    Parameters
    ----------
    growth_a, growth_n : float or array
        Greatest growth rate of the bacteria that live on ammonia, and on nitrite. [1/day]
    half_a, half_n : float
        Concentration at which they grow half as fast. [mg N/l]
    yield_a, yield_n : float
        Bacteria grown from what they oxidise. [mg/mg N]
    load : float or array
        Ammonia that goes in. [mg N/(l day)]
    crowding_a, crowding_n : float or array
        One over the bacteria for which there is room. [l/mg]
    decay : float
        Share of the bacteria that dies. [1/day]
    """

    growth_a: Number
    growth_n: Number
    half_a: float
    half_n: float
    yield_a: float
    yield_n: float
    load: Number
    crowding_a: Number
    crowding_n: Number
    decay: float

    def change(self, state: _State[Number]) -> _State[Number]:
        """Give the rates of change of ammonia, nitrite, nitrate, and of both kinds of bacteria. [per day]."""
        ammonia, nitrite, _, eaters_a, eaters_n = state
        growing_a = self.growth_a * ammonia / (self.half_a + ammonia) * eaters_a
        growing_n = self.growth_n * nitrite / (self.half_n + nitrite) * eaters_n
        used_a = growing_a / self.yield_a
        used_n = growing_n / self.yield_n
        return (
            self.load - used_a,
            used_a - used_n,
            used_n,
            growing_a * (1.0 - self.crowding_a * eaters_a) - self.decay * eaters_a,
            growing_n * (1.0 - self.crowding_n * eaters_n) - self.decay * eaters_n,
        )

    def after(
        self, state: _State[Number], days: float, positive: Callable[[Number], Number]
    ) -> _State[Number]:
        """Give the state after one step of Runge and Kutta's fourth order."""
        half = 0.5 * days
        first = self.change(state)
        second = self.change(_moved(state, half, first))
        third = self.change(_moved(state, half, second))
        fourth = self.change(_moved(state, days, third))
        sixth = days / 6.0
        ammonia, nitrite, nitrate, eaters_a, eaters_n = [
            positive(now + sixth * (one + 2.0 * (two + three) + four))
            for now, one, two, three, four in zip(state, first, second, third, fourth, strict=True)
        ]
        return ammonia, nitrite, nitrate, eaters_a, eaters_n

    def follow(self: Growth[Array], start: Array, step_days: float, steps: int) -> Array:
        """Follow all scenarios over time; the step is cut for all where the fastest rate of any asks for it.

        Parameters
        ----------
        start : array
            Rows ammonia, nitrite, nitrate and both kinds of bacteria, a column a scenario. [mg N/l, mg/l]
        step_days : float
            Spacing of what is given back. [day]
        steps : int
            How many. [-]

        Returns
        -------
        array
            The start and what follows: by kind, by time, by scenario. [mg N/l, mg/l]
        """
        return (_one_by_one if start.shape[1] <= FEW else _together)(self, start, step_days, steps)


def _moved(state: _State[Number], days: float, change: _State[Number]) -> _State[Number]:
    ammonia, nitrite, nitrate, eaters_a, eaters_n = state
    by_ammonia, by_nitrite, by_nitrate, by_a, by_n = change
    return (
        ammonia + days * by_ammonia,
        nitrite + days * by_nitrite,
        nitrate + days * by_nitrate,
        eaters_a + days * by_a,
        eaters_n + days * by_n,
    )


def _alone(model: Growth[Array], at: int) -> Growth[float]:
    return Growth(
        float(model.growth_a[at]),
        float(model.growth_n[at]),
        model.half_a,
        model.half_n,
        model.yield_a,
        model.yield_n,
        float(model.load[at]),
        float(model.crowding_a[at]),
        float(model.crowding_n[at]),
        model.decay,
    )


def _one_by_one(model: Growth[Array], start: Array, step_days: float, steps: int) -> Array:
    alone = [_alone(model, at) for at in range(start.shape[1])]
    uptake = [_uptake(one) for one in alone]
    growth = _fastest_growth(model)
    states: list[_State[float]] = [(a, n, z, x, y) for a, n, z, x, y in start.T.tolist()]
    rows = [states]
    for _ in range(steps):
        fastest = max(
            (max(a * state[3], n * state[4]) for (a, n), state in zip(uptake, states, strict=True)),
            default=0.0,
        )
        parts = _parts(fastest + growth, step_days)
        for _ in range(parts):
            states = [
                one.after(state, step_days / parts, _positive)
                for one, state in zip(alone, states, strict=True)
            ]
        rows.append(states)
    return np.array(rows).reshape(steps + 1, -1, len(start)).transpose(2, 0, 1)


def _together(model: Growth[Array], start: Array, step_days: float, steps: int) -> Array:
    uptake_a, uptake_n = _uptake(model)
    growth = _fastest_growth(model)
    ammonia, nitrite, nitrate, eaters_a, eaters_n = start
    state = ammonia, nitrite, nitrate, eaters_a, eaters_n
    rows: list[Sequence[Array]] = [state]
    for _ in range(steps):
        fastest = max(float((uptake_a * state[3]).max()), float((uptake_n * state[4]).max()))
        parts = _parts(fastest + growth, step_days)
        for _ in range(parts):
            state = model.after(state, step_days / parts, _all_positive)
        rows.append(state)
    return np.array(rows).transpose(1, 0, 2)


def _uptake(model: Growth[Number]) -> tuple[Number, Number]:
    """Rate at which a concentration can answer, for each mg/l of the bacteria there are. [l/(mg day)]."""
    return model.growth_a / (model.yield_a * model.half_a), model.growth_n / (model.yield_n * model.half_n)


def _fastest_growth(model: Growth[Array]) -> float:
    return max(float(model.growth_a.max(initial=0.0)), float(model.growth_n.max(initial=0.0)))


def _parts(fastest_per_day: float, step_days: float) -> int:
    return max(1, math.ceil(step_days * fastest_per_day / _LARGEST_RATE_STEP))


def _positive(value: float) -> float:
    return max(value, 0.0)


def _all_positive(value: Array) -> Array:
    result: Array = np.maximum(value, 0.0)
    return result
