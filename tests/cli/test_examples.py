"""Every example, built twice by processes of their own, is what the promise says."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

import icalendar
import pytest
import vobject

from tests.cli.command import EXAMPLES, Twice
from tests.cli.contract import SCHEDULED, faults
from tests.cli.fine import too_fine
from tests.ledger.checker import ledger_faults
from tests.outputs.calendar import rules
from tests.verifier import verifier

STATUSES = {"house_move": 0, "short_plan": 0, "impossible_dates": 1}
READ = {".md", ".html", ".ics", ".csv"}
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
    data = json.loads((built.first / "result.json").read_text("utf-8"))
    busy = {person for task in data["tasks"] for person in task.get("people", ())}
    helpers = [person["id"] for person in data["people"] if person["id"] in busy][1:]
    calendars = {"calendar.ics", *(f"calendar-{one}.ics" for one in helpers)} if status == 0 else set()
    lists = {"shopping.md", "tasks.csv"} if status == 0 else set()
    assert {file.name for file in built.first.iterdir()} == FILES | lists | calendars
    for file in sorted(built.first.iterdir()):
        assert f"  {file}\n" in built.ran[0].out
    assert built.ran[0].err == ""


def test_no_figure_is_finer_than_what_it_rests_on(twice: Build, plan: Path) -> None:
    """The exact values stand in ``result.json`` alone."""
    built, written = twice(plan), plan.read_text("utf-8")
    assert too_fine(built.ran[0].out, written) == []
    for file in sorted(built.first.iterdir()):
        if file.suffix in READ:
            assert too_fine(file.read_text("utf-8"), written) == [], file.name


def test_calendars_are_for_people(twice: Build, plan: Path) -> None:
    """As two libraries read them: one event a moving day, no person's in another's, none at the same time."""
    built = twice(plan)
    for file in built.first.glob("calendar*.ics"):
        data = file.read_bytes()
        assert rules.faults(data) == []
        one: list[Any] = list(icalendar.Calendar.from_ical(data).walk("VEVENT"))
        other = list(vobject.readOne(data.decode()).contents["vevent"])
        assert len(one) == len(other)
        owners = {str(event["X-MOVEPLAN-KEY"]).partition(":")[0] for event in one}
        assert len(owners) == 1
        assert all(len(event.walk("VALARM")) <= 1 for event in one)
        timed = sorted(
            (event["DTSTART"].dt, event["DTEND"].dt)
            for event in one
            if isinstance(event["DTSTART"].dt, datetime) and event.get("TRANSP") == "OPAQUE"
        )
        assert all(first[1] <= second[0] for first, second in pairwise(timed))


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
    assert re.search(r"^Planned for [^\n]*2027", built.ran[0].out, re.MULTILINE)


def test_no_document_speaks_of_what_python_calls_nothing(twice: Build, plan: Path) -> None:
    built = twice(plan)
    for name in ("checklist.md", "summary.md"):
        own_key = r"\bsystems\.\w+"  # the keeper's own id may hold such letters
        text = re.sub(own_key, "", (built.first / name).read_text("utf-8"))
        for word in ("None", "nan", "Undefined", "Traceback", "{{", "{%", "<moveplan"):
            assert word not in text, f"{word} in {name}"
