"""Reference tables of the science package: values from outside, each with its source, tolerance and reason.

``kind`` says how a value came about: ``published`` in the source, by another ``library`` (recomputed by the tests
beside this one), or by ``hand`` from the source's formula.  The three are counted apart.
"""

from __future__ import annotations

import importlib
import inspect
import math
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from moveplan.science.filter.cycling import cycle_curve, days_to_limit, ripe_start, seeded_start
from moveplan.science.gas.ends import gas_limits
from moveplan.science.gas.transit import Stay, TransitLimits, safe_time, safe_times, water_states
from moveplan.science.gas.vessels import GasLimits, Phase, Vessels
from moveplan.science.heat.path import end_temperatures_c, first_exit_h, outside_h
from moveplan.science.heat.vessels import Segment, vessels_of
from moveplan.science.water.carbonate_constants import constants
from tests.science.modules import science_modules

FILES = sorted((Path(__file__).parent / "data").glob("science_*.toml"))
USUAL_STAY: dict[str, float] = {
    "temperature_c": 26.0,
    "salinity_psu": 35.0,
    "oxygen_use_mg_h": 10.4326,
    "ammonia_mg_n_h": 0.45666,
    "oxygen_fraction": 1.0,
    "aeration_h": 0.0,
    "ambient_c": 26.0,
    "constant_h": 20.0,
}
USUAL_LIMITS: dict[str, float] = {
    "oxygen_minimum_mg_l": 4.0,
    "carbon_dioxide_limit_mg_l": 15.0,
    "ammonia_limit_mg_n_l": 0.05,
    "lowest_c": 22.0,
    "highest_c": 29.0,
    "policy_h": 24.0,
    "safety_factor": 0.7,
    "ph_aerated": 8.2,
}
NOT_FORMULAS = {"numbers", "ranges", "tables", "limits", "gas.bag", "gas.boxes", "gas.vessels"}
LOOKUPS = {
    "kinds",
    "kind_named",
    "kind_of",
    "row_like",
    "groups",
    "shapes",
    "endangers",
    "walls",
    "vehicle_airs",
    "circuits",
    "outside_air",
}


def _stay(given: dict[str, float]) -> Stay:
    return Stay(**(USUAL_STAY | given))


def _limits(given: dict[str, float]) -> TransitLimits:
    return TransitLimits(**(USUAL_LIMITS | given))


def _curve_days(seeding: str, temperature_c: float, of: str, limit: float) -> float:
    curve = cycle_curve(seeded_start(2.0, seeding), temperature_c)
    return float(days_to_limit(curve.day, getattr(curve, of), limit)[0])


def _peak_after_loss(kept_fraction: float, of: str) -> float:
    curve = cycle_curve(ripe_start(0.2, 26.0, kept_fraction), 26.0, 0.2, days=60.0)
    return float(getattr(curve, of).max())


def _way(rows: list[dict[str, Any]]) -> list[Segment]:
    return [Segment(**row) for row in rows]


def _with_constants(function: Callable[..., Any]) -> Callable[..., Any]:
    def call(at: list[float], **given: float) -> Any:
        columns = {name: np.array([value]) for name, value in given.items()}
        result = function(**columns, known=constants(np.array([at[0]]), np.array([at[1]])))
        return float(result[0])

    return call


def _gas_limits(oxygen_minimum_mg_l: float, **vessel: float) -> Any:
    usual = {"water_area_m2": 0.2, "temperature_c": 26.0, "salinity_psu": 35.0, "quiet": 2.0, "peak": 2.0}
    found = gas_limits(Vessels(**(usual | vessel)), [Phase(1.0)], GasLimits(oxygen_minimum_mg_l, 15.0))
    return [float(hours[0]) for hours in found]


