"""Whatever stands at a key of a plan, in a journal or in a progress file: a result or a sentence, never a crash."""

from __future__ import annotations

import json
import math
import random
from collections.abc import Callable
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from moveplan.errors import MoveplanError
from moveplan.journal import records
from moveplan.journal.file.coding import encoded
from moveplan.journal.file.store import journal_path, read_journal
from moveplan.journal.records import Record
from moveplan.journal.state import state_of
from moveplan.journal.taking.progress import read_progress
from moveplan.planfile.schema.leaves import Leaf
from moveplan.planfile.schema.refusals import RefusedError
from moveplan.planfile.starter import read_answer, starter_values, yaml_scalar
from moveplan.units import Measure, QuantityError
from moveplan.units.table import TARGETS
from tests.planfile.test_schema import FIELDS, leaves_of
from tests.properties.hostile import (
    CASES,
    CONTENTS,
    SLOW_CASES,
    VALUES,
    changed,
    check,
    extremes,
    outcome,
    places_in,
    written,
)

FEW = settings(max_examples=CASES or 60, deadline=None, suppress_health_check=list(HealthCheck))
MANY = settings(max_examples=(CASES or 150) * 2, deadline=None, suppress_health_check=list(HealthCheck))
PLAN_ID = "reef-1"
T0 = 30_082_080

TEXT = st.one_of(
    st.text(max_size=40),
    st.text(alphabet="0123456789.,+-−eE /x×%°'\"²³ ", max_size=20),
    st.from_regex(
        r"[+-]?[0-9]{1,14}(\.[0-9]{0,14})? ?(l|kg|cm|in|ft|h|min|US gal|gal|C|F|%|l/day|per kg)?",
        fullmatch=True,
    ),
    st.sampled_from([value for value in VALUES if isinstance(value, str)]),
)
SHAPE = st.recursive(
    TEXT,
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(TEXT | st.sampled_from(["low", "from", "rule"]), inner, max_size=4)
    ),
    max_leaves=6,
)


@MANY
@given(TEXT, st.sampled_from(sorted(TARGETS)), st.floats(-1e6, 0), st.floats(0, 1e9))
def test_quantities(text: str, unit: str, low: float, high: float) -> None:
    value, error = outcome(lambda: Measure(unit, low, high, f"1 {unit}").read(text), QuantityError)
    if error is not None:
        assert error.message.isprintable()
        assert error.remedy.isprintable()
        assert error.remedy
    if value is not None:
        assert math.isfinite(value)
        assert low - 1e-6 <= value * (100 if unit == "%" else 1) <= high + 1e-6


LEAVES: list[Leaf[Any]] = [leaf for _name, field in FIELDS for leaf in leaves_of(field)]


def assert_worded(error: RefusedError | None) -> None:
    for one in error.refusals if error else ():
        assert one.message
        assert one.message.isprintable()
        assert one.remedy.isprintable()


@MANY
@given(st.sampled_from(LEAVES), SHAPE)
def test_every_value_of_a_plan(leaf: Leaf[Any], value: object) -> None:
    _value, error = outcome(lambda: leaf.take(value), RefusedError)
    assert_worded(error)


ANSWERS = "title purpose timezone units move-day distance old-floor tank animals people payload water"


@FEW
@given(st.sampled_from(ANSWERS.split()), TEXT | st.text("0123456789 x,cmclownfish", max_size=30))
def test_answers_of_the_interview(key: str, text: str) -> None:
    taken, error = outcome(lambda: read_answer(key, text, date(2027, 1, 4)), RefusedError)
    assert_worded(error)
    if taken is None:
        return
    assert read_answer(key, taken, date(2027, 1, 4)) == taken
    assert yaml_scalar(taken)
    usual = {
        "purpose": "larger-tank",
        "move-day": "2027-05-01",
        "tank": "1 x 1 x 1 m",
        "animals": "goby",
        "people": "A, B",
    }
    assert starter_values(usual | {key: taken}, "x", date(2027, 1, 4))


# --- one hostile value at every key ---------------------------------------------------------------------

SPOTS = [(number, place) for number, content in enumerate(CONTENTS) for place in places_in(content)]


def test_one_hostile_value_somewhere() -> None:
    """All pairs of a key and a value, or as many as there is time for, drawn evenly."""
    pairs = [(spot, value) for spot in SPOTS for value in range(len(VALUES))]
    drawn = random.Random(CASES).sample(pairs, min(len(pairs), SLOW_CASES or 100))
    reached = {check(written(changed(CONTENTS[n], place, VALUES[v]))) for (n, place), v in drawn}
    assert {0, 2} <= reached <= {0, 1, 2}


