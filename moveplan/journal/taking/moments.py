"""Whether the moment of a record may be a slip: long ago, long before its day, or before what it waits for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from moveplan.journal.file.snapshot import Snapshot, Tie
from moveplan.journal.records import Begun, Done, Met
from moveplan.journal.state import JournalState
from moveplan.journal.taking.known import Known
from moveplan.network.link import Relation
from moveplan.times import MINUTES_A_DAY, told

CLOCKS_MIN = 2
"""Clocks that differ by no more than this agree; assumed. [min]"""
LATE_PRESSED_MIN = 60
"""What is recorded on a phone is often pressed later than it was done, by up to this; assumed. [min]"""
_ENDS = (Relation.FINISHTOSTART, Relation.FINISHTOFINISH)
_OF_THE_END = (Relation.FINISHTOFINISH, Relation.STARTTOFINISH)


def is_old(at: int, now: int) -> bool:
    """Whether a moment lies more than a day back: who types a date may have typed another one."""
    return at < now - MINUTES_A_DAY


def moment_doubts(
    record: Begun | Done | Met, state: JournalState, known: Known, by_min: int = CLOCKS_MIN
) -> Iterator[str]:
    """Say what the plan and other records have against the moment of a record.

    Parameters
    ----------
    record : Begun, Done or Met
        What was done.
    state : JournalState
        What was written, by whomever.
    known : Known
        With the schedule in force; without one there is nothing to go by.
    by_min : int
        By how much it may come before what it waits for. [min]
    """
    snapshot = known.snapshot
    planned = snapshot.task(record.task) if snapshot else None
    if snapshot is None or planned is None:
        return
    if planned.day and record.at < planned.start - MINUTES_A_DAY:
        days = (planned.start - record.at) // MINUTES_A_DAY
        yield f"{days} day{'' if days == 1 else 's'} before it is planned"
    waited = _waited_for(record, state, snapshot, by_min)
    if waited is not None:
        task, at = waited
        yield f"before {known.said(task)}, which it waits for and which was recorded at {told(at, known.zone)}"


def _waited_for(
    record: Begun | Done | Met, state: JournalState, snapshot: Snapshot, by_min: int
) -> tuple[str, int] | None:
    """Find the latest of what a task waits for that was recorded after it, through what nobody recorded."""
    ties, found = snapshot.ties, dict[str, int]()
    waiting: list[tuple[str, bool]] = [(record.task, isinstance(record, Done))]
    seen: set[str] = set()
    while waiting:
        name, ends = waiting.pop()
        for tie in _binding(ties, name, ends):
            one = state.of(tie.before)
            at = one.done if tie.relation in _ENDS else one.begun
            if at is not None and at + min(tie.gap_min, 0) > record.at + by_min:
                found[tie.before] = at
            elif at is None and tie.relation is Relation.FINISHTOSTART and tie.before not in seen:
                seen.add(tie.before)
                waiting.append((tie.before, True))
    return max(found.items(), key=lambda one: (one[1], one[0]), default=None)


def _binding(ties: Mapping[str, Sequence[Tie]], name: str, ends: bool) -> Iterator[Tie]:
    """Go through what holds back the begin of a task; where it has ended, what holds back its end too."""
    return (tie for tie in ties.get(name, ()) if ends or tie.relation not in _OF_THE_END)
