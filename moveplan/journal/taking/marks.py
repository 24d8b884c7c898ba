"""Records of phones as the journal takes them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from moveplan.journal.now.failure import PERSON, VEHICLE, Failed, Works
from moveplan.journal.records import (
    Back,
    Begun,
    Counted,
    Done,
    Entry,
    Met,
    Note,
    Opened,
    Out,
    Reading,
    Record,
    Shut,
    Tended,
)
from moveplan.journal.state import JournalState, effective
from moveplan.journal.taking.known import Known
from moveplan.journal.taking.said import count_said
from moveplan.journal.taking.slip import (
    BACK,
    COUNTS,
    FAILED,
    NOTED,
    READ,
    READ_IN,
    STEPS,
    TENDED,
    TROUBLES,
    WORKS,
    Mark,
)
from moveplan.journal.taking.taken import WHY, Told
from moveplan.journal.waters.readings import KINDS
from moveplan.network.task import State
from moveplan.times import to_local


def told_by_marks(marks: Sequence[Mark], known: Known) -> list[Told]:
    """Make of records of phones what the journal takes.

    Parameters
    ----------
    marks : sequence of Mark
        In the order of time.
    """
    return [_told(mark, known) for mark in marks]


def key_of(record: Record, people: Iterable[str], entries: Sequence[Entry]) -> str:
    """Name a record of the terminal as phones would, where equal ones count; empty: they are one.

    Of equal ones in one minute each goes by a minute later than the one before.

    Parameters
    ----------
    record : Record
        What is to be written.
    people : iterable of str
        Ids; to phones it is the first who recorded it.
    entries : sequence of Entry
        What was written before.
    """
    if not isinstance(record, Counted):
        return ""
    kind, name, number = count_said(record)
    seen = {entry.source for entry in entries}
    mark = Mark(record.at, kind, name, number, min(people, default=""))
    while mark.key in seen:
        mark = replace(mark, at=mark.at + 1)
    return mark.key


def counts_told(entries: Sequence[Entry]) -> tuple[str, ...]:
    """Name the records of lost and found animals that count, without who recorded them: a new plan knows of these."""
    found = []
    for entry in effective(entries):
        if isinstance(entry.record, Counted):
            kind, name, number = count_said(entry.record)
            at = entry.source.split(" ")[3] if entry.source.startswith("card ") else entry.record.at
            found.append(f"{kind} {name} {at} {number}")
    return tuple(found)


def _told(mark: Mark, known: Known) -> Told:
    return Told(
        mark.key,
        mark.at,
        mark.name,
        lambda at, state: _record(mark, at, known, state),
        lambda state: _has(state, mark),
        f"{mark.kind} {mark.name}" if mark.back else "",
        kept=True,
        closes=mark.kind == "lid-on",
    )


def _has(state: JournalState, mark: Mark) -> bool:
    found = state.of(mark.name)
    if mark.kind == "begun":
        return found.state in (State.IN_PROCESS, State.COMPLETED)
    if mark.kind in ("done", "met"):
        return found.state is State.COMPLETED or mark.time in dict(found.times)
    return False


def _record(mark: Mark, at: int, known: Known, state: JournalState) -> Record:
    if mark.kind in ("begun", "done", "met", "not-met"):
        return _of_task(mark, at, known, state)
    if mark.kind in (READ, READ_IN):
        what, _, water = mark.name.partition("@") if mark.kind == READ else ("temperature", "", "")
        container = "" if mark.kind == READ else mark.name
        value = round(mark.time * STEPS[what], 6)
        unit = KINDS[what].unit
        said = f"{value:g}" if unit == "-" else f"{value:g} {unit}"
        return Reading(at=at, what=what, value=value, unit=unit, said=said, system=water, container=container)
    number, _, spot = mark.name.partition("@")
    if mark.kind == WORKS and spot in TROUBLES:
        return Works(at=at, what=spot, name=number)
    if mark.kind in (FAILED, WORKS):
        return _of_thing(mark, at, known)
    if mark.kind == NOTED:
        where, what = f"{number}: " if number else "", spot.replace("-", " ")
        said = f"{where}{what}, says {known.people.get(mark.person, mark.person)}"
        return Note(at=at, text=said, trouble=spot, container=number)
    if mark.kind in COUNTS:
        return Counted(at=at, group=spot, change=COUNTS[mark.kind] * mark.time, container=number)
    if mark.kind in TENDED:
        what, _, one = spot.partition(":")
        names = known.vehicles if what == VEHICLE else known.places
        return Tended(at=at, container=number, what=mark.kind, where=names.get(one, one))
    return (
        Shut(at=at, container=number, reason=WHY)
        if mark.kind == "lid-on"
        else Opened(at=at, container=number)
    )


def _of_task(mark: Mark, at: int, known: Known, state: JournalState) -> Record:
    begun = state.of(mark.name).begun
    if mark.kind in ("done", "met") and begun is not None and known.task(mark.name).times == 1:
        at = max(at, begun)  # the clocks of two phones differ: nothing ends before it began
    by = known.people.get(mark.person, mark.person)
    if mark.kind == "begun":
        return Begun(at=at, task=mark.name, reason=WHY)
    if mark.kind == "done":
        recurs = known.task(mark.name).times > 1
        return Done(at=at, task=mark.name, time=mark.time if recurs else None, reason=WHY)
    if mark.kind == "met":
        return Met(at=at, task=mark.name, by=by, reason=WHY)
    return Note(at=at, text=f"{mark.name} is not met, says {by}")


def _of_thing(mark: Mark, at: int, known: Known) -> Record:
    """Make a record of what failed or works again; who falls out or is back on a phone is so for that day."""
    what, _, name = mark.name.partition(":")
    if what != PERSON:
        if mark.kind == WORKS:
            return Works(at=at, what=what, name=name)
        return Failed(
            at=at, what=what, name=name, until=mark.at + mark.time - BACK if mark.time >= BACK else None
        )
    day = to_local(at, known.zone).date()
    return (Out if mark.kind == FAILED else Back)(at=at, person=name, first=day, last=day)
