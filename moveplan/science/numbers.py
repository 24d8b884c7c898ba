"""Elementwise functions that give a float for a float and an array for an array.

Formulas are written once; these few wrappers keep their types honest for both kinds of argument. Who reckons with
single numbers needs no array, and does not wait for the library of arrays to be loaded.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Array: TypeAlias = "NDArray[np.float64]"
Number = TypeVar("Number", float, "Array")
KELVIN = 273.15
"""0 °C on the scale of kelvin; by definition. [K]"""


def as_given(value: Any) -> Any:
    """Give a float for anything without dimensions, and leave everything else alone.

    >>> import numpy as np
    >>> as_given(np.float64(2.5))
    2.5
    """
    return float(value) if isinstance(value, float) or getattr(value, "ndim", 1) == 0 else value


def _each(name: str, value: Any) -> Any:
    """Apply a function that both libraries have; what is not finite is left to that of arrays."""
    if type(value) is float:
        try:
            return getattr(math, name)(value)
        except (ValueError, OverflowError):
            pass
    return getattr(_arrays(), name)(value)


def _arrays() -> Any:
    """Give the library of arrays."""
    import numpy as np

    return np


def exp(value: Number) -> Number:
    """Exponential, elementwise."""
    result: Number = _each("exp", value)
    return result


def log(value: Number) -> Number:
    """Natural logarithm, elementwise."""
    result: Number = _each("log", value)
    return result


def log10(value: Number) -> Number:
    """Decimal logarithm, elementwise."""
    result: Number = _each("log10", value)
    return result


def sqrt(value: Number) -> Number:
    """Square root, elementwise."""
    result: Number = _each("sqrt", value)
    return result


def lesser(first: Number, second: Number | float) -> Number:
    """Smaller of the two, elementwise."""
    result: Number = _arrays().minimum(first, second)
    return result


def greater(first: Number, second: Number | float) -> Number:
    """Larger of the two, elementwise."""
    result: Number = _arrays().maximum(first, second)
    return result


def ceiling(value: Number) -> Number:
    """Next whole number upwards, elementwise."""
    result: Number = _arrays().ceil(value)
    return result


def choose(condition: object, then: Number | float, otherwise: Number | float) -> Number:
    """Pick elementwise: ``then`` where the condition holds, else ``otherwise``."""
    result: Number = _arrays().where(condition, then, otherwise)
    return result


def time_towards(start: Number, end: Number, final: Number, constant: Number) -> Number:
    """Time from start to end on an exponential way to final; infinite if end does not lie on the way."""
    on_the_way = ((end - start) * (final - end) > 0.0) | (end == start)
    span: Number = choose(start == final, 1.0, start - final)
    share: Number = choose(on_the_way & (start != final), (end - final) / span, 1.0)
    return choose(on_the_way, -constant * log(share), math.inf)
