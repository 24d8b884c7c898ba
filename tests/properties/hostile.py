"""What is thrown at the readers: values no keeper would write, and plans with one of them at some key."""

from __future__ import annotations

import contextlib
import copy
import io
import os
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, TypeVar

import yaml

from moveplan.cli.terminal.findings import print_checks
from moveplan.errors import MoveplanError
from moveplan.pipeline import Settings, compose, read
from moveplan.planfile.schema.leaves import Choice, Number, Quantity, YesNo
from moveplan.planfile.shapes import field_at
from moveplan.planfile.text import composed
from moveplan.planfile.walk import plain
from moveplan.units import show_number
from tests.planfile.test_schema import leaves_of

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.yaml"))
TEXTS = [path.read_bytes() for path in EXAMPLES]
CONTENTS = [plain(composed(text.decode())[0]) for text in TEXTS]
NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
CASES = int(os.environ.get("FUZZ_CASES", "0"))
"""Cases of each kind in a developer's campaign; 0: the few of an ordinary run."""
SLOW_CASES = CASES // 20
"""The same of those that go through quantities and practice, each a quarter of a second."""

DELETE = object()
VALUES: list[Any] = [
    DELETE,
    "",
    "0",
    "-0",
    "-1",
    "1",
    "2",
    "NaN",
    ".nan",
    "inf",
    "-inf",
    "1e400",
    "1e-400",
    "9" * 12,
    "9" * 400,
    "0.000000000001",
    "0 l",
    "0 kg",
    "0 cm",
    "0 min",
    "0 h",
    "0 W",
    "0 km",
    "-5 kg",
    "99999 l",
    "19999 kg",
    "19 m",
    "0.11 m",
    "2 mm",
    "2999 km",
    "40 C",
    "-30 C",
    "100 %",
    "0 %",
    "5256000 min",
    "12 gal",
    "yes",
    "no",
    "~",
    "null",
    "2000-01-01",
    "2027-01-05",
    "2199-12-31",
    "2027-02-30",
    "2027-03-28 01:30",
    "2027-10-31 01:30",
    "2027-01-05 to 2027-12-31",
    "00:00-24:00",
    "23:59-23:58",
    "99:99",
    "FREQ=DAILY;COUNT=9999",
    "FREQ=YEARLY;BYMONTHDAY=31;BYMONTH=2",
    "Pacific/Apia",
    "Asia/Kathmandu",
    "Antarctica/Troll",
    "EUR",
    "XXX",
    "ZZ",
    "\u202eabc",
    "Ⅷ l",
    "\u200b",
    "\ufeff12 l",
    "\uff11\uff12\uff10 cm",
    "12\u00a0l",
    "\u221212 l",
    "\u00bd l",
    "\u0130\u0131\ufb01",
    "\U000e0041",
    "1e9 m",
    "1e308 kg",
    "١٢ cm",
    "a\u0300\u0301" * 50,
    "\U0001f420" * 30,
    "a" * 19_000,
    "a" * 21_000,
    "\x00",
    "\u2028",
    "<script>alert(1)</script>",
    "{{ 7 * 7 }}",
    "{% raw %}",
    "=1+1",
    "../..",
    "%s%n",
    "old",
    "new",
    "reef",
    "display",
    "P1-P99",
    [],
    {},
    [""],
    ["a", "a"],
    [[[]]],
    {"": ""},
    {"a": {"b": {"c": []}}},
    {"low": "1 h", "likely": "1 h", "high": "1 h"},
    {"low": "0 min", "likely": "0 min", "high": "2880 min"},
]

Value = TypeVar("Value")
Refusal = TypeVar("Refusal", bound=Exception)
Place = tuple[str | int, ...]


def written(content: Any) -> bytes:
    """Write content as YAML, surrogates and all."""
    text: str = yaml.dump(content, sort_keys=False, allow_unicode=True, width=1000, Dumper=yaml.SafeDumper)
    return text.encode("utf-8", "surrogatepass")


def places_in(content: Any, path: Place = ()) -> Iterator[Place]:
    """Find every key and every position of a list."""
    for step, inner in content.items() if isinstance(content, dict) else enumerate(content):
        yield (*path, step)
        if isinstance(inner, dict | list):
            yield from places_in(inner, (*path, step))


def changed(content: Any, place: Place, value: Any) -> Any:
    """Put a value at a place of a copy, or take out what stands there."""
    trial = copy.deepcopy(content)
    holder = trial
    for step in place[:-1]:
        holder = holder[step]
    if value is DELETE:
        del holder[place[-1]]
    else:
        holder[place[-1]] = copy.deepcopy(value)
    return trial


def outcome(call: Callable[[], Value], refusal: type[Refusal]) -> tuple[Value | None, Refusal | None]:
    """Call something that gives a value or refuses; anything else that it raises is a fault."""
    try:
        return call(), None
    except refusal as error:
        return None, error


def extremes(place: Place) -> list[Any]:
    """List values that a key takes and that lie at the ends of what it takes, and its absence."""
    leaf = next((one for field in [field_at(place)] if field for one in leaves_of(field)), None)
    leaf = getattr(leaf, "quantity", leaf)
    match leaf:
        case Quantity():
            middle = (max(leaf.low, 1e-3) * min(leaf.high, 1e9)) ** 0.5
            ends = (leaf.low, leaf.low + (leaf.high - leaf.low) / 1e6, middle, leaf.high / 2, leaf.high)
            return [DELETE, *(f"{show_number(end)} {leaf.unit}" for end in ends)]
        case Number():
            return [
                DELETE,
                *(show_number(end) for end in (leaf.low, leaf.low + 1, leaf.high // 2, leaf.high)),
            ]
        case Choice():
            return [DELETE, *leaf.words]
        case YesNo():
            return [DELETE, "yes", "no"]
    return [DELETE]


def check(content: bytes) -> int:
    """Carry out ``moveplan check`` in this process; the exit status, with a sentence for each that is not 0."""
    with TemporaryDirectory() as folder:
        file = Path(folder) / "plan.yaml"
        file.write_bytes(content)
        told = io.StringIO()
        project, error = outcome(lambda: compose(read(file, Settings(now=NOW))), MoveplanError)
        if error is not None:
            assert str(error).strip()
            assert error.exit_status in {1, 2}
            return error.exit_status
        assert project is not None
        with contextlib.redirect_stdout(told):
            print_checks([project], as_json=False)
            print_checks([project], as_json=True)
    assert told.getvalue().strip()
    if project.impossible or project.unsafe:
        assert all(problem.message and problem.remedy for problem in (*project.impossible, *project.unsafe))
        return 1
    return 0
