"""No formula gives not-a-number anywhere in the ranges that it declares; arrays get the answers of floats."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest

from moveplan.errors import OutOfRangeError
from moveplan.science.ranges import arguments
from tests.science.modules import science_modules

POINTS = 200


def _formulas() -> Iterator[Any]:
    for module, content in science_modules():
        for name, function in inspect.getmembers(content, inspect.isfunction):
            if function.__module__ == content.__name__ and hasattr(function, "__wrapped__"):
                yield pytest.param(function, id=f"{module}.{name}")


def _samples(name: str, generator: np.random.Generator) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Draw the usual range, the whole range and its two ends."""
    entry = arguments()[name]
    usual = generator.uniform(entry.usual_low, entry.usual_high, POINTS // 2)
    whole = generator.uniform(entry.low, entry.high, POINTS // 2 - 2)
    values = np.concatenate([usual, whole, [entry.low, entry.high]])
    generator.shuffle(values)
    return values


@pytest.mark.parametrize("function", list(_formulas()))
def test_a_formula_gives_a_number_or_refuses(function: Callable[..., Any]) -> None:
    generator = np.random.default_rng(20_250_101)
    names = [name for name in inspect.signature(function).parameters if name in arguments()]
    columns = {name: _samples(name, generator) for name in names}
    answered = 0
    for row in range(POINTS):
        given = {name: float(column[row]) for name, column in columns.items()}
        try:
            result = function(**given)
        except OutOfRangeError:
            continue
        answered += 1
        assert not np.isnan(result), given
        as_array = function(**{name: np.array([value]) for name, value in given.items()})
        np.testing.assert_allclose(np.ravel(as_array)[0], result, rtol=1e-9, err_msg=str(given))
    assert answered >= 10
