"""Elementwise functions that give a float for a float and an array for an array.

Formulas are written once; these few wrappers keep their types honest for both kinds of argument.
"""

from __future__ import annotations

from typing import TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]
Number = TypeVar("Number", float, Array)
KELVIN = 273.15
"""0 °C on the scale of kelvin; by definition. [K]"""


def as_given(value: object) -> object:
    """Give a float for anything without dimensions, and leave everything else alone.

    >>> as_given(np.float64(2.5))
    2.5
    """
    if isinstance(value, float):
        return float(value)
    if isinstance(value, (np.ndarray, np.generic)) and value.ndim == 0:
        return float(value)
    return value


def exp(value: Number) -> Number:
    """Exponential, elementwise."""
    result: Number = np.exp(value)
    return result


def log(value: Number) -> Number:
    """Natural logarithm, elementwise."""
    result: Number = np.log(value)
    return result


def log10(value: Number) -> Number:
    """Decimal logarithm, elementwise."""
    result: Number = np.log10(value)
    return result


def sqrt(value: Number) -> Number:
    """Square root, elementwise."""
    result: Number = np.sqrt(value)
    return result


def lesser(first: Number, second: Number | float) -> Number:
    """Smaller of the two, elementwise."""
    result: Number = np.minimum(first, second)
    return result


def greater(first: Number, second: Number | float) -> Number:
    """Larger of the two, elementwise."""
    result: Number = np.maximum(first, second)
    return result


def ceiling(value: Number) -> Number:
    """Next whole number upwards, elementwise."""
    result: Number = np.ceil(value)
    return result


def choose(condition: object, then: Number | float, otherwise: Number | float) -> Number:
    """Pick elementwise: ``then`` where the condition holds, else ``otherwise``."""
    result: Number = np.where(condition, then, otherwise)  # type: ignore[call-overload]
    return result


def time_towards(start: Number, end: Number, final: Number, constant: Number) -> Number:
    """Time from start to end on an exponential way to final; infinite if end does not lie on the way."""
    on_the_way = ((end - start) * (final - end) > 0.0) | (end == start)
    span: Number = choose(start == final, 1.0, start - final)
    share: Number = choose(on_the_way & (start != final), (end - final) / span, 1.0)
    return choose(on_the_way, -constant * log(share), np.inf)
