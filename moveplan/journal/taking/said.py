"""What the journal says, as phones know it: which records of theirs each of its own is."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.failure import PERSON, POWER, VEHICLE, Failed, Works
from moveplan.journal.records import (
    Back,
    Begun,
    Counted,
    Done,
    Entry,
    Lid,
    Met,
    Note,
    Out,
    Reading,
    Record,
    Shut,
    Tended,
)
from moveplan.journal.state import effective
from moveplan.journal.taking.slip import (
    BACK,
    FAILED,
    MOVED,
    READ,
    READ_IN,
    STEPS,
    TROUBLES,
    WORKS,
    Index,
    Mark,
    can_be_written,
    slip_text,
)
from moveplan.times import to_local


def all_said(entries: Sequence[Entry], snapshot: Snapshot, index: Index, shown: Index) -> str:
    """Give all that the journal says of work, lids, readings and failures, as the text that phones read.

    Parameters
    ----------
    entries : sequence of Entry
        The journal, in the order of the file.
    snapshot : Snapshot
        A schedule.
    index : Index
        What it names.
    shown : Index
        What the phone names; records of anything else are left out.
    """
    counting = {entry.line for entry in effective(entries)}
    marks = {
        mark
        for entry in entries
        for mark in marks_of(entry, snapshot, index, back=entry.line not in counting)
    }
    return slip_text(sorted(one for one in marks if can_be_written(one, shown)), shown)


def marks_of(entry: Entry, snapshot: Snapshot, index: Index, *, back: bool) -> list[Mark]:
    """Say a record as phones know it; nothing where they know no such records.

    Parameters
    ----------
    entry : Entry
        A line of the journal, whoever wrote it.
    snapshot : Snapshot
        The schedule in force.
    index : Index
        What it names.
    back : bool
        Whether it was taken back.
    """
    record = entry.record
    never_counted = entry.source.startswith("back card ") and isinstance(record, Note)
    if entry.source.startswith("card ") or never_counted:
        kind, name, at, time, person = entry.source.removeprefix("back ").split(" ")[1:]
        return [Mark(int(at), kind, name, int(time), person, back or never_counted)]
    kind, names, number = _said(record, snapshot, index)
    person = (
        _whose(record.task, snapshot, index) if isinstance(record, (Begun, Done, Met)) else index.people[0]
    )
    return [Mark(record.at, kind, name, number, person, back) for name in names]


def count_said(record: Counted) -> tuple[str, str, int]:
    """Say of animals that were lost or found the kind, name and number of their record."""
    kind = "lost" if record.change < 0 else "added"
    return kind, f"{record.container}@{record.group}", abs(record.change)


def _said(record: Record, snapshot: Snapshot, index: Index) -> tuple[str, list[str], int]:
    """Give the kind of a record that was written at the computer, what it names, and its number."""
    if isinstance(record, (Begun, Done, Met)):
        kind = {Begun: "begun", Done: "done", Met: "met"}[type(record)]
        return kind, [record.task], (isinstance(record, Done) and record.time) or 0
    if isinstance(record, Lid):
        own = [stay for stay in snapshot.stays if stay.group == record.group]
        numbers = (
            {record.container} if record.container else {one for stay in own for one, _ in stay.containers}
        )
        return "lid-on" if isinstance(record, Shut) else "lid-off", sorted(numbers), 0
    if isinstance(record, Tended):
        spots = [one for one in index.named(MOVED) if _is_there(one, record, snapshot)]
        return record.what, spots[:1] if record.where else [record.container], 0
    if isinstance(record, Reading) and record.what in STEPS:
        return _of_reading(record, snapshot, index)
    if isinstance(record, Counted):
        kind, name, number = count_said(record)
        return kind, [name], number
    if isinstance(record, (Failed, Works)):
        return _of_thing(record, index)
    if isinstance(record, (Out, Back)) and _is_that_day(record, snapshot):
        return FAILED if isinstance(record, Out) else WORKS, [f"{PERSON}:{record.person}"], 0
    return "", [], 0


def _of_reading(record: Reading, snapshot: Snapshot, index: Index) -> tuple[str, list[str], int]:
    """Say what was read in a tank, or how warm a container is: of that phones know no more."""
    steps = round(record.value / STEPS[record.what])
    if not record.container:
        return READ, [f"{record.what}@{record.system or next(iter(snapshot.systems), '')}"], steps
    mark = Mark(record.at, READ_IN, record.container, steps, index.people[0])
    known = record.what == "temperature" and can_be_written(mark, index)
    return READ_IN, [record.container] if known else [], steps


def _of_thing(record: Failed | Works, index: Index) -> tuple[str, list[str], int]:
    """Say what failed, and when it is expected back where there is room for that; or what works again."""
    broken = f"{record.name}@{record.what}" if record.what in TROUBLES else f"{record.what}:{record.name}"
    if isinstance(record, Works):
        return WORKS, [broken], 0
    back = 0 if record.until is None else BACK + record.until - record.at
    fits = can_be_written(Mark(record.at, FAILED, broken, back, index.people[0]), index)
    return FAILED, [broken], back if fits else 0


def _is_there(spot: str, record: Tended, snapshot: Snapshot) -> bool:
    """Whether a container that phones may name at a place is this one, moved there."""
    number, _, thing = spot.partition("@")
    what, _, one = thing.partition(":")
    places = snapshot.premises.places if snapshot.premises else {}
    names = {VEHICLE: snapshot.vehicles, POWER: places}[what]
    return (number, names.get(one)) == (record.container, record.where)


def _is_that_day(record: Out | Back, snapshot: Snapshot) -> bool:
    """Whether somebody fell out or is back for the day on which it was said; phones know no other."""
    return record.first <= to_local(record.at, ZoneInfo(snapshot.zone)).date() <= record.last


def _whose(task: str, snapshot: Snapshot, index: Index) -> str:
    """Say whose record one is that was written at the computer: who leads the task."""
    planned = snapshot.task(task)
    return planned.people[0] if planned and planned.people else index.people[0]
