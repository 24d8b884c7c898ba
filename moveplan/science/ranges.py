"""What each argument means, in which unit, and in which range the formulas may be trusted.

One name means one thing in the whole package (data/arguments.toml).  A value outside ``low`` to ``high`` is
refused with :class:`~moveplan.errors.OutOfRangeError`; a value inside it but outside the usual range is
accepted, and the caller may ask with :func:`unusual` and say so.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache, wraps
from itertools import chain
from typing import Any, TypeVar, cast

from moveplan.errors import OutOfRangeError
from moveplan.science.numbers import as_given
from moveplan.science.tables import table

Formula = TypeVar("Formula", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True)
class Argument:
    """Meaning, unit and range of one argument.

    Parameters
    ----------
    name : str
        The argument's name in every function that takes it. [-]
    meaning : str
        What it is, in one phrase. [-]
    unit : str
        Its unit; a hyphen for a pure number. [-]
    low, high : float
        Values outside are refused. [-]
    usual_low, usual_high : float
        Values outside deserve a caution. [-]
    source : str
        Where the range comes from. [-]
    """

    name: str
    meaning: str
    unit: str
    low: float
    high: float
    usual_low: float
    usual_high: float
    source: str


@cache
def arguments() -> Mapping[str, Argument]:
    """Every argument of the package by name."""
    return {name: _argument(name, row) for name, row in table("arguments").items()}


def _argument(name: str, row: dict[str, Any]) -> Argument:
    low, high = map(float, row["range"])
    usual_low, usual_high = map(float, row.get("usual", row["range"]))
    return Argument(name, row["meaning"], row["unit"], low, high, usual_low, usual_high, row["source"])


def within(name: str, value: Any, low: float, high: float, source: str) -> None:
    """Refuse a value, or an array with any value, that is not in ``low`` to ``high``.

    Raises
    ------
    OutOfRangeError
        With the first value that is outside; not-a-number is always outside.

    >>> within("salinity_psu", [35.0, 50.0], 0, 42, "range of the fit")
    Traceback (most recent call last):
    ...
    moveplan.errors.OutOfRangeError: salinity_psu = 50.0 is outside 0 to 42 (range of the fit)
    """
    if isinstance(value, (float, int)):
        if not low <= value <= high:
            raise OutOfRangeError(name, value, low, high, source)
        return
    import numpy as np

    values = np.asarray(value, dtype=np.float64)
    outside = ~((values >= low) & (values <= high))
    if outside.any():
        raise OutOfRangeError(name, float(values[outside].flat[0]), low, high, source)


def check(**values: Any) -> None:
    """Refuse any value outside the range that the glossary gives its argument.

    >>> check(temperature_c=26.0, salinity_psu=float("nan"))
    Traceback (most recent call last):
    ...
    moveplan.errors.OutOfRangeError: salinity_psu = nan is outside 0 to 42 (range of TEOS-10)
    """
    known = arguments()
    for name, value in values.items():
        entry = known[name]
        within(name, value, entry.low, entry.high, entry.source)


def ordered(lower_name: str, lower: Any, upper_name: str, upper: Any) -> None:
    """Refuse a pair in which the lower value lies above the upper one.

    >>> ordered("salinity_psu", 36.0, "target_salinity_psu", 35.0)
    Traceback (most recent call last):
    ...
    moveplan.errors.OutOfRangeError: target_salinity_psu = 35.0 is outside 36 to inf (at least salinity_psu)
    """
    import numpy as np

    low, high = np.broadcast_arrays(lower, upper)
    wrong = ~(low <= high)
    if wrong.any():
        bound = float(low[wrong].flat[0])
        raise OutOfRangeError(
            upper_name, float(high[wrong].flat[0]), bound, math.inf, f"at least {lower_name}"
        )


def ranged(function: Formula) -> Formula:
    """Check every argument that the glossary knows; give a float where all arguments were floats."""
    names = tuple(inspect.signature(function).parameters)

    @wraps(function)
    def checked(*args: Any, **kwargs: Any) -> Any:
        known = arguments()
        for name, value in chain(zip(names, args, strict=False), kwargs.items()):
            entry = known.get(name)
            if entry is None or (type(value) is float and entry.low <= value <= entry.high):
                continue  # most arguments of most calls: formulas call each other
            within(name, value, entry.low, entry.high, entry.source)
        return as_given(function(*map(_number, args), **{k: _number(v) for k, v in kwargs.items()}))

    return cast("Formula", checked)


def _number(value: Any) -> Any:
    if not isinstance(value, (list, tuple)):
        return value
    import numpy as np

    return np.asarray(value, dtype=np.float64)
