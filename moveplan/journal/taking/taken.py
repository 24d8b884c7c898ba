"""Records from elsewhere, taken into the journal: each once, in whatever order and however often they come."""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from moveplan.errors import MoveplanError
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.records import Begun, Done, Entry, Met, Note, Record, Undo
from moveplan.journal.state import JournalState, effective, state_of
from moveplan.journal.taking.known import Known
from moveplan.journal.taking.moments import CLOCKS_MIN, LATE_PRESSED_MIN, moment_doubts
from moveplan.journal.taking.said import marks_of
from moveplan.journal.taking.slip import index_of
from moveplan.journal.taking.vetting import vetted

_IF_WRONG = "if the clock of that phone was wrong, take it back and record it again"
WHY = "recorded on the page"
"""Reason of what is taken although something before it was not recorded: on the spot nobody could be asked again."""
_BEYOND = 1_000_000
"""Number from which taken entries count, above all lines of the journal itself. [-]"""


@dataclass(frozen=True, slots=True)
class Told:
    """One record as it came, from the text of a phone or a file of the page.

    Parameters
    ----------
    key : str
        Names it for ever; nothing with the same key is taken twice.
    at : int
        When it happened, by the clock that recorded it, UTC. [min]
    name : str
        What it is about, to print.
    record : callable
        The record of the journal, for the moment that counts and what was written before.
    has : callable
        Whether the journal says so already, by whatever way that came.
    back : str
        What was taken back, to print; empty: it counts.
    kept : bool
        Whether it is written although the journal says so already: two who record one task both keep their record,
        and the earlier counts.
    closes : bool
        Whether it closes a container: whoever fills it may have begun in that very minute.
    """

    key: str
    at: int
    name: str
    record: Callable[[int, JournalState], Record]
    has: Callable[[JournalState], bool]
    back: str = ""
    kept: bool = False
    closes: bool = False


def taken(
    told: Sequence[Told], entries: Sequence[Entry], known: Known, now: int
) -> tuple[list[tuple[Record, str]], list[str]]:
    """Turn what came into records of the journal, leaving out what it has.

    Parameters
    ----------
    told : sequence of Told
        In the order of time.
    entries : sequence of Entry
        The journal.
    now : int
        UTC. [min]

    Returns
    -------
    list of (Record, str)
        What is to be written, each with its key.
    list of str
        What was left out, and why.
    """
    rows: list[tuple[Record, str]] = []
    fresh: list[tuple[Told, Record]] = []
    left: list[str] = []
    given = _given(entries, known.snapshot)
    counting = effective(entries)
    lines = {given[one.line][0]: one.line for one in counting if len(given[one.line]) == 1}
    lines |= {entry.source: entry.line for entry in counting}
    seen = {entry.source for entry in entries}.union(*given.values())
    added, state = list(entries), state_of(entries)
    for one in _in_order(told, known.snapshot):
        key = f"back {one.key}" if one.back else one.key
        if key in seen or _is_no_news(one, state, seen, lines):
            continue
        try:
            record = (
                _taken_back(one, lines.get(one.key), now) if one.back else _record(one, state, known, now)
            )
        except MoveplanError as error:
            left.append(f"left out, {one.name}: {error}")
            continue
        if not one.back:
            fresh.append((one, record))
        rows.append((record, key))
        seen.add(key)
        added.append(Entry(len(added) + _BEYOND, record, key))
        state = state_of(added)
    return rows, [*left, *_doubts(fresh, state, known, now)]


def _in_order(told: Sequence[Told], snapshot: Snapshot | None) -> Iterator[Told]:
    """Of one minute, what is measured comes first, then tasks as they follow each other in the plan, then lids."""
    starts = {task.id: task.start for task in snapshot.tasks} if snapshot else {}

    def planned(one: Told) -> float:
        if one.closes:
            return math.inf
        return next((starts[word] for word in one.key.split() if word in starts), -1)

    for _, several in groupby(told, key=lambda one: one.at):
        yield from sorted(several, key=planned)


def _doubts(
    fresh: Sequence[tuple[Told, Record]], state: JournalState, known: Known, now: int
) -> Iterator[str]:
    """Say where a moment may be wrong: still to come, or against the plan and other records.

    That it was long ago says nothing: a phone's clock says when it was pressed, and texts are handed in days later.
    """
    for one, record in fresh:
        if one.at > now + CLOCKS_MIN:
            yield f"taken as of now, {one.name}: the clock of that phone is {one.at - now} min ahead"
        elif isinstance(record, (Begun, Done, Met)):
            doubts = list(moment_doubts(record, state, known, LATE_PRESSED_MIN))
            if doubts:
                yield f"taken as it says, {one.name}: {', and '.join(doubts)}; {_IF_WRONG}"


def _given(entries: Sequence[Entry], snapshot: Snapshot | None) -> dict[int, list[str]]:
    """Name the records of each line as phones are given them; nothing where no schedule was accepted."""
    if snapshot is None:
        return {entry.line: [] for entry in entries}
    index = index_of(snapshot, "")
    return {
        entry.line: [mark.key for mark in marks_of(entry, snapshot, index, back=False)] for entry in entries
    }


def _is_no_news(one: Told, state: JournalState, seen: Container[str], lines: Container[str]) -> bool:
    """Whether it was taken back before, or the journal says it already."""
    if one.back:
        return one.key in seen and one.key not in lines
    return f"back {one.key}" in seen or (not one.kept and one.has(state))


def _record(one: Told, state: JournalState, known: Known, now: int) -> Record:
    """Make the record; a clock that runs ahead recorded it by now at the latest."""
    record = one.record(min(one.at, now), state)
    if not one.has(state):
        return vetted(record, state, known, now)
    return replace(record, reason="") if isinstance(record, (Begun, Done, Met)) else record


def _taken_back(one: Told, line: int | None, now: int) -> Record:
    """Undo what counts; of what has not come yet keep a note, so that it never counts later."""
    if line is not None:
        return Undo(at=now, line=line)
    return Note(at=min(one.at, now), text=f"{one.back} was taken back before it came")
