"""Docstrings of the science package cannot drift from the code: signature, units, sources, glossary."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from moveplan.science.ranges import arguments
from tests.science.modules import science_modules

PLUMBING = {"numbers", "tables", "ranges"}
NO_RANGE = {"alkalinity", "ammonia", "carbon", "carbon_dioxide", "concentration", "day", "gas_ratio"}
NO_RANGE |= {"hydrogen", "limit"}
"""Arguments of inner functions that take what other functions made, in mol/kg or as whole curves."""


def _public() -> Iterator[Any]:
    for module, content in science_modules():
        if module in PLUMBING:
            continue
        for name, function in inspect.getmembers(content, inspect.isfunction):
            if function.__module__ == content.__name__ and not name.startswith("_"):
                yield pytest.param(function, id=f"{module}.{name}")


EVERY_FUNCTION = pytest.mark.parametrize("function", list(_public()))


def _section(function: Callable[..., Any], title: str) -> str:
    text = inspect.getdoc(function) or ""
    found = re.search(rf"^{title}\n-+\n(.*?)(?=^\w[\w ]*\n---|\Z)", text, re.MULTILINE | re.DOTALL)
    return found.group(1) if found else ""


def _documented(function: Callable[..., Any]) -> dict[str, str]:
    """Names of the parameters section with the unit that closes each."""
    entries = re.findall(
        r"^(\w[\w, ]*) : .*?\n((?:    .*\n?)+)", _section(function, "Parameters"), re.MULTILINE
    )
    return {
        name.strip(): re.findall(r"\[([^\[\]]*)\]\s*\Z", body)[0] if body.strip().endswith("]") else ""
        for names, body in entries
        for name in names.split(",")
    }


@EVERY_FUNCTION
def test_parameters_are_those_of_the_signature_and_end_with_a_unit(function: Callable[..., Any]) -> None:
    documented = _documented(function)
    assert list(documented) == list(inspect.signature(function).parameters)
    assert all(documented.values()), documented


@EVERY_FUNCTION
def test_units_are_those_of_the_glossary(function: Callable[..., Any]) -> None:
    for name, unit in _documented(function).items():
        if name in arguments():
            assert unit == arguments()[name].unit, name


@EVERY_FUNCTION
def test_every_number_has_a_range(function: Callable[..., Any]) -> None:
    for name, parameter in inspect.signature(function).parameters.items():
        if re.fullmatch(r"(Number|float|float \| Array|Number \| float|Array)", str(parameter.annotation)):
            assert name in arguments() or name in NO_RANGE, name


@EVERY_FUNCTION
def test_what_comes_back_and_why_is_said(function: Callable[..., Any]) -> None:
    if not inspect.signature(function).parameters:
        assert ">>>" in (inspect.getdoc(function) or "")
        return
    assert _section(function, "Returns").rstrip().endswith("]")
    assert _section(function, "References") or _section(function, "Notes")
    if function.__name__ != "safe_times":
        assert ">>>" in _section(function, "Examples")
