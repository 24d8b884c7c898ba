"""Records of phones, taken into the journal: each once, in whatever order and however often their texts come."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from moveplan.errors import MoveplanError
from moveplan.journal.known import Known
from moveplan.journal.records import Begun, Done, Entry, Met, Note, Opened, Record, Shut, Undo
from moveplan.journal.slip import Mark
from moveplan.journal.state import JournalState, effective, state_of
from moveplan.journal.vetting import vetted
from moveplan.network.task import State

WHY = "recorded on the page"
"""Reason of what is taken although something before it was not recorded: on the spot nobody could be asked again."""

CLOCKS_MIN = 2
"""Clocks that differ by no more than this agree; assumed. [min]"""


def taken(
    marks: Sequence[Mark], entries: Sequence[Entry], known: Known, now: int
) -> tuple[list[tuple[Record, str]], list[str]]:
    """Turn records of phones into records of the journal, leaving out what it has.

    Parameters
    ----------
    marks : sequence of Mark
        In the order of time. [-]
    entries : sequence of Entry
        The journal. [-]
    known : Known
        What a record may name. [-]
    now : int
        UTC. [min]

    Returns
    -------
    list of (Record, str)
        What is to be written, each with its key. [-]
    list of str
        What was left out, and why. [-]
    """
    rows: list[tuple[Record, str]] = []
    left: list[str] = []
    counting = {entry.source: entry.line for entry in effective(entries) if entry.source}
    seen = {entry.source for entry in entries}
    added = list(entries)
    for mark in marks:
        record: Record
        if mark.back:
            key = f"back {mark.key}"
            if key in seen or (mark.key in seen and mark.key not in counting):
                continue
            text = f"{mark.kind} {mark.name} was taken back before it came"  # so that it never counts later
            line = counting.get(mark.key)
            record = Note(at=min(mark.at, now), text=text) if line is None else Undo(at=now, line=line)
        elif mark.key in seen or f"back {mark.key}" in seen or _has(state_of(added), mark):
            continue
        else:
            try:
                # a phone whose clock runs ahead recorded it by now at the latest
                told = replace(mark, at=min(mark.at, now))
                record, key = vetted(_record(told, known), state_of(added), known, now), mark.key
                if mark.at > now + CLOCKS_MIN:
                    left.append(
                        f"taken as of now, {mark.name}: the clock of that phone is {mark.at - now} min ahead"
                    )
            except MoveplanError as error:
                left.append(f"left out, {mark.name}: {error}")
                continue
        rows.append((record, key))
        seen.add(key)
        added.append(Entry(len(added) + 1_000_000, record, key))
    return rows, left


def _has(state: JournalState, mark: Mark) -> bool:
    """Whether the journal says so already, by whatever way it came."""
    found = state.of(mark.name)
    if mark.kind == "begun":
        return found.state in (State.IN_PROCESS, State.COMPLETED) and found.begun is not None
    if mark.kind in ("done", "met"):
        return found.state is State.COMPLETED or mark.time in dict(found.times)
    return False


def _record(mark: Mark, known: Known) -> Record:
    by = known.people.get(mark.person, mark.person)
    if mark.kind == "begun":
        return Begun(at=mark.at, task=mark.name, reason=WHY)
    if mark.kind == "done":
        recurs = known.task(mark.name).times > 1
        return Done(at=mark.at, task=mark.name, time=mark.time if recurs else None, reason=WHY)
    if mark.kind == "met":
        return Met(at=mark.at, task=mark.name, by=by, reason=WHY)
    if mark.kind == "not-met":
        return Note(at=mark.at, text=f"{mark.name} is not met, says {by}")
    return (Shut if mark.kind == "lid-on" else Opened)(at=mark.at, container=mark.name)
