"""Every command says that a line of the journal is damaged, an accepted schedule too: it answers without it."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from moveplan.cli.app import app
from moveplan.journal.file.store import journal_path
from tests.journal.builders import OWN_START, own_plan

NOW = ("--now", OWN_START)
QUICK = ("--solver-seconds", "0.1")


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Give a plan whose accepted schedule was damaged."""
    found = own_plan(tmp_path)
    path = journal_path(found)
    path.write_bytes(path.read_bytes().replace(b'"Dig"', b'"Dog"', 1))
    return found


@pytest.mark.parametrize(
    "words",
    [
        ("check",),
        ("build", *QUICK),
        ("show", *QUICK),
        ("why", "dig", *QUICK),
        ("next", *NOW),
        ("look-back", *NOW),
        ("record",),
        ("record", "note", "dug", *NOW),
        ("crew", "--port", "0"),
    ],
    ids=" ".join,
)
def test_a_damaged_accept_is_told_once_by_every_command(plan: Path, words: tuple[str, ...]) -> None:
    command, *rest = words
    out = ("--out", str(plan.parent / "out")) if command == "build" else ()
    said = CliRunner().invoke(app, [command, str(plan), *rest, *out])
    line = "two.journal.jsonl:1: this line is passed over: it was damaged, its checksum does not fit"
    assert said.stderr.count(line) == 1
    assert line not in said.stdout
