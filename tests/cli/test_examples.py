"""Every example, built twice by processes of their own, is what the promise says."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.command import EXAMPLES, Twice
from tests.cli.contract import SCHEDULED, faults
from tests.ledger.checker import ledger_faults
from tests.verifier import verifier

STATUSES = {"house_move": 0, "short_plan": 0, "impossible_dates": 1}
FILES = {"index.html", "checklist.md", "summary.md", "result.json"}
Build = Callable[[Path], Twice]

pytestmark = pytest.mark.parametrize("plan", EXAMPLES, ids=lambda path: path.stem)


def test_two_builds_are_the_same_to_the_byte(twice: Build, plan: Path) -> None:
    built = twice(plan)
    first, second = (
        {file.relative_to(folder): file.read_bytes() for file in folder.rglob("*") if file.is_file()}
        for folder in (built.first, built.second)
    )
    assert first.keys() == second.keys()
    assert [str(name) for name in first if first[name] != second[name]] == []


def test_status_and_files_are_as_promised(twice: Build, plan: Path) -> None:
    built = twice(plan)
    status = built.ran[0].status
    assert status == STATUSES.get(plan.stem, status)
    assert status in (0, 1), built.ran[0].err
    assert built.ran[1].status == status
    wanted = FILES | ({"calendar.ics"} if status == 0 else set())
    assert {file.name for file in built.first.iterdir()} == wanted
    for file in sorted(built.first.iterdir()):
        assert f"  {file}\n" in built.ran[0].out
    assert built.ran[0].err == ""


def test_the_data_keep_the_promise(twice: Build, plan: Path) -> None:
    built = twice(plan)
    data = json.loads((built.first / "result.json").read_text("utf-8"))
    assert faults(data) == []
    assert ledger_faults(data) == []
    assert data["status"] not in SCHEDULED or list(verifier.faults(data)) == []
    assert (data["status"] in ("ok", "tight")) is (built.ran[0].status == 0)


def test_every_document_says_what_it_is_and_as_of_when(twice: Build, plan: Path) -> None:
    built = twice(plan)
    data = json.loads((built.first / "result.json").read_text("utf-8"))
    for name in ("index.html", "checklist.md", "summary.md"):
        text = (built.first / name).read_text("utf-8")
        assert data["title"] in text
        assert re.search(r"(Made|worked out) for [^\n]*2027", text)
        assert text.endswith("\n")
    assert f"as of {data['now']}" in built.ran[0].out


def test_no_document_speaks_of_what_python_calls_nothing(twice: Build, plan: Path) -> None:
    built = twice(plan)
    for name in ("checklist.md", "summary.md"):
        text = (built.first / name).read_text("utf-8")
        for word in ("None", "nan", "Undefined", "Traceback", "{{", "{%", "<moveplan"):
            assert word not in text, f"{word} in {name}"
