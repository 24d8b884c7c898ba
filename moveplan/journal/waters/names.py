"""Names of waters: a system's own, and that of its new tank while the old one still runs beside it."""

from __future__ import annotations

NEW = ".new"


def new_water_of(system: str) -> str:
    """Name the water of the new tank of a system.

    >>> new_water_of("reef")
    'reef.new'
    """
    return f"{system}{NEW}"
