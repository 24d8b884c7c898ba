"""Every module of the science, by its name inside the package."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from types import ModuleType

import moveplan.science


def science_modules() -> Iterator[tuple[str, ModuleType]]:
    """Give each module with its name, such as ``gas.transit``."""
    for found in pkgutil.walk_packages(moveplan.science.__path__, "moveplan.science."):
        if not found.ispkg:
            yield found.name.removeprefix("moveplan.science."), importlib.import_module(found.name)