ADAPTED: dict[str, Callable[..., Any]] = {
    "gas.ends:gas_limits": _gas_limits,
    "gas.transit:safe_time": lambda stay, limits: safe_time(_stay(stay), _limits(limits)),
    "gas.transit:safe_times": lambda stay, limits: safe_times([_stay(stay)], [_limits(limits)])[0],
    "gas.transit:water_states": lambda stay, duration_h: water_states([_stay(stay)], [duration_h])[0],
    "filter.cycling:days_to_limit": _curve_days,
    "filter.cycling:ripe_start": _peak_after_loss,
}
ADAPTED |= {
    "heat.path:end_temperatures_c": lambda vessel, start_c, way, segment: float(
        end_temperatures_c(vessels_of(**vessel), start_c, _way(way))[segment, 0]
    ),
    "heat.path:first_exit_h": lambda vessel, start_c, way, lowest_c, highest_c: float(
        first_exit_h(vessels_of(**vessel), start_c, _way(way), lowest_c, highest_c)[0]
    ),
    "heat.path:outside_h": lambda vessel, start_c, way, lowest_c, highest_c: float(
        outside_h(vessels_of(**vessel), start_c, _way(way), lowest_c, highest_c)[0]
    ),
}
THROUGH: dict[str, Callable[[float], float]] = {
    "": lambda value: value,
    "log10": math.log10,
    "log": math.log,
    "thousandfold": lambda value: 1000.0 * value,
}


def _tables() -> Iterator[dict[str, Any]]:
    for path in FILES:
        content = tomllib.loads(path.read_text(encoding="utf-8"))
        for table in content["table"]:
            yield {"source": content["source"], "known_as": content["known_as"], **table}


def _cases() -> Iterator[Any]:
    for table in _tables():
        for number, row in enumerate(table["rows"]):
            yield pytest.param(table, row, id=f"{table['function']}-{table['kind']}-{number}")


def _called(name: str) -> Callable[..., Any]:
    if name in ADAPTED:
        return ADAPTED[name]
    module, function = name.split(":")
    found: Callable[..., Any] = getattr(importlib.import_module(f"moveplan.science.{module}"), function)
    return _with_constants(found) if "known" in inspect.signature(found).parameters else found


@pytest.mark.parametrize(("table", "row"), list(_cases()))
def test_a_value_agrees_with_its_source(table: dict[str, Any], row: dict[str, Any]) -> None:
    result = _called(table["function"])(**row["with"])
    result = getattr(result, table["field"]) if "field" in table else result
    result = result[table["item"]] if "item" in table else result
    result = THROUGH[table.get("through", "")](result) / table.get("over", 1.0)
    assert result == pytest.approx(row["gives"], rel=0.0, abs=table["tolerance"]), table["source"]


def test_a_table_says_where_its_values_come_from_and_how_exact_they_are() -> None:
    for table in _tables():
        assert table["kind"] in {"published", "library", "hand"}
        assert table["known_as"] in {"found", "recalled", "computed by hand", "computed by library"}
        assert table["source"]
        assert table["why"]
        assert table["unit"]
        assert table["tolerance"] >= 0.0


def test_there_are_enough_values_from_enough_sources() -> None:
    counts: Counter[str] = Counter()
    for table in _tables():
        counts[table["kind"]] += len(table["rows"])
    published = {table["source"] for table in _tables() if table["kind"] != "hand"}
    assert counts["published"] >= 60
    assert counts["library"] >= 30
    assert counts["hand"] >= 60
    assert len(published) >= 15


def _public_functions() -> Iterator[str]:
    for module, content in science_modules():
        if module in NOT_FORMULAS:
            continue
        for name, function in inspect.getmembers(content, inspect.isfunction):
            if function.__module__ == content.__name__ and not name.startswith("_") and name not in LOOKUPS:
                yield f"{module}:{name}"


def test_every_formula_is_checked_against_something_outside() -> None:
    from_gsw = {
        "water.seawater:specific_gravity"
    }  # a ratio of two densities that are checked against UNESCO (1983)
    checked: set[str] = set()
    for table in _tables():
        if table["function"] in from_gsw or table["kind"] != "library" or "gsw" not in table["why"]:
            checked |= {table["function"], *table.get("also", [])}
    assert set(_public_functions()) - checked == set()


def test_no_table_names_a_function_that_is_gone() -> None:
    known = set(_public_functions())
    named = {name for table in _tables() for name in (table["function"], *table.get("also", []))}
    assert named - known == set()
