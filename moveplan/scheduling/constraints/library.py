"""The solver's layer for Python, loaded without pandas: it takes and gives tables of it, of which nothing here is one.

Loading pandas takes about twice as long as loading the solver.
"""

from __future__ import annotations

import importlib
import sys
from types import ModuleType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

__all__ = ["cp_model"]

_LAYER, _TABLES = "ortools.sat.python.cp_model", "pandas"


def _loaded() -> ModuleType:
    """Load the layer with two empty classes in the place of pandas; as usual where that does not do."""
    if _LAYER in sys.modules or _TABLES in sys.modules:
        return importlib.import_module(_LAYER)
    sys.modules[_TABLES] = _stand_in()
    try:
        return importlib.import_module(_LAYER)
    except (AttributeError, ImportError, TypeError):  # a version that asks more of pandas
        sys.modules.pop(_LAYER, None)
    finally:
        del sys.modules[_TABLES]
    return importlib.import_module(_LAYER)


def _stand_in() -> ModuleType:
    tables = ModuleType(_TABLES)
    vars(tables).update(Index=type("Index", (), {}), Series=type("Series", (), {}))
    return tables


if not TYPE_CHECKING:
    cp_model = _loaded()