@settings(FEW, max_examples=SLOW_CASES or 40)
@given(st.data())
def test_several_values_from_the_ends_of_what_is_taken(data: st.DataObject) -> None:
    content = data.draw(st.sampled_from(CONTENTS))
    for _ in range(data.draw(st.integers(1, 6))):
        places = list(places_in(content))
        if places:
            place = data.draw(st.sampled_from(places))
            content = changed(content, place, data.draw(st.sampled_from(extremes(place))))
    check(written(content))


# --- journals and progress files ------------------------------------------------------------------------

RECORDS: list[Record] = [
    records.Begun(at=T0, task="draw-water"),
    records.Done(at=T0 + 30, task="draw-water"),
    records.Met(at=T0 + 40, task="water-matched-reef", by="Ines"),
    records.Note(at=T0 + 50, text="The van is late."),
    records.Undo(at=T0 + 60, line=2),
]
LINES = [encoded(record, PLAN_ID) for record in RECORDS]
PROGRESS = {
    "format": 1,
    "plan": PLAN_ID,
    "records": [{"task": "draw-water", "at": "2027-03-13T08:30Z", "time": 1}],
    "containers": {"clowns/1": {"closed": "2027-03-13T09:00Z", "opened": "2027-03-13T11:00Z"}},
}
JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | TEXT
    | st.sampled_from([10**30, "2027-13-01T00:00Z", "begun"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXT, inner, max_size=3),
    max_leaves=5,
)


def journal(content: bytes) -> None:
    with TemporaryDirectory() as folder:
        plan = Path(folder) / "plan.yaml"
        journal_path(plan).write_bytes(content)
        held, error = outcome(lambda: read_journal(plan, PLAN_ID), MoveplanError)
        assert held or str(error).strip()
        if held is None:
            return
        assert all(str(fault).isprintable() for fault in held.faults)
        state_of(held.entries)


def progress(content: bytes) -> None:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "progress.json"
        file.write_bytes(content)
        ticks, error = outcome(lambda: read_progress(file, PLAN_ID), MoveplanError)
        assert ticks is not None or str(error).strip()


@st.composite
def mutated_rows(draw: st.DrawFn) -> bytes:
    lines = list(LINES)
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, len(lines) - 1))
        row = json.loads(LINES[draw(st.integers(0, len(LINES) - 1))])
        row[draw(st.sampled_from(sorted(row)) | TEXT)] = draw(JSON)
        lines[at] = json.dumps(row)
    return "\n".join(lines).encode("utf-8", "surrogatepass")


@st.composite
def mutated_progress(draw: st.DrawFn) -> bytes:
    content: Any = PROGRESS
    for _ in range(draw(st.integers(1, 2))):
        place = draw(st.sampled_from(list(places_in(content)) or [()]))
        content = changed(content, place, draw(JSON)) if place else draw(JSON)
        if not isinstance(content, dict):
            break
    return json.dumps(content).encode("utf-8", "surrogatepass")


@FEW
@given(mutated_rows())
def test_rows_of_a_journal(content: bytes) -> None:
    journal(content)


@FEW
@given(mutated_progress())
def test_values_of_a_progress_file(content: bytes) -> None:
    progress(content)


SOUND = {
    "journal": ("\n".join(LINES).encode(), journal),
    "progress": (json.dumps(PROGRESS).encode(), progress),
}


@pytest.mark.parametrize(("sound", "read"), SOUND.values(), ids=SOUND.keys())
@FEW
@given(data=st.data())
def test_bytes(sound: bytes, read: Callable[[bytes], None], data: st.DataObject) -> None:
    read(data.draw(st.binary(max_size=60)))
    content = bytearray(sound)
    for _ in range(data.draw(st.integers(1, 4))):
        content[data.draw(st.integers(0, len(content) - 1))] = data.draw(st.integers(0, 255))
    read(bytes(content[: data.draw(st.integers(0, len(content)))]))


@pytest.mark.parametrize("read", [journal, progress])
@pytest.mark.parametrize(
    "content",
    [b"[" * 200_000, b'{"a":' * 200_000, b"9" * 100_000, b"\xff" * 1000, b'"' + b"x" * 3_000_000 + b'"'],
)
def test_heaps(read: Callable[[bytes], None], content: bytes) -> None:
    read(content)
