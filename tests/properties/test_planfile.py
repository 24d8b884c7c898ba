"""Whatever is fed to the plan reader, it reads a plan or says in sentences what is wrong."""

from __future__ import annotations

import copy
import os
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from moveplan.errors import PlanFileError, Problem
from moveplan.plan.move import Plan
from moveplan.planfile import read_plan
from moveplan.planfile.text import composed
from moveplan.planfile.walk import plain

CASES = int(os.environ.get("FUZZ_CASES", "100"))
NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
TEXTS = [path.read_bytes() for path in EXAMPLES]
CONTENTS = [plain(composed(text.decode())[0]) for text in TEXTS]
OWN_TASKS: dict[str, Any] = {
    "title": "Footbridge",
    "purpose": "own-tasks",
    "timezone": "Europe/Dublin",
    "start": "2027-03-01 08:00",
    "gear": [{"id": "pumps", "count": "2"}],
    "people": {"ines": {"hours": {"mon-fri": "08:00-17:00"}, "away": ["2027-03-03"]}},
    "tasks": [
        {"id": "footing", "duration": "3 h", "gear": {"pumps": "1"}, "people": "1"},
        {"id": "deck", "duration": {"low": "1 h", "likely": "1 day", "high": "2 days"}, "after": ["footing"]},
        {"id": "rail", "duration": "90 min", "after": [{"task": "deck", "gap": "-30 min", "at-most": "4 h"}]},
    ],
}
HOSTILE = [
    "",
    "0",
    "-1",
    "NaN",
    "inf",
    "-inf",
    "1e400",
    "9" * 400,
    "0 l",
    "-5 kg",
    "1e9 m",
    "12 gal",
    "no",
    "~",
    "null",
    "2027-02-30",
    "99:99",
    "\u202eabc",
    "Ⅷ l",
    "١٢ cm",
    "a" * 10_000,
    "\x00",
    "\ud800",
    "{x: 1}",
    "<script>",
    "../..",
    "FREQ=DAILY;COUNT=9999999",
    "P0-P100",
    [],
    {},
    ["a", "a"],
    [[[]]],
    {"a": {"b": {"c": []}}},
    {"low": "1 h", "likely": "1 h", "high": "1 h"},
]


def read(content: bytes) -> Plan | None:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "plan.yaml"
        file.write_bytes(content)
        problems: tuple[Problem, ...] = ()
        try:
            return read_plan(file, NOW)
        except PlanFileError as error:
            problems = error.problems
    assert problems
    assert all(problem.message and problem.where for problem in problems)
    assert all(str(problem).isprintable() for problem in problems)
    return None


def written(content: Any) -> bytes:
    text: str = yaml.dump(content, sort_keys=False, allow_unicode=True, width=1000, Dumper=yaml.SafeDumper)
    return text.encode("utf-8", "surrogatepass")


def places_in(content: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    rows = content.items() if isinstance(content, dict) else enumerate(content)
    for step, inner in rows:
        yield (*path, step)
        if isinstance(inner, dict | list):
            yield from places_in(inner, (*path, step))


@st.composite
def mutated(draw: st.DrawFn) -> Any:
    content = copy.deepcopy(draw(st.sampled_from([*CONTENTS, OWN_TASKS])))
    for _ in range(draw(st.integers(1, 3))):
        places = list(places_in(content))
        *above, last = draw(st.sampled_from(places))
        holder = content
        for step in above:
            holder = holder[step]
        match draw(st.integers(0, 3)):
            case 0:
                del holder[last]
            case 1 if isinstance(holder, dict):
                holder[draw(st.text(max_size=8))] = holder.pop(last)
            case 2:
                *other, other_last = draw(st.sampled_from(list(places_in(content))))
                source = content
                for step in other:
                    source = source[step]
                holder[last] = copy.deepcopy(source[other_last])
            case _:
                holder[last] = copy.deepcopy(draw(st.sampled_from(HOSTILE)))
    return content


@settings(max_examples=CASES, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(mutated())
def test_mutated_plans(content: Any) -> None:
    read(written(content))


@settings(max_examples=CASES, deadline=None)
@given(
    st.binary(max_size=200) | st.text(alphabet="{}[]:,-&*!|>'\"#%@`? \n\tab1", max_size=80).map(str.encode)
)
def test_any_bytes(content: bytes) -> None:
    read(content)


@settings(max_examples=CASES, deadline=None)
@given(st.data())
def test_bytes_changed_in_an_example(data: st.DataObject) -> None:
    content = bytearray(data.draw(st.sampled_from(TEXTS)))
    for _ in range(data.draw(st.integers(1, 4))):
        content[data.draw(st.integers(0, len(content) - 1))] = data.draw(st.integers(0, 255))
    read(bytes(content))


def test_every_key_of_every_example_taken_out() -> None:
    for content in [*CONTENTS, OWN_TASKS]:
        for place in places_in(content):
            trial = copy.deepcopy(content)
            holder = trial
            for step in place[:-1]:
                holder = holder[step]
            del holder[place[-1]]
            read(written(trial))
