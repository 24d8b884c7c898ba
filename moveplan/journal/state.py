"""What the records add up to; any sequence of records has a state, and the same one every time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import timedelta
from typing import TypeVar

from moveplan.journal.now.failure import LASTING, Failed, Works, failing
from moveplan.journal.outdated import outdated
from moveplan.journal.records import (
    Accepted,
    Back,
    Begun,
    Counted,
    Done,
    Dropped,
    Entry,
    Lid,
    Met,
    MovedDates,
    MovedDay,
    MovedMoment,
    Note,
    Out,
    Reading,
    Record,
    Spent,
    Tended,
    Undo,
    Vehicle,
)
from moveplan.network.task import State

_Kind = TypeVar("_Kind", bound=Record)
Fact = MovedMoment | MovedDay | MovedDates | Out | Vehicle | Counted
"""Records that change what the plan says."""
_WORKED = (Begun, Done, Met, Lid, Tended)


@dataclass(frozen=True, slots=True)
class TaskState:
    """How far one task is.

    Parameters
    ----------
    state : State
        NEEDS-ACTION where all that was said was undone.
    begun, done : int or None
        When, UTC; of recurring care the first beginning and the last end. [min]
    took_min : int or None
        How long it really took, where somebody said so or logged both ends. [min]
    times : tuple of (int, int)
        Recurring care: which times are done, and when, UTC. [min]
    by : str
        Who signed a hold point.
    reason : str
        Why it was dropped, or signed although a limit was not shown to be kept.
    lacking : tuple of str
        The limits that were not shown to be kept.
    """

    state: State = State.NEEDS_ACTION
    begun: int | None = None
    done: int | None = None
    took_min: int | None = None
    times: tuple[tuple[int, int], ...] = ()
    by: str = ""
    reason: str = ""
    lacking: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class JournalState:
    """Everything that has happened.

    Parameters
    ----------
    tasks : Mapping of str to TaskState
        Tasks that were spoken of.
    readings : tuple of Reading
        Of tanks, in the order of measuring.
    contained : tuple of Reading
        Of containers, in the order of measuring: no hold point, forecast or advice of a tank goes by them.
    facts : tuple of Fact
        What changed, in the order of writing.
    returned : tuple of (Out, int)
        Who was out and is there again: the days that were taken back, and when that was said, UTC. [-, min]
    lids : tuple of Lid
        Containers that were closed and opened, in the order of time.
    carried : Mapping of str to tuple of (int, str)
        When each container was moved, UTC, and where to, in the order of time. [min, -]
    lost : Mapping of str to tuple of (str, int)
        Animals of each group lost, or added where negative, since the last schedule was accepted, one after the other,
        each with the number of the container they were in; an empty one: in none, or not known.
    failures : tuple of Failed
        What has failed and does not work again.
    moved : tuple of MovedDates or MovedDay
        Moves of the moving day that the last accepted schedule does not know; none where they cancel out.
    troubles : tuple of Note
        What went wrong with devices and containers and was not mended, in the order of time.
    airless : Mapping of str to int
        Since when each container has no air, UTC: it was taken off, or a device of it is dead. [min]
    spent : tuple of Spent
        Money.
    notes : tuple of Note
        Words.
    accepted : tuple of Accepted
        Every accepted schedule that counts; the first is the yardstick, the last is in force.
    last : int or None
        The latest moment of anything that happened, UTC; None: nothing has. [min]
    worked : int or None
        The latest moment at which work or a lid was logged, UTC; None: none was. [min]
    """

    tasks: Mapping[str, TaskState] = field(default_factory=dict)
    readings: tuple[Reading, ...] = ()
    contained: tuple[Reading, ...] = ()
    facts: tuple[Fact, ...] = ()
    returned: tuple[tuple[Out, int], ...] = ()
    lids: tuple[Lid, ...] = ()
    carried: Mapping[str, tuple[tuple[int, str], ...]] = field(default_factory=dict)
    lost: Mapping[str, tuple[tuple[str, int], ...]] = field(default_factory=dict)
    failures: tuple[Failed, ...] = ()
    moved: tuple[MovedDates | MovedDay, ...] = ()
    troubles: tuple[Note, ...] = ()
    airless: Mapping[str, int] = field(default_factory=dict)
    spent: tuple[Spent, ...] = ()
    notes: tuple[Note, ...] = ()
    accepted: tuple[Accepted, ...] = ()
    last: int | None = None
    worked: int | None = None

    def of(self, task: str) -> TaskState:
        """Tell how far a task is."""
        return self.tasks.get(task, TaskState())


def effective(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """Leave out what was undone, the undoing, and signatures for a moving day that has moved since.

    Parameters
    ----------
    entries : sequence of Entry
        In the order of the file.

    Examples
    --------
    >>> note, undo = Note(at=0, text="a"), Undo(at=1, line=1)
    >>> [entry.line for entry in effective([Entry(1, note), Entry(2, undo)])]
    []
    >>> [entry.line for entry in effective([Entry(1, note), Entry(2, undo), Entry(3, Undo(at=2, line=2))])]
    [1]
    """
    undone: set[int] = set()
    kept: list[Entry] = []
    for entry in reversed(entries):
        if entry.line in undone:
            continue
        if isinstance(entry.record, Undo):
            undone.add(entry.record.line)
        else:
            kept.append(entry)
    kept.reverse()
    void = outdated(kept)
    return tuple(entry for entry in kept if entry.line not in void)


def state_of(entries: Sequence[Entry]) -> JournalState:
    """Add the records up.

    Parameters
    ----------
    entries : sequence of Entry
        In the order of the file.
    """
    counted = [entry.record for entry in effective(entries)]
    timed = sorted(counted, key=lambda one: one.at)
    return JournalState(
        tasks=_tasks(counted),
        readings=tuple(one for one in _of(timed, Reading) if not one.container),
        contained=tuple(one for one in _of(timed, Reading) if one.container),
        facts=tuple(_facts(counted)),
        returned=tuple(_returned(timed)),
        lids=tuple(sorted((one for one in counted if isinstance(one, Lid)), key=lambda one: one.at)),
        carried=_carried(counted),
        lost=_lost(counted),
        failures=failing(timed),
        moved=_moved(counted),
        troubles=_troubles(timed),
        airless=_airless(timed),
        spent=tuple(_of(counted, Spent)),
        notes=tuple(_of(counted, Note)),
        accepted=tuple(_of(counted, Accepted)),
        last=max((one.at for one in counted), default=None),
        worked=max((one.at for one in counted if isinstance(one, _WORKED)), default=None),
    )


def _troubles(records: Iterable[Record]) -> tuple[Note, ...]:
    found: dict[tuple[str, str], Note] = {}
    for one in records:
        if isinstance(one, Note) and one.trouble in LASTING:
            found.setdefault((one.trouble, one.container), one)
        elif isinstance(one, Works):
            found.pop((one.what, one.name), None)
    return tuple(found.values())


def _airless(records: Iterable[Record]) -> Mapping[str, int]:
    """Find since when containers have no air; a device that is mended gives back only what it took."""
    taken: dict[str, int] = {}
    dead: dict[str, int] = {}
    for one in records:
        if isinstance(one, Tended) and one.what == "air-off":
            taken.setdefault(one.container, one.at)
        elif isinstance(one, Tended) and one.what == "air-on":
            taken.pop(one.container, None)
            dead.pop(one.container, None)
        elif isinstance(one, Note) and one.trouble == "device-dead":
            dead.setdefault(one.container, one.at)
        elif isinstance(one, Works) and one.what == "device-dead":
            dead.pop(one.name, None)
    return {one: min(since[one] for since in (taken, dead) if one in since) for one in (*taken, *dead)}


def _carried(records: Sequence[Record]) -> Mapping[str, tuple[tuple[int, str], ...]]:
    found: dict[str, tuple[tuple[int, str], ...]] = {}
    for one in sorted(_of(records, Tended), key=lambda one: one.at):
        if one.where:
            found[one.container] = (*found.get(one.container, ()), (one.at, one.where))
    return found


def _facts(records: Sequence[Record]) -> Iterable[Fact]:
    """Go through what changed; of days of absence, those for which nobody said later that they are there."""
    for line, record in enumerate(records):
        if isinstance(record, Out):
            later = [one for at, one in enumerate(records) if (one.at, at) > (record.at, line)]
            yield from _without(record, [one for one in _of(later, Back) if one.person == record.person])
        elif isinstance(record, Fact):
            yield record


def _returned(records: Sequence[Record]) -> Iterable[tuple[Out, int]]:
    """Go through days of absence that were taken back, in the order of time."""
    for line, out in enumerate(records):
        if not isinstance(out, Out):
            continue
        for back in _of(records[line:], Back):
            gone = replace(out, first=max(out.first, back.first), last=min(out.last, back.last))
            if back.person == out.person and gone.first <= gone.last:
                yield gone, back.at


def _without(out: Out, backs: Iterable[Back]) -> list[Out]:
    pieces = [out]
    for back in backs:
        before, after = back.first - timedelta(days=1), back.last + timedelta(days=1)
        halves = [
            half
            for one in pieces
            for half in (
                replace(one, last=min(one.last, before)),
                replace(one, first=max(one.first, after)),
            )
        ]
        pieces = [one for one in halves if one.first <= one.last]
    return pieces


def dates_moved(entries: Sequence[Entry]) -> bool:
    """Whether the moving day is another than in the schedule in force.

    Parameters
    ----------
    entries : sequence of Entry
        In the order of the file.
    """
    return bool(_moved([entry.record for entry in effective(entries)]))


def _moved(records: Sequence[Record]) -> tuple[MovedDates | MovedDay, ...]:
    """List moves of the moving day since the last accepted schedule; there and back again is none."""
    since = max((line for line, one in enumerate(records) if isinstance(one, Accepted)), default=0)
    found = tuple(
        one
        for one in records[since:]
        if isinstance(one, MovedDates) or (isinstance(one, MovedDay) and one.what == "move-day")
    )
    days = [one.days for one in found if isinstance(one, MovedDates)]
    return () if len(days) == len(found) and not sum(days) else found


def _lost(records: Sequence[Record]) -> dict[str, tuple[tuple[str, int], ...]]:
    """List lost animals in the order of time; an accepted schedule knows of those that were lost before."""
    since = max((line for line, one in enumerate(records) if isinstance(one, Accepted)), default=0)
    lost: dict[str, tuple[tuple[str, int], ...]] = {}
    for one in sorted(_of(records[since:], Counted), key=lambda one: one.at):
        lost[one.group] = (*lost.get(one.group, ()), (one.container, -one.change))
    return lost


def _of(records: Iterable[Record], kind: type[_Kind]) -> Iterable[_Kind]:
    return (one for one in records if isinstance(one, kind))


def _tasks(records: Iterable[Record]) -> dict[str, TaskState]:
    tasks: dict[str, TaskState] = {}
    for record in records:
        if isinstance(record, (Begun, Done, Dropped, Met)):
            tasks[record.task] = _after(tasks.get(record.task, TaskState()), record)
    return tasks


def _after(before: TaskState, record: Begun | Done | Dropped | Met) -> TaskState:
    if isinstance(record, Begun):
        return _begun(before, record)
    if isinstance(record, Dropped):
        return replace(before, state=State.CANCELLED, reason=record.reason)
    if isinstance(record, Met):
        return _met(before, record)
    return _done(before, record)


def _begun(before: TaskState, record: Begun) -> TaskState:
    """Where two recorded one task, the earlier counts; what is done stays done."""
    known = before.begun if before.state in (State.IN_PROCESS, State.COMPLETED) else None
    begun = record.at if known is None else min(known, record.at)
    if before.state is State.COMPLETED and before.done is not None:
        return replace(before, begun=begun) if begun <= before.done else before
    return replace(before, state=State.IN_PROCESS, begun=begun, done=None, reason="")


def _met(before: TaskState, record: Met) -> TaskState:
    if before.state is State.COMPLETED and before.done is not None and before.done <= record.at:
        return before
    return replace(
        before,
        state=State.COMPLETED,
        done=record.at,
        by=record.by,
        reason=record.reason,
        lacking=record.lacking,
    )


def _done(before: TaskState, record: Done) -> TaskState:
    if record.time is not None:
        known = dict(before.times)
        times = known | {record.time: min(known.get(record.time, record.at), record.at)}
        begun = min(before.begun if before.begun is not None else record.at, record.at)
        return replace(before, state=State.IN_PROCESS, begun=begun, times=tuple(sorted(times.items())))
    if before.state is State.COMPLETED and before.done is not None and before.done <= record.at:
        return before
    took = record.took_min
    if took is None and before.begun is not None and before.begun <= record.at and not before.times:
        took = record.at - before.begun
    return replace(before, state=State.COMPLETED, done=record.at, took_min=took, reason="")
