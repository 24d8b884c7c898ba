"""A number that was told stays with its task from list to list, whatever was accepted, added or dropped since."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from moveplan.cli.app import app
from moveplan.errors import MoveplanError
from tests.journal.builders import OWN_START, accept, own_plan

NOW = ("--now", OWN_START)
BEFORE = "  - {id: mark, title: Mark it, duration: 30 min, people: [ines]}\n"


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Give an accepted plan of two tasks into which a third was written since, to be done first."""
    found = own_plan(tmp_path)
    said = found.read_text()
    said = said.replace("tasks:\n", f"tasks:\n{BEFORE}").replace("people: [ines]}\n  - {id: fill", _AFTER)
    found.write_text(said)
    return found


_AFTER = "people: [ines], after: [mark]}\n  - {id: fill"


def _record(plan: Path, *words: str) -> str:
    return str(CliRunner().invoke(app, ["record", str(plan), *words, *NOW], catch_exceptions=False).stdout)


def _numbers(plan: Path) -> dict[str, str]:
    """Read the numbers of the checklist, in the order of its lines."""
    words = ["build", str(plan), "--out", str(plan.parent / "out"), *NOW, "--solver-seconds", "0.1"]
    assert CliRunner().invoke(app, words).exit_code == 0
    text = (plan.parent / "out" / "checklist.md").read_text()
    return {title: number for number, title in re.findall(r"(\d+)\. \*\*(.*?)\*\*", text)}


def test_a_new_task_gets_a_number_that_no_task_ever_had(plan: Path) -> None:
    assert list(_numbers(plan).items()) == [("Mark it", "3"), ("Dig", "1"), ("Fill it", "2")]
    assert "done: Dig [dig]" in _record(plan, "done", "1")  # as on the paper in the helper's hand
    with pytest.raises(MoveplanError, match=r"no task has the number 3; .* count once it is accepted"):
        _record(plan, "done", "3")


def test_the_number_of_a_dropped_task_is_nobody_elses(plan: Path) -> None:
    _record(plan, "drop", "fill", "--reason", "no need")
    gone = r'number 2 is "Fill it", which was dropped: no need; write fill if it was done all the same'
    with pytest.raises(MoveplanError, match=gone):
        _record(plan, "done", "2")
    accept(plan)
    with pytest.raises(MoveplanError, match=gone):
        _record(plan, "done", "2")
    plan.write_text(plan.read_text() + BEFORE.replace("mark", "tidy").replace("Mark it", "Tidy up"))
    assert _numbers(plan)["Tidy up"] == "4"


def test_the_number_of_a_task_that_is_planned_no_more_names_it(plan: Path) -> None:
    plan.write_text(re.sub(".*id: fill.*\n", "", plan.read_text()))
    accept(plan)
    with pytest.raises(MoveplanError, match='number 2 is "Fill it", which is planned no more'):
        _record(plan, "done", "2")
