"""The schema for editors, judged by a validator that is none of ours, and the tables made from the same models.

JSON Schema 2020-12 as read by the library jsonschema; plans are loaded with the core schema of YAML 1.2
(yaml.org/spec/1.2.2, section 10.3.2), as editors load them.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from moveplan.planfile.editor import plan_schema
from moveplan.planfile.reference import reference_table
from moveplan.units import Measure, quantity_pattern
from moveplan.units.table import TARGETS, UNITS

ROOT = Path(__file__).parents[2]
CASES = Path(__file__).parent / "cases"
PLANS = [*sorted((ROOT / "examples").glob("*.yaml")), Path(__file__).parent / "full_plan.yaml"]
SCHEMA = plan_schema()
VALIDATOR = Draft202012Validator(SCHEMA)

REFUSED = (
    "bare_confidence",
    "bare_gallon",
    "cost_without_unit",
    "count_not_whole",
    "country_words",
    "currency_unknown",
    "dates_missing",
    "day_month_year",
    "decimal_comma",
    "drive_is_a_word",
    "drive_times_incomplete",
    "drives_are_no_list",
    "gear_wrong",
    "hours_wrong",
    "ids_wrong",
    "keys_where_text_belongs",
    "kind_missing",
    "list_where_keys_belong",
    "list_where_text_belongs",
    "misspelt_key",
    "move_day_and_window",
    "move_day_missing",
    "negative_price",
    "negative_volume",
    "no_systems",
    "no_unit",
    "not_numbers",
    "timezone_empty",
    "timezone_missing",
)
"""Wrong plans of the reader's own cases whose fault a schema can express."""


class CoreLoader(yaml.SafeLoader):
    """Loads scalars by the core schema of YAML 1.2."""


CoreLoader.yaml_implicit_resolvers = {}


for _tag, _form, _first in (
    ("bool", "true|True|TRUE|false|False|FALSE", "tTfF"),
    ("int", "[-+]?[0-9]+", "-+0123456789"),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", "-+.0123456789"),
    ("null", "~|null|Null|NULL|", "~nN"),
):
    CoreLoader.add_implicit_resolver(f"tag:yaml.org,2002:{_tag}", re.compile(f"^(?:{_form})$"), [*_first])


def loaded(text: str) -> Any:
    return yaml.load(text, Loader=CoreLoader)  # noqa: S506 - a safe loader


def faults(text: str) -> list[str]:
    return [f"{error.json_path}: {error.message}" for error in VALIDATOR.iter_errors(loaded(text))]


KEYS = [
    *SCHEMA["properties"].items(),
    *SCHEMA["properties"]["policy"]["properties"].items(),
    *(
        (f"{name}.{key}", inner)
        for name, entry in SCHEMA["$defs"].items()
        for key, inner in entry.get("properties", {}).items()
    ),
]


def test_it_is_a_schema_of_2020_12() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert len(KEYS) > 200


@pytest.mark.parametrize(("name", "key"), KEYS, ids=[name for name, _key in KEYS])
def test_key_is_told_about_and_its_examples_fit(name: str, key: dict[str, Any]) -> None:
    assert key["title"]
    assert key["description"].endswith(".")
    assert key["examples"]
    validator = Draft202012Validator({**key, "$defs": SCHEMA["$defs"]})
    for example in key["examples"]:
        validator.validate(example)


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_sound_plans_are_accepted(path: Path) -> None:
    assert faults(path.read_text("utf-8")) == []


@pytest.mark.parametrize("name", REFUSED)
def test_wrong_plans_are_refused(name: str) -> None:
    assert faults((CASES / f"{name}.yaml").read_text("utf-8"))


def test_both_forms_of_a_section_are_accepted() -> None:
    head = "title: A\npurpose: own-tasks\n"
    assert faults(f"{head}tasks: {{a: {{duration: 1 h}}, b: {{duration: 90 min, after: a}}}}") == []
    assert faults(f"{head}tasks: [{{id: a, duration: 1 h}}, {{id: b, duration: 90 min, after: [a]}}]") == []
    assert faults(f"{head}tasks: [{{duration: 1 h}}]")
    assert faults(f"{head}tasks: {{'a b': {{duration: 1 h}}}}")


@pytest.mark.parametrize("kind", sorted(UNITS))
def test_every_unit_that_is_read_fits_the_pattern(kind: str) -> None:
    pattern = re.compile(quantity_pattern(kind, signed=False))
    measure = Measure(next(unit for unit, target in TARGETS.items() if target.kind == kind), 0, 1e12, "")
    for unit in UNITS[kind]:
        for text in (f"273.5 {unit}", f" 273.5{unit.upper()} "):
            measure.read(text)
            assert pattern.search(text), text
    for text in ("3", "-3", f"-3 {unit}", f"3 {unit} x", "3 gallon", "", unit):
        assert not pattern.search(text), text


def test_tables_name_every_key_once() -> None:
    table = reference_table()
    for name, _key in KEYS:
        if not name.endswith(".id"):
            key = name.rpartition(".")[2]
            assert f"| `{key}` |" in table or key in SCHEMA["properties"]["policy"]["properties"], name
    rows = [line for line in table.splitlines() if line.startswith("| `")]
    assert len(rows) > 150
    assert all(len(re.findall(r"(?<!\\)\|", row)) == 6 for row in rows)
    assert (
        "| `sump` | Water in the sump while running. | l, US gal | a fifth of the tank's inner volume"
        in table
    )
    assert "| `timezone` | Time zone of all times in the plan. |  | needed | `Europe/Dublin` |" in table
