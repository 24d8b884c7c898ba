"""Data files of this package, read once."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from moveplan.kept import table_of


@cache
def table(name: str) -> dict[str, Any]:
    """Read ``data/NAME.toml``; callers must not change what they get.

    >>> table("arguments")["salinity_psu"]["unit"]
    '-'
    """
    return table_of(Path(__file__).parent / "data" / f"{name}.toml")


def kinetic(name: str) -> float:
    """Give one constant of the growth of a filter, in the unit that data/nitrification.toml says."""
    return float(table("nitrification")["kinetics"][name]["value"])
