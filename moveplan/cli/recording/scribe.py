"""Writes records: refuses what cannot be true, and says what was written; those of tasks are here."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from shlex import quote
from typing import Any

import typer

from moveplan.cli.recording.diary import Diary, open_diary
from moveplan.cli.terminal.paper import show_text
from moveplan.cli.terminal.pocket import say_clock
from moveplan.errors import MoveplanError
from moveplan.journal import records
from moveplan.journal.file.coding import KINDS
from moveplan.journal.file.store import Journal, append
from moveplan.journal.records import Entry, Record
from moveplan.journal.state import JournalState, effective, state_of
from moveplan.journal.taking.answers import Answers, asked_for, readings_in, signers_in
from moveplan.journal.taking.known import (
    Known,
    UnknownNameError,
    known_of,
    minutes_in,
    moment_in,
    refused,
)
from moveplan.journal.taking.marks import key_of
from moveplan.journal.taking.meant import Said as Said
from moveplan.journal.taking.meant import meant, person_meant
from moveplan.journal.taking.up_to import up_to
from moveplan.journal.taking.vetting import vetted
from moveplan.outputs.wording.journal import fill

_LISTED = 15
"""Latest entries that are listed. Chosen. [-]"""
_BEYOND = 1_000_000
"""Lines of records that are not written yet stand behind all that are. [-]"""
_NAMES = {kind: name for name, kind in KINDS.items()}
_OfTask = records.Begun | records.Done | records.Met
_WORDS = {records.Begun: "begin", records.Done: "done", records.Met: "met"}
Maker = Callable[[Known, int, Journal], Sequence[tuple[Record, str]]]


def write(plan: Path, now_said: str, make: Maker) -> None:
    """Write records under the lock, with the plan read in full only where the accepted schedule does not do."""
    diary = open_diary(plan, now_said)
    if not diary.state.accepted:
        append_said(diary, plan_knows(diary), make)
        return
    known = known_of(diary.snapshot())
    try:
        append_said(diary, known, make)
    except UnknownNameError:
        more = wider(diary, known)
        if more is None:
            raise
        append_said(diary, more, make)


def wider(diary: Diary, known: Known) -> Known | None:
    """Know also what was written into the plan since; None where the plan cannot be read now."""
    try:
        return known.joined(plan_knows(diary))
    except MoveplanError:
        return None


def append_said(diary: Diary, known: Known, make: Maker) -> None:
    """Add records to the journal, and say what was added."""
    now = diary.now(known.zone)
    say_clock(diary, known.zone)
    journal, entries = append(diary.plan, diary.journal.plan_id, lambda journal: make(known, now, journal))
    say(journal, entries, known, now)


def plan_knows(diary: Diary) -> Known:
    """Read the plan in full, to know what a record may name."""
    from moveplan.outputs.accepted import known_of_project
    from moveplan.stages import reading

    plan = reading.read(diary.plan, reading.Settings())
    return known_of_project(reading.compose(plan))


def write_one(plan: Path, now_said: str, at_said: str, make: Callable[[int, Known], Record]) -> None:
    """Write one record that happened at a moment."""

    def made(known: Known, now: int, journal: Journal) -> Sequence[tuple[Record, str]]:
        at = moment_in(at_said, known.zone) if at_said else now
        record = vetted(make(at, known), state_of(journal.entries), known, now)
        return [(record, key_of(record, known.people, journal.entries))]

    write(plan, now_said, made)


def say(journal: Journal, entries: Sequence[Entry], known: Known, now: int) -> None:
    """Say what was added."""
    rows = [_row(entry, counts=True) for entry in entries]
    lines = {entry.line: _row(entry, counts=True) for entry in journal.entries}
    values = {"rows": rows, "known": known, "journal": journal.path, "lines": lines}
    typer.echo(fill("log", known.zone, now, values), nl=False)


def _row(entry: Entry, *, counts: bool) -> dict[str, Any]:
    return {"line": entry.line, "kind": _NAMES[type(entry.record)], "record": entry.record, "counts": counts}


def list_last(plan: Path, now_said: str) -> None:
    """List the last records with their lines."""
    diary = open_diary(plan, now_said)
    known = known_of(diary.snapshot()) if diary.state.accepted else plan_knows(diary)
    counting = {entry.line for entry in effective(diary.journal.entries)}
    say_clock(diary, known.zone)
    rows = [
        _row(entry, counts=entry.line in counting or isinstance(entry.record, records.Undo))
        for entry in diary.journal.entries[-_LISTED:]
    ]
    lines = {entry.line: _row(entry, counts=True) for entry in diary.journal.entries}
    values = {"rows": rows, "known": known, "journal": diary.journal.path, "lines": lines}
    show_text(fill("log", known.zone, diary.now(known.zone), values))


def begun(plan: Path, said: Said, at: str, now: str) -> None:
    """Write that a task was begun."""
    _one_task(
        plan, now, at, said, lambda moment, name: records.Begun(at=moment, task=name, reason=said.reason)
    )


def done(plan: Path, said: Said, took: str, time: int, at: str, now: str) -> None:
    """Write that a task, or one time of it, is done."""
    minutes = minutes_in(took) if took else None
    _one_task(
        plan,
        now,
        at,
        said,
        lambda moment, name: records.Done(
            at=moment, task=name, took_min=minutes, time=time or None, reason=said.reason
        ),
    )


def met(plan: Path, said: Said, by: str, at: str, now: str) -> None:
    """Write that a hold point was met and signed."""
    _one_task(
        plan, now, at, said, lambda moment, name: records.Met(at=moment, task=name, by=by, reason=said.reason)
    )


def _one_task(
    plan: Path, now_said: str, at_said: str, said: Said, make: Callable[[int, str], _OfTask]
) -> None:
    """Write one record of a task that was named by its id, its number, or as the one that is on."""

    def made(known: Known, now: int, journal: Journal) -> Sequence[tuple[Record, str]]:
        at = moment_in(at_said, known.zone) if at_said else now
        state = state_of(journal.entries)
        name = meant(said, state, known, at)
        last = make(at, name)
        rows = _before(said, state, known, last, at_said, str(plan)) if said.and_before or said.signed else ()
        pool, added = readings_in(said.read), [*journal.entries]

        def add(record: Record, *, typed: bool = False) -> None:
            asked = vetted(record, state_of(added), known, now, typed=typed, past=said.and_before)
            added.append(Entry(len(added) + _BEYOND, asked))

        for record in (*rows, last):
            for one in asked_for(record, known, pool):
                add(one)
            add(record, typed=bool(at_said) and record is last)
        if pool:
            raise refused(
                f"no hold point that is signed here asks for {pool[0].what}",
                f"moveplan record PLAN read {pool[0].what} VALUE",
            )
        return [(entry.record, "") for entry in added[len(journal.entries) :]]

    write(plan, now_said, made)


def _before(
    said: Said, state: JournalState, known: Known, last: _OfTask, at_said: str, plan: str
) -> Sequence[Record]:
    known.task(last.task)
    if known.snapshot is None or known.snapshot.task(last.task) is None:
        raise refused("no schedule was accepted yet, so nothing stands before it", "name each task")
    person = person_meant(said.by, known.snapshot.people)
    signed = {
        meant(Said(point), state, known, last.at): who for point, who in signers_in(said.signed).items()
    }
    by = last.by if isinstance(last, records.Met) else said.by
    words = (
        "moveplan record",
        plan,
        _WORDS[type(last)],
        said.task or last.task,
        "--and-before",
        *(["--at", quote(at_said)] if at_said else []),
        *(["--by", quote(by)] if by else []),
    )
    answers = Answers(signed, said.reason, " ".join(words))
    time = (last.time or 0) if isinstance(last, records.Done) else 0
    return up_to(last.task, person, known.snapshot, state, last.at, answers, time)


def dropped(plan: Path, task: str, reason: str, at: str, now: str) -> None:
    """Write that a task will not be done."""
    if not reason.strip():
        raise refused("a task is dropped for a reason", "say why with --reason TEXT")
    write_one(plan, now, at, lambda moment, _: records.Dropped(at=moment, task=task, reason=reason))
