"""``moveplan crew`` where it cannot serve: a sentence each, and nothing lost."""

from __future__ import annotations

import re
import socket
import time
import urllib.request
from datetime import datetime
from io import BytesIO
from itertools import islice
from pathlib import Path

import pytest
import segno

from moveplan.cli.commands import crew
from moveplan.cli.recording.diary import plan_id_of
from moveplan.crew.room import room_of
from moveplan.journal.file.store import append, journal_path
from moveplan.outputs.documents.page import page_html
from tests.cli.command import ended, process
from tests.journal.builders import OWN_START, PLAN_ID, accept, accepted, own_plan, plan_file


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Give a plan whose schedule was accepted."""
    found = plan_file(tmp_path)
    append(found, PLAN_ID, lambda _: [(accepted(), "")])
    return found


def test_a_port_in_use_is_said(plan: Path) -> None:
    before = journal_path(plan).read_bytes()
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        found = ended(process("crew", plan, "--port", str(port)))
    assert found.status == 2
    assert (
        f"127.0.0.1 port {port} cannot be used: address already in use; give another --host or --port"
        in found.err
    )
    assert journal_path(plan).read_bytes() == before
    assert "http" not in found.out


@pytest.mark.parametrize("host", ["203.0.113.9", "nobody.invalid"])
def test_an_address_of_nobody_is_said(plan: Path, host: str) -> None:
    found = ended(process("crew", plan, "--host", host, "--port", "0"))
    assert found.status == 2
    assert f"{host} port 0 cannot be used: " in found.err
    assert found.err.count("\n") <= 2
    assert f"in {host}" not in found.err
    assert found.out == ""


def test_the_codes_of_all_addresses_name_one_that_a_phone_can_open(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(crew, "_at_home", lambda: "192.0.2.7")
    assert [crew._reached_at(one) for one in ("0.0.0.0", "::", "192.0.2.9")] == [  # noqa: S104
        "192.0.2.7",
        "192.0.2.7",
        "192.0.2.9",
    ]
    assert capsys.readouterr().out == ""
    monkeypatch.setattr(crew, "_at_home", lambda: "")
    assert crew._reached_at("0.0.0.0") == "0.0.0.0"  # noqa: S104
    assert "no phone can open 0.0.0.0" in capsys.readouterr().out


def test_the_code_of_each_person_is_written_where_a_folder_is_named(tmp_path: Path) -> None:
    """A picture a person, which says the address that was printed; nobody is served where it cannot be written."""
    plan, out = own_plan(tmp_path), tmp_path / "codes"
    with process("crew", plan, "--port", "0", "--out", out) as serving:
        try:
            assert serving.stdout is not None
            lines = list(
                iter(
                    serving.stdout.readline,
                    f"the code is in {out / 'crew-ines.svg'}; whoever has it can record as Ines Farrow\n",
                )
            )
        finally:
            serving.kill()
    address = next(found[0] for line in lines if (found := re.search(r"http://\S+", line)))
    drawn = BytesIO()
    segno.make(address, error="m").save(drawn, kind="svg", scale=8, title="Ines Farrow", desc=address)
    assert (out / "crew-ines.svg").read_bytes() == drawn.getvalue()
    (tmp_path / "file").touch()
    refused = ended(process("crew", plan, "--port", "0", "--out", tmp_path / "file"))
    assert (refused.status, "http" in refused.out) == (3, False)
    assert "is a file, not a folder" in refused.err


def test_a_schedule_that_is_accepted_while_it_serves_is_on_the_page_soon(tmp_path: Path) -> None:
    plan = own_plan(tmp_path)
    with process("crew", plan, "--port", "0") as serving:
        try:
            assert serving.stdout is not None
            lines = iter(serving.stdout)
            assert "for the home network only" in next(lines)
            note = next(lines)
            assert note.startswith("no phone can open 127.0.0.1: for phones give this computer's address on")
            assert re.search(r", --host (ADDRESS|(?!127\.|0\.)[0-9.]+)$", note.rstrip())
            address = next(found[0] for line in lines if (found := re.search(r"http://\S+", line)))

            assert address.startswith("http://127.0.0.1:")  # this machine alone, as nobody told otherwise
            first = next(lines).rstrip("\n")
            drawn = [first, *(line.rstrip("\n") for line in islice(lines, len(first) // 2))]
            halves = {"█": (0, 0), "▀": (0, 1), "▄": (1, 0), " ": (1, 1)}
            code = [bytes(halves[sign][half] for sign in row) for row in drawn for half in (0, 1)]
            assert code[4:-5] == [bytes(4) + row + bytes(4) for row in segno.make(address, error="m").matrix]
            assert not any(map(any, code[:4] + code[-5:]))

            def shown(*, other_than: str = "") -> str:
                """Wait until the page of a plan can be had, and name it."""
                for _ in range(600):
                    with urllib.request.urlopen(f"{address}records") as answer:  # noqa: S310 - our own
                        key = str(answer.headers.get("X-Plan", ""))
                    if key not in ("", other_than):
                        return key
                    time.sleep(0.1)
                raise AssertionError

            first = shown()
            plan.write_text(
                plan.read_text() + "  - {id: plant, title: Plant it, duration: 1 h, after: [fill]}\n"
            )
            accept(plan)
            shown(other_than=first)
            with urllib.request.urlopen(address) as page:  # noqa: S310 - our own
                assert b"Plant it" in page.read()
        finally:
            serving.kill()


@pytest.mark.parametrize(
    ("now", "goes_on"),
    [(OWN_START, False), ("2027-03-02T09:00+00:00", False), ("2027-05-01T09:00+01:00", True)],
)
def test_the_page_shows_what_was_accepted_whatever_the_clock_makes_of_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], now: str, goes_on: bool
) -> None:
    """In time, a day late with nothing done, which a new plan would move, and when what is left has no schedule."""
    plan = own_plan(tmp_path)
    plan.write_text(plan.read_text().replace("after: [dig]", "after: [dig], finish-by: 2027-03-20 18:00"))
    accept(plan)
    room = room_of(plan, plan_id_of(plan), b"secret")
    outlook = crew._outlook(plan, room, datetime.fromisoformat(now))
    accepted_starts = {task.id: task.start for task in room.snapshot.tasks}
    assert outlook.starts() == accepted_starts
    assert outlook.goes_on is goes_on
    said = capsys.readouterr().err
    assert ("what is left has no schedule as things stand" in said) is goes_on
    assert "the plan has changed" not in said
    page = page_html(outlook, "ines")
    assert re.search('id="?card-done', page)
    assert ("the accepted one goes on" in page) is goes_on
    assert bool(outlook.problems) is goes_on


def test_a_plan_that_was_changed_since_is_told_as_changed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = own_plan(tmp_path)
    room = room_of(plan, plan_id_of(plan), b"secret")
    plan.write_text(plan.read_text() + "  - {id: plant, title: Plant it, duration: 1 h, after: [fill]}\n")
    outlook = crew._outlook(plan, room, datetime.fromisoformat(OWN_START))
    assert "plant" in outlook.starts()
    assert "the plan has changed since its schedule was accepted" in capsys.readouterr().err


def test_without_an_accepted_schedule_it_says_what_to_do(tmp_path: Path) -> None:
    found = ended(process("crew", plan_file(tmp_path), "--port", "0"))
    assert found.status == 1
    assert 'no schedule was accepted yet; run "moveplan record ' in found.err
    assert list(tmp_path.glob("*.crew-secret")) == []
