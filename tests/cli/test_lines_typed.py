"""A line that the program prints is one that it takes, typed as it stands: in answers and in the guide."""

from __future__ import annotations

import re
import shlex
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import typer.main
from typer.testing import CliRunner

from moveplan.cli.app import app
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.store import append
from moveplan.journal.records import Accepted
from tests.journal.builders import PLAN_ID, T0, accepted, plan_file
from tests.journal.now.test_ways_on import day

GUIDE = Path("moveplan/guide")
runner = CliRunner()
VALUES = {"TIME": "2027-03-14T14:30", "NAME": "Ines", "VALUE": "25"}


def _typed(said: str) -> list[str]:
    """Words of a line as a shell has them, with something in the places left open."""
    return [VALUES.get(word, word.replace("VALUE", "25")) for word in shlex.split(said, comments=True)]


def _printed(said: str) -> list[str]:
    return re.findall(r"record PLAN ((?:fails|works|met|done|begin) [^;)\n]*)", said)


@pytest.mark.parametrize("what", ["fails van", "fails tank reef", "fails power harbour", "fails vehicle van"])
def test_what_fails_and_next_print_is_taken(tmp_path: Path, what: str) -> None:
    plan = plan_file(tmp_path)
    append(plan, PLAN_ID, lambda _: [(Accepted(at=T0 - 1440, schedule=snapshot_data(day())), "")])

    def record(minute: str, *words: str) -> str:
        found = runner.invoke(app, ["record", str(plan), *words, "--now", minute])
        assert found.exit_code == 0, (words, found.stderr, found.exception)
        return found.stdout

    seen = _printed(record("2027-03-13T09:35", *what.split()))
    seen += _printed(runner.invoke(app, ["next", str(plan), "--now", "2027-03-14T09:30"]).stdout)
    assert any(line.startswith("fails") for line in seen)
    assert any("--and-before" in line for line in seen)
    for line in seen:
        record("2027-03-14T09:31", *_typed(line))
    record("2027-03-14T09:32", "works", *what.split()[1:])


@pytest.mark.parametrize("days", [("+14", "days"), ("+14 days",), ("-3", "days")])
def test_dates_move_by_days_that_nobody_has_to_quote(tmp_path: Path, days: tuple[str, ...]) -> None:
    plan, free = plan_file(tmp_path), replace(day(), stays=())
    append(plan, PLAN_ID, lambda _: [(Accepted(at=T0 - 1440, schedule=snapshot_data(free)), "")])
    moved = runner.invoke(app, ["record", str(plan), "move", "dates", *days, "--now", "2027-03-12T09:00"])
    assert moved.exit_code == 0, moved.stderr


def test_more_are_not_lost_than_there_are_and_no_day_moves_with_animals_closed_in(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    append(plan, PLAN_ID, lambda _: [(Accepted(at=T0 - 1440, schedule=snapshot_data(day())), "")])

    def refused(*words: str) -> str:
        found = runner.invoke(app, ["record", str(plan), *words, "--now", "2027-03-13T09:00"])
        return str(found.exception) if found.exit_code else ""

    assert refused("move", "dates", "+2", "days") == ""
    assert refused("lid", "on", "B2", "--at", "2027-03-13 08:40", "--reason", "they are in it") == ""
    assert "animals are closed in now: B2; this day cannot be moved" in refused("move", "dates", "+2", "days")
    assert "99 are more than the 2 that are counted here; write up to 2" in refused("lost", "clowns", "99")
    assert refused("lost", "clowns", "1") == ""
    assert "2 are more than the 1 that are counted here" in refused("lost", "clowns", "2")
    assert refused("lost", "clowns", "2", "--reason", "one more was hidden in the rock") == ""


def test_what_the_guide_says_can_be_typed() -> None:
    record: Any = typer.main.get_command(app)
    words = record.commands["record"].commands
    lines = []
    for page in sorted(GUIDE.glob("*.md")):
        for line in page.read_text("utf-8").splitlines():
            said, _, remark = line.partition("#")
            found = re.match(r"(?:\s*|\$ )moveplan record (?!firm)\S+ ([a-z].*)", said)
            if found:
                lines += [found[1], *(remark.removeprefix(" or: ").split(", ") if " or: " in remark else [])]
    assert len(lines) > 10
    for line in lines:
        word, *rest = _typed(line)
        words[word].make_context(word, rest, resilient_parsing=False).close()


def test_nothing_comes_then_on_a_day_that_is_past(tmp_path: Path) -> None:
    """Care that recurs is due until its next time comes."""
    plan = plan_file(tmp_path)
    append(plan, PLAN_ID, lambda _: [(accepted(), "")])
    signing = (
        "met",
        "4",
        "--and-before",
        "--by",
        "Ines",
        "--reason",
        "meter broken",
        "--now",
        "2027-03-13T13:00",
    )
    assert runner.invoke(app, ["record", str(plan), *signing]).exit_code == 0
    said = runner.invoke(app, ["next", str(plan), "--now", "2027-03-14T12:00"]).stdout
    assert re.findall(r"(due since|then) (.*?)  6. Daily look", said)[0] == ("due since", "Sat 13 Mar 18:00")
    assert "then Sat 13" not in said
