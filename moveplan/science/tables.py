"""Data files of this package, read once."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources
from typing import Any


@cache
def table(name: str) -> dict[str, Any]:
    """Read ``data/NAME.toml``; callers must not change what they get.

    >>> table("arguments")["salinity_psu"]["unit"]
    '-'
    """
    text = resources.files("moveplan.science").joinpath("data", f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def kinetic(name: str) -> float:
    """Give one constant of the growth of a filter, in the unit that data/nitrification.toml says."""
    return float(table("nitrification")["kinetics"][name]["value"])
