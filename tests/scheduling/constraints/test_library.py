"""The solver's layer is loaded without pandas where that does, and as usual where it does not."""

from __future__ import annotations

import subprocess
import sys

import pytest

pytest.importorskip("ortools")

SOLVED = """
model = cpsat.cp_model.CpModel()
length = model.new_int_var(3, 9, "length")
model.minimize(length)
solver = cpsat.cp_model.CpSolver()
solver.solve(model)
print(solver.value(length), "pandas" in sys.modules, type(sys.modules.get("pandas", sys)).__name__)
"""
LOADED = "import sys; import moveplan.scheduling.constraints.library as cpsat"
ASKS_MORE = """
import sys, types
import moveplan.scheduling.constraints.library as cpsat
del sys.modules["ortools.sat.python.cp_model"]
cpsat._stand_in = lambda: types.ModuleType("pandas")
cpsat.cp_model = cpsat._loaded()
"""
BEFORE = """
import sys, pandas
import moveplan.scheduling.constraints.library as cpsat
assert cpsat.cp_model.pd is pandas
"""


def said(code: str) -> str:
    command = [sys.executable, "-c", code + SOLVED]
    return subprocess.run(command, check=True, capture_output=True, text=True, timeout=120).stdout.strip()


def test_it_solves_and_leaves_no_trace_of_the_stand_in() -> None:
    assert said(LOADED) == "3 False module"


def test_where_pandas_is_loaded_already_it_is_used() -> None:
    assert said(BEFORE) == "3 True module"


def test_where_the_layer_asks_more_of_pandas_it_is_loaded_as_usual() -> None:
    assert said(ASKS_MORE) == "3 True module"
