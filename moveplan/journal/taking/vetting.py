"""Whether a record can be true: what it names exists, its time has come, and it fits what was said before."""

from __future__ import annotations

from dataclasses import replace

from moveplan.journal.file.coding import stamp
from moveplan.journal.records import (
    Back,
    Begun,
    Counted,
    Done,
    Dropped,
    Entry,
    Lid,
    Met,
    Out,
    Reading,
    Record,
    Shut,
    Tended,
    Undo,
    Vehicle,
)
from moveplan.journal.state import JournalState, TaskState, effective
from moveplan.journal.taking.known import Known, refused
from moveplan.journal.taking.moments import is_old, moment_doubts
from moveplan.journal.taking.order import NotSignedError as NotSignedError
from moveplan.journal.taking.order import closed_in_order, in_order
from moveplan.journal.waters.judged import lacking
from moveplan.network.task import Kind, State
from moveplan.times import told


def vetted(
    record: Record, state: JournalState, known: Known, now: int, *, typed: bool = False, past: bool = False
) -> Record:
    """Refuse what cannot be true; a hold point that is signed learns what it lacks.

    Parameters
    ----------
    record : Record
        What is to be written.
    state : JournalState
        What was written before.
    now : int
        UTC. [min]
    typed : bool
        Whether somebody wrote down when it happened, and may have mistaken the day.
    past : bool
        Whether days that are past are meant.

    Raises
    ------
    PlanFileError
        Where it cannot be true.
    NotSignedError
        Where a hold point lacks a reading, something comes before what it waits for, or a moment that was typed is
        doubtful, and no reason is given.
    """
    if record.at > now:
        raise refused(
            f"{told(record.at, known.zone)} is in the future, it is {told(now, known.zone)}",
            "record it when it has happened, or give the moment that counts as now with --now",
        )
    if isinstance(record, (Begun, Done, Dropped, Met)):
        of_task = _of_task(record, state, known)
        doubtful = typed and _asked_when(of_task, state, known, None if past else now)
        found = in_order(of_task, state, known)
        return replace(found, reason=record.reason) if doubtful else found
    _check_names(record, known)
    return closed_in_order(record, state, known) if isinstance(record, Shut) else record


def _asked_when(
    record: Begun | Done | Dropped | Met, state: JournalState, known: Known, now: int | None
) -> bool:
    """Whether the moment of a record is doubtful; without a reason it is asked."""
    if isinstance(record, Dropped):
        return False
    doubts = [
        *([f"more than a day before now, {told(now, known.zone)}"] if now and is_old(record.at, now) else ()),
        *moment_doubts(record, state, known),
    ]
    if doubts and not record.reason.strip():
        raise NotSignedError(
            f"{known.said(record.task)} at {told(record.at, known.zone)}: is that so? It is {', and '.join(doubts)}. "
            "Write the real moment with --at, or say with --reason why it is so; the reason is printed from then on."
        )
    return bool(doubts)


def _check_names(record: Record, known: Known) -> None:
    if isinstance(record, (Out, Back)):
        known.named("people", record.person)
    elif isinstance(record, Vehicle):
        known.named("vehicles", record.vehicle)
    elif isinstance(record, Tended) or (isinstance(record, Lid) and record.container):
        known.container(record.container)
    elif isinstance(record, (Counted, Lid)):
        known.named("groups", record.group)
    elif isinstance(record, Reading) and record.system:
        known.named("systems", record.system)
    elif isinstance(record, Reading) and len(known.systems) > 1 and not record.container:
        raise refused(
            "there are several waters to read",
            f"say which with --of, one of {', '.join(known.systems)}, or the number of a container",
        )


def _of_task(
    record: Begun | Done | Dropped | Met, state: JournalState, known: Known
) -> Begun | Done | Dropped | Met:
    task, before = known.task(record.task), state.of(record.task)
    _check_order(record, before, known)
    if isinstance(record, Met):
        return _signed(record, state, known)
    if task.kind is Kind.HOLD_POINT:
        raise refused(
            f"{known.said(record.task)} is a hold point; somebody has to sign it",
            f"moveplan record PLAN met {known.typed(record.task)} --by NAME",
        )
    if isinstance(record, Done) and record.time is not None:
        _check_time(record.time, known.said(record.task), task.times, before)
    return record


def _check_order(record: Begun | Done | Dropped | Met, before: TaskState, known: Known) -> None:
    said = known.said(record.task)
    if before.state is State.COMPLETED:
        when = "" if before.done is None else f" since {told(before.done, known.zone)}"
        raise refused(
            f"{said} is done{when}", "undo that record first if it is wrong: moveplan record PLAN undo"
        )
    begun = before.begun
    if isinstance(record, Begun) and before.state is State.IN_PROCESS and begun is not None:
        raise refused(
            f"{said} was begun at {told(begun, known.zone)}",
            "undo that record first if it is wrong: moveplan record PLAN undo",
        )
    if isinstance(record, Done) and begun is not None and not before.times and record.at < begun:
        raise refused(
            f"{said} cannot be done at {told(record.at, known.zone)}, it was begun at {told(begun, known.zone)}",
            "give the real end with --at",
        )


def _check_time(time: int, task: str, times: int, before: TaskState) -> None:
    if not 1 <= time <= times:
        raise refused(
            f"{task} happens {times} times, there is no time {time}", f"write a number from 1 to {times}"
        )
    if time in dict(before.times):
        raise refused(f"time {time} of {task} is done", "nothing has to be logged")


def _signed(record: Met, state: JournalState, known: Known) -> Met:
    task, said = known.task(record.task), known.said(record.task)
    if task.kind is not Kind.HOLD_POINT:
        raise refused(
            f"{said} is no hold point, nobody has to sign it",
            f"moveplan record PLAN done {known.typed(record.task)}",
        )
    if not record.by.strip():
        raise refused(f"{said} needs a name", "say who signs with --by NAME")
    ended = {gate.since: done for gate in task.gates if (done := state.of(gate.since).done) is not None}
    titles = {name: one.title for name, one in known.tasks.items()}
    lacks = tuple(lacking(task.gates, state.readings, record.at, ended, titles))
    words = tuple(map(str, lacks))
    if lacks and not record.reason.strip():
        raise NotSignedError(
            f"{said} stays shut: {'; '.join(words)}. Log what shows that the limit is kept, such as "
            f"“moveplan record PLAN {lacks[0].record}”, or say with "
            "--reason why it is opened all the same; the reason is printed from then on."
        )
    return replace(record, lacking=words, reason=record.reason)


def undo_of(line: int | None, entries: tuple[Entry, ...], now: int) -> Undo:
    """Undo a record: the last one that counts, or the one at a line.

    Parameters
    ----------
    line : int or None
        Line of the journal; None: the last record that counts.
    entries : tuple of Entry
        In the order of the file.
    now : int
        UTC. [min]
    """
    counting = effective(entries)
    if line is None:
        if not counting:
            raise refused("there is nothing to undo", "the journal holds no record that counts")
        return Undo(at=now, line=counting[-1].line)
    found = next((entry for entry in entries if entry.line == line), None)
    if found is None:
        raise refused(
            f"line {line} of the journal is no record", "moveplan record PLAN lists the last records"
        )
    if all(entry.line != line for entry in counting) and not isinstance(found.record, Undo):
        raise refused(
            f"line {line} is undone already",
            f"undo its undo to make it count again ({stamp(found.record.at)})",
        )
    return Undo(at=now, line=line)
