from __future__ import annotations

import json
import multiprocessing
from pathlib import Path

import pytest

from moveplan.errors import OutputError, PlanFileError
from moveplan.journal.file.coding import encoded
from moveplan.journal.file.store import append, journal_path, read_journal
from moveplan.journal.records import Begun, Done, Note, Record
from tests.journal.builders import PLAN_ID, T0, accepted, plan_file

THREE: tuple[Record, ...] = (
    Begun(at=T0, task="draw-water"),
    Note(at=T0 + 1, text='Ärger: "half a line"\nand {"more": 1}'),
    Done(at=T0 + 50, task="draw-water", took_min=50),
)


def _written(plan: Path, *records: Record) -> bytes:
    for record in records:
        append(plan, PLAN_ID, lambda _, record=record: [(record, "")])  # type: ignore[misc]
    return journal_path(plan).read_bytes()


def test_what_was_written_is_read(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    _written(plan, *THREE)
    journal = read_journal(plan, PLAN_ID)
    assert [entry.record for entry in journal.entries] == list(THREE)
    assert [entry.line for entry in journal.entries] == [1, 2, 3]
    assert journal.faults == ()
    assert journal.path.name == "reef.journal.jsonl"


def test_every_line_names_plan_and_format(tmp_path: Path) -> None:
    rows = [json.loads(line) for line in _written(plan_file(tmp_path), *THREE).splitlines()]
    assert [(row["format"], row["plan"], row["kind"]) for row in rows] == [
        (1, PLAN_ID, "begun"),
        (1, PLAN_ID, "note"),
        (1, PLAN_ID, "done"),
    ]


def test_a_crash_at_any_byte_loses_at_most_the_unfinished_line(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    whole = _written(plan, *THREE)
    for cut in range(len(whole) + 1):
        journal_path(plan).write_bytes(whole[:cut])
        complete = whole[:cut].count(b"\n")
        found = [entry.record for entry in read_journal(plan, PLAN_ID).entries]
        assert found[:complete] == list(THREE[:complete])
        assert len(found) <= complete + 1
        after, new = append(plan, PLAN_ID, lambda _: [(Note(at=T0 + 60, text="after the crash"), "")])
        again = read_journal(plan, PLAN_ID)
        assert [entry.record for entry in again.entries] == [*found, Note(at=T0 + 60, text="after the crash")]
        assert again.entries == after.entries
        assert new == after.entries[-1:]
        assert len(again.faults) <= 1


def test_a_half_line_is_said_and_nothing_is_glued_to_it(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    whole = _written(plan, *THREE)
    journal_path(plan).write_bytes(whole[:-20])
    append(plan, PLAN_ID, lambda _: [(Note(at=T0, text="next"), "")])
    journal = read_journal(plan, PLAN_ID)
    assert [entry.line for entry in journal.entries] == [1, 2, 4]
    assert [str(fault) for fault in journal.faults] == [
        "reef.journal.jsonl:3: this line is passed over: it is half a line, or no record; "
        "nothing else is lost; log again what it was to say"
    ]


def test_the_journal_of_another_plan_is_refused(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    _written(plan, *THREE)
    with pytest.raises(PlanFileError) as error:
        read_journal(plan, "reef-2")
    assert error.value.exit_status == 2
    assert str(error.value) == (
        'reef.journal.jsonl:1: the journal belongs to the plan "reef-1", this plan is "reef-2"; '
        'write "id: reef-1" into the plan if it is the same plan, or move the journal away; nothing was changed'
    )
    before = journal_path(plan).read_bytes()
    with pytest.raises(PlanFileError):
        append(plan, "reef-2", lambda _: [(THREE[0], "")])
    assert journal_path(plan).read_bytes() == before


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ('{"plan":"reef-1","format":2}', "it was written by a later version of moveplan"),
        ('{"plan":"reef-1","format":1,"kind":"sang"}', "it is a kind of record that is not known here"),
        ('{"plan":"reef-1","format":1,"kind":"begun","at":"2027-03-13T08:00Z"}', 'it has no "task"'),
        (
            '{"plan":"reef-1","format":1,"kind":"begun","at":"2027-03-13T08:00","task":"a"}',
            '"at": a moment such as 2027-03-13T08:00Z belongs there',
        ),
        (
            '{"plan":"reef-1","format":1,"kind":"undo","at":"2027-03-13T08:00Z","line":true}',
            '"line": a whole number belongs there',
        ),
        ("[1]", "it is no record"),
        ("[" * 100_000, "it is half a line, or no record"),
    ],
)
def test_lines_that_are_no_records_are_passed_over(tmp_path: Path, line: str, reason: str) -> None:
    plan = plan_file(tmp_path)
    whole = _written(plan, *THREE)
    journal_path(plan).write_bytes(line.encode() + b"\n" + whole)
    journal = read_journal(plan, PLAN_ID)
    assert [entry.line for entry in journal.entries] == [2, 3, 4]
    assert [fault.message for fault in journal.faults] == [f"this line is passed over: {reason}"]


def _many(plan: Path, writer: int, count: int) -> None:
    for number in range(count):
        append(plan, PLAN_ID, lambda _, n=number: [(Note(at=T0, text=f"{writer}/{n}" + "x" * 5000), "")])  # type: ignore[misc]


def test_two_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    context = multiprocessing.get_context("fork")
    processes = [context.Process(target=_many, args=(plan, writer, 40)) for writer in range(2)]
    for process in processes:
        process.start()
    for process in processes:
        process.join(60)
        assert process.exitcode == 0
    journal = read_journal(plan, PLAN_ID)
    assert journal.faults == ()
    texts = [entry.record.text.rstrip("x") for entry in journal.entries if isinstance(entry.record, Note)]
    assert sorted(texts) == sorted(f"{writer}/{number}" for writer in range(2) for number in range(40))
    for writer in range(2):
        own = [text for text in texts if text.startswith(f"{writer}/")]
        assert own == [f"{writer}/{number}" for number in range(40)]


def test_what_is_refused_leaves_no_file(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)

    def _refuse(_: object) -> list[tuple[Record, str]]:
        raise ValueError

    with pytest.raises(ValueError):
        append(plan, PLAN_ID, _refuse)
    assert not journal_path(plan).exists()


def test_a_folder_in_its_place_is_said(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    journal_path(plan).mkdir()
    with pytest.raises(PlanFileError, match="it is not a plain file"):
        read_journal(plan, PLAN_ID)
    with pytest.raises(OutputError, match="nothing was recorded"):
        append(plan, PLAN_ID, lambda _: [(THREE[0], "")])


def test_an_accepted_schedule_survives_the_way_through_the_file(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    _written(plan, accepted())
    assert read_journal(plan, PLAN_ID).entries[0].record == accepted()


def test_any_byte_that_was_changed_is_noticed(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    whole = _written(plan, THREE[0])
    for at in range(len(whole) - 1):
        journal_path(plan).write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
        try:
            entries = read_journal(plan, PLAN_ID).entries
        except PlanFileError:  # every line names another plan
            continue
        assert [entry.record for entry in entries] in ([], [THREE[0]]), at


def test_a_line_without_a_checksum_comes_from_an_earlier_version(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    line = '{"format":1,"plan":"reef-1","kind":"note","at":"2027-03-13T08:00Z","text":"old"}\n'
    journal_path(plan).write_text(line)
    assert [entry.record for entry in read_journal(plan, PLAN_ID).entries] == [Note(at=T0, text="old")]


def test_a_line_of_another_plan_among_its_own_is_passed_over_and_named(tmp_path: Path) -> None:
    plan = plan_file(tmp_path)
    whole = _written(plan, *THREE)
    other = encoded(Note(at=T0, text="elsewhere"), "reef-2").encode() + b"\n"
    journal_path(plan).write_bytes(whole + other)
    journal = read_journal(plan, PLAN_ID)
    assert [entry.record for entry in journal.entries] == list(THREE)
    assert [str(fault) for fault in journal.faults] == [
        'reef.journal.jsonl:4: this line is passed over: it belongs to the plan "reef-2"; '
        "nothing else is lost; log again what it was to say"
    ]
