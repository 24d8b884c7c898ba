"""Records that come from elsewhere: from a page, from a phone, and the schedule that is accepted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from moveplan.cli.recording.diary import Diary, open_diary
from moveplan.journal.file.store import Journal, append
from moveplan.journal.records import Record
from moveplan.journal.taking.known import (
    Known,
    known_of,
)

if TYPE_CHECKING:
    from moveplan.journal.taking.taken import Told
    from moveplan.stages.reading import Settings

from moveplan.cli.recording.scribe import append_said, plan_knows, say, wider


def merge(plan: Path, source: Path, by: str, now_said: str) -> None:
    """Merge a progress file, without losing or doubling what it says."""
    from moveplan.journal.taking.progress import read_progress, told_by_ticks

    diary = open_diary(plan, now_said)
    progress = read_progress(source, diary.journal.plan_id)
    known = known_of(diary.snapshot()) if diary.state.accepted else plan_knows(diary)
    if any(tick.task and tick.task not in known.tasks for tick in progress):
        known = wider(diary, known) or known
    _take(diary, known, lambda known: told_by_ticks(progress, known, by))


def paste(plan: Path, text: str, now_said: str) -> None:
    """Take a text that a phone copied, without losing or doubling what it says."""
    from moveplan.journal.taking.marks import told_by_marks
    from moveplan.journal.taking.slip import index_of, read_slip

    diary = open_diary(plan, now_said)
    known = known_of(diary.snapshot())
    plan_id = diary.journal.plan_id
    marks = read_slip(text, [index_of(diary.snapshot(one), plan_id) for one in diary.state.accepted])
    _take(diary, known, lambda known: told_by_marks(marks, known))


def _take(diary: Diary, known: Known, told: Callable[[Known], Sequence[Told]]) -> None:
    """Write what came from elsewhere, and say what was left out."""
    from moveplan.journal.taking.taken import taken

    left: list[str] = []

    def made(known: Known, now: int, journal: Journal) -> Sequence[tuple[Record, str]]:
        rows, left[:] = taken(told(known), journal.entries, known, now)
        return rows

    append_said(diary, known, made)
    for message in left:
        typer.echo(message, err=True)


def accept(plan: Path, settings: Settings, reason: str, clear_progress: Callable[[], None]) -> None:
    """Solve, and keep the schedule as the one that is in force."""
    from moveplan import pipeline
    from moveplan.errors import CannotBeDoneError
    from moveplan.outputs.accepted import accepted_of, known_of_project

    outlook = pipeline.outlook_of(plan, settings)
    clear_progress()
    asked = outlook.problems and not outlook.late and not reason.strip()
    if not outlook.schedule.placements or asked:
        raise CannotBeDoneError(outlook.problems)
    record = accepted_of(outlook, reason)
    journal, entries = append(plan, outlook.project.plan.id, lambda _: [(record, "")])
    say(journal, entries, known_of_project(outlook.project), outlook.now)
