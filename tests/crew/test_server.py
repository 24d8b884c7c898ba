"""The crew's page as a web application, asked in process."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient
from typer.testing import CliRunner

from moveplan.cli.app import app
from moveplan.crew.room import NothingAcceptedError, Room, room_of
from moveplan.crew.server import MOST_BYTES, Desk, application
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.store import append, read_journal
from moveplan.journal.now.failure import Failed
from moveplan.journal.records import Accepted, Begun, Counted, Done, Met, Note, Reading, Shut, Tended, Undo
from moveplan.journal.state import JournalState, state_of
from moveplan.journal.taking.marks import counts_told, told_by_marks
from moveplan.journal.taking.slip import Mark, index_of, read_slip, slip_text
from moveplan.network.task import State
from moveplan.tokens import secret_of
from tests.journal.builders import PLAN_ID, T0, accepted, plan_file, snapshot

NOW = T0 + 100


@pytest.fixture
def room(tmp_path: Path) -> Room:
    """Give a room whose schedule was accepted."""
    plan = plan_file(tmp_path)
    append(plan, PLAN_ID, lambda _: [(accepted(), "")])
    return room_of(plan, PLAN_ID, b"secret")


@pytest.fixture
def client(room: Room) -> TestClient:
    """Ask as a browser would, of an application that was started anew."""
    desk = Desk(room, lambda person: f"<p>{person}</p>", {"ines": b"BEGIN:VCALENDAR"}.get, lambda: NOW)
    return TestClient(application(desk), base_url="http://reef.test")


def _token(room: Room, person: str) -> str:
    return next(token for token, one in room.tokens.items() if one == person)


def _sent(room: Room, *marks: Mark) -> str:
    return slip_text(marks, room.index)


def test_every_path_without_a_token_is_not_there(client: TestClient, room: Room) -> None:
    own = [f"/{_token(room, 'ines')}/{name}" for name in ("reef.yaml", "accept", "reef.journal.jsonl", "../")]
    for path in ("/", "/records", "/x", "/x/", "/x/records", "/x/records/", "/../reef.yaml", *own):
        assert client.get(path).status_code == 404, path
    assert client.post("/x/records", content="").status_code == 404
    assert client.get(f"/{_token(room, 'ines')}").status_code == client.get(own[0][:-9]).status_code == 200
    assert "x" * 20 not in "".join(room.tokens)
    assert all(len(token) >= 24 for token in room.tokens)


def test_a_person_gets_page_and_calendar(client: TestClient, room: Room) -> None:
    found = client.get(f"/{_token(room, 'ines')}/")
    assert (found.text, found.headers["Cache-Control"]) == ("<p>ines</p>", "no-store")
    assert client.get(f"/{_token(room, 'ines')}/calendar.ics").content == b"BEGIN:VCALENDAR"
    assert client.get(f"/{_token(room, 'tom')}/calendar.ics").status_code == 404


def test_a_record_is_in_the_journal_once_and_goes_to_the_others(client: TestClient, room: Room) -> None:
    mark = Mark(T0 + 5, "begun", "draw-water", 0, "ines")
    for _ in range(2):
        sent = client.post(f"/{_token(room, 'ines')}/records", content=_sent(room, mark))
        assert sent.status_code == 200
    seen = client.get(f"/{_token(room, 'tom')}/records").text
    assert read_slip(seen, [room.index]) == (mark,)
    journal = read_journal(room.plan, PLAN_ID)
    assert len(journal.entries) == 2
    assert state_of(journal.entries).of("draw-water").state is State.IN_PROCESS
    back = Mark(T0 + 5, "begun", "draw-water", 0, "ines", back=True)
    client.post(f"/{_token(room, 'ines')}/records", content=_sent(room, back))
    assert read_slip(client.get(f"/{_token(room, 'tom')}/records").text, [room.index]) == (back,)


def test_nobody_records_or_takes_back_for_another(client: TestClient, room: Room) -> None:
    mine = Mark(T0 + 5, "begun", "draw-water", 0, "ines")
    client.post(f"/{_token(room, 'ines')}/records", content=_sent(room, mine))
    back = Mark(T0 + 5, "begun", "draw-water", 0, "ines", back=True)
    assert client.post(f"/{_token(room, 'tom')}/records", content=_sent(room, back)).status_code == 200
    assert state_of(read_journal(room.plan, PLAN_ID).entries).of("draw-water").state is State.IN_PROCESS


def test_what_failed_goes_to_the_phones_with_the_ways_on(client: TestClient, room: Room) -> None:
    path = f"/{_token(room, 'ines')}/"
    assert client.get(f"{path}ways").text == ""
    client.post(f"{path}records", content=_sent(room, Mark(NOW - 5, "failed", "vehicle:van", 0, "ines")))
    said = client.get(f"{path}ways").text
    assert said.startswith("FAILED ")
    assert "Hired van" in said.splitlines()[0]
    assert "  another vehicle: " in said
    client.post(f"{path}records", content=_sent(room, Mark(NOW, "works", "vehicle:van", 0, "ines")))
    assert client.get(f"{path}ways").text == ""
    assert client.get("/nobody/ways").status_code == 404


def test_phones_know_when_what_failed_is_expected_back(client: TestClient, room: Room) -> None:
    path = f"/{_token(room, 'ines')}/records"
    fails = [
        Failed(at=T0 + at, what="vehicle", name="van", until=back) for at, back in ((5, None), (6, T0 + 96))
    ]
    append(room.plan, PLAN_ID, lambda _: [(one, "") for one in fails])
    marks = read_slip(client.get(path).text, [room.index])
    assert [(mark.at, mark.time) for mark in marks] == [(T0 + 5, 0), (T0 + 6, 126)]
    assert [one.record(one.at, JournalState()) for one in told_by_marks(marks, room.known)] == fails
    append(room.plan, PLAN_ID, lambda _: [(replace(fails[1], at=T0 + 7, until=T0 + 50_000), "")])
    assert read_slip(client.get(path).text, [room.index])[2].time == 0  # no room for it


def test_on_a_late_day_phones_are_told_what_the_terminal_says_of_it(client: TestClient, room: Room) -> None:
    path = f"/{_token(room, 'ines')}/forecast"
    done = [Done(at=T0 + 90, task=one) for one in ("draw-water", "catch-fish")]
    # from 12:30 on 45 min of driving, 15 of looking at the water and 30 of letting out, planned to be over at 13:50
    fails = Failed(at=T0 + 95, what="vehicle", name="van", until=T0 + 270)
    append(room.plan, PLAN_ID, lambda _: [(one, "") for one in (*done, fails)])
    assert client.get(path).text.startswith("The day runs 10 min behind")
    append(room.plan, PLAN_ID, lambda _: [(Done(at=T0 + 100, task="drive-van"), "")])
    assert client.get(path).text == ""
    assert client.get("/nobody/forecast").status_code == 404


def test_what_was_logged_at_the_computer_goes_to_the_phones(client: TestClient, room: Room) -> None:
    append(
        room.plan,
        PLAN_ID,
        lambda _: [
            (Done(at=T0 + 30, task="draw-water"), ""),
            (Note(at=T0, text="x"), ""),
            (Reading(at=T0 + 40, what="salinity", value=35.2, unit="-", said="35.2 psu"), ""),
            (Shut(at=T0 + 41, group="clowns"), ""),
            (Tended(at=T0 + 42, container="B1", what="moved", where="Hired van"), ""),
            (Tended(at=T0 + 43, container="B1", what="moved", where="the garden"), ""),
            (Tended(at=T0 + 44, container="B2", what="air-on"), ""),
        ],
    )
    seen = read_slip(client.get(f"/{_token(room, 'tom')}/records").text, [room.index])
    assert [(mark.kind, mark.name, mark.person) for mark in seen] == [
        ("done", "draw-water", "ines"),
        ("read", "salinity@reef", "ines"),
        ("lid-on", "B1", "ines"),
        ("lid-on", "B2", "ines"),
        ("moved", "B1@vehicle:van", "ines"),
        ("air-on", "B2", "ines"),
    ]


def test_what_a_phone_was_given_is_not_written_again_and_taking_it_back_undoes_the_line_it_came_from(
    client: TestClient, room: Room
) -> None:
    path = f"/{_token(room, 'ines')}/records"
    said = (
        (Done(at=T0 + 30, task="draw-water"), ""),
        (
            Met(at=T0 + 31, task="water-matched-reef", by="Ines", reason="seen"),
            "water-matched-reef#@2027-03-13T08:31",
        ),
        (Reading(at=T0 + 40, what="salinity", value=35.2, unit="-", said="35.2 psu"), ""),
        (Shut(at=T0 + 41, group="clowns"), ""),
    )
    append(room.plan, PLAN_ID, lambda _: said)
    before = read_journal(room.plan, PLAN_ID).entries
    marks = read_slip(client.get(path).text, [room.index])
    assert len(marks) == 5  # both containers of the group
    client.post(path, content=_sent(room, *marks))
    assert read_journal(room.plan, PLAN_ID).entries == before

    done = next(mark for mark in marks if mark.kind == "done")
    for _ in range(2):
        answer = client.post(path, content=_sent(room, replace(done, back=True)))
        assert replace(done, back=True) in read_slip(answer.text, [room.index])
    entries = read_journal(room.plan, PLAN_ID).entries
    assert [entry.record for entry in entries[len(before) :]] == [Undo(at=NOW, line=2)]
    assert state_of(entries).of("draw-water").state is State.NEEDS_ACTION


def test_what_was_taken_back_before_it_came_goes_to_the_phones_as_taken_back(
    client: TestClient, room: Room
) -> None:
    path = f"/{_token(room, 'ines')}/records"
    back = Mark(T0 + 5, "begun", "draw-water", 0, "ines", back=True)
    assert read_slip(client.post(path, content=_sent(room, back)).text, [room.index]) == (back,)


def test_bodies_are_bounded_whole_and_from_this_page(client: TestClient, room: Room) -> None:
    path = f"/{_token(room, 'ines')}/records"
    text = _sent(room, Mark(T0 + 5, "begun", "draw-water", 0, "ines"))
    assert client.post(path, content="a" * (MOST_BYTES + 1)).status_code == 413
    assert client.post(path, content="\u00fc".encode()).status_code == 400
    half = client.post(path, content=text[:-2])
    assert half.status_code == 400
    assert "the text is not whole" in half.text
    assert client.post(path, content=text, headers={"Origin": "http://elsewhere.test"}).status_code == 403
    assert client.post(path, content=text, headers={"Origin": "http://reef.test"}).status_code == 200
    assert client.delete(path).status_code == 405


def test_who_asks_too_often_is_not_answered(
    client: TestClient, room: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    seconds = iter(range(10_000))
    clock = SimpleNamespace(
        monotonic=lambda: next(seconds) / 200
    )  # 200 a second, however slow this machine is
    monkeypatch.setattr("moveplan.crew.server.time", clock)
    statuses = [client.get(f"/{_token(room, 'ines')}/").status_code for _ in range(200)]
    assert statuses[0] == 200
    assert statuses[-1] == 429


def test_animals_that_are_counted_at_the_computer_are_taken_off_the_containers(
    client: TestClient, room: Room
) -> None:
    path = f"/{_token(room, 'ines')}/records"
    lost, found = Mark(NOW, "lost", "@clowns", 1, "ines"), Mark(NOW, "added", "B1@clowns", 2, "ines")
    assert client.get(path).text == ""
    append(room.plan, PLAN_ID, lambda _: [(Counted(at=NOW, group="clowns", change=-1), "")])
    assert read_slip(client.get(path).text, [room.index]) == (lost,)
    append(room.plan, PLAN_ID, lambda _: [(Undo(at=NOW, line=2), "")])
    assert read_slip(client.get(path).text, [room.index]) == (replace(lost, back=True),)
    back = Counted(at=NOW, group="clowns", change=2, container="B1")
    append(room.plan, PLAN_ID, lambda _: [(back, "")])
    assert read_slip(client.get(path).text, [room.index]) == (found, replace(lost, back=True))


def test_two_equal_losses_of_one_minute_are_two_on_the_phones_and_go_one_by_one(
    client: TestClient, room: Room
) -> None:
    path = f"/{_token(room, 'ines')}/records"
    for words in (["lost", "clowns", "1"],) * 2:
        said = ["log", str(room.plan), *words, "--now", "2027-03-13T09:40"]
        assert CliRunner().invoke(app, said).exit_code == 0
    first = Mark(NOW, "lost", "@clowns", 1, "ines")
    second = replace(first, at=NOW + 1)
    assert read_slip(client.get(path).text, [room.index]) == (first, second)
    entries = read_journal(room.plan, PLAN_ID).entries
    assert [entry.record.at for entry in entries[1:]] == [NOW, NOW]
    assert len(set(counts_told(entries))) == 2
    client.post(path, content=_sent(room, replace(second, back=True)))
    assert state_of(read_journal(room.plan, PLAN_ID).entries).lost == {"clowns": (("", 1),)}
    assert set(read_slip(client.get(path).text, [room.index])) == {first, replace(second, back=True)}


def test_a_schedule_that_is_accepted_beside_is_taken_up_and_texts_of_the_one_before_are_still_read(
    client: TestClient, room: Room
) -> None:
    path = f"/{_token(room, 'ines')}/records"
    assert client.get(path).headers["X-Plan"] == room.index.key
    day = snapshot()
    fewer = replace(day, tasks=day.tasks[1:], people={**day.people, "bea": "Bea Lindqvist"})
    append(room.plan, PLAN_ID, lambda _: [(Accepted(at=NOW, schedule=snapshot_data(fewer)), "")])
    mark, gone = (
        Mark(T0 + 40, "begun", "catch-fish", 0, "ines"),
        Mark(T0 + 5, "done", "draw-water", 0, "ines"),
    )
    for _ in range(2):
        answer = client.post(f"{path}?{room.index.key}", content=_sent(room, mark, gone))
        assert answer.headers["X-Plan"] == index_of(fewer, PLAN_ID).key != room.index.key
        assert read_slip(answer.text, [room.index]) == (gone, mark)
    assert read_slip(client.get(path).text, [index_of(fewer, PLAN_ID)]) == (mark,)
    kinds = [type(entry.record) for entry in read_journal(room.plan, PLAN_ID).entries]
    assert kinds == [Accepted, Accepted, Done, Begun]
    new = next(token for token, one in room_of(room.plan, PLAN_ID, b"secret").tokens.items() if one == "bea")
    assert client.get(f"/{new}/").text == "<p>bea</p>"
    append(room.plan, PLAN_ID, lambda _: [(Undo(at=NOW, line=2), "")])
    assert client.get(path).headers["X-Plan"] == room.index.key
    assert client.get(f"/{new}/").status_code == 404


def test_the_addresses_hold_when_the_server_is_started_again(room: Room) -> None:
    first = secret_of(room.plan)
    assert secret_of(room.plan) == first
    assert (room.plan.with_suffix(".crew-secret").stat().st_mode & 0o077) == 0
    assert room_of(room.plan, PLAN_ID, first).tokens == room_of(room.plan, PLAN_ID, first).tokens
    assert room_of(room.plan, PLAN_ID, b"another").tokens.keys().isdisjoint(room.tokens)


def test_without_an_accepted_schedule_it_says_so(tmp_path: Path) -> None:
    with pytest.raises(NothingAcceptedError, match="no schedule was accepted yet"):
        room_of(plan_file(tmp_path), PLAN_ID, b"secret")
