"""Whether what is recorded comes in the order of the plan: what must come first, what still runs, what has failed."""

from __future__ import annotations

from dataclasses import replace

from moveplan.errors import MoveplanError
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.failure import POWER, Failed
from moveplan.journal.now.held_up import held_up
from moveplan.journal.now.standing import Standing
from moveplan.journal.now.takeover import standing_there
from moveplan.journal.records import Begun, Done, Dropped, Met, Shut
from moveplan.journal.state import JournalState
from moveplan.journal.taking.known import Known
from moveplan.network.task import Kind
from moveplan.times import told

MOST_NAMED = 4
"""How many tasks that were to come before are named. [-]"""
SOONER = "wait"
"""What a wait that was cut short begins with, among what was not done before."""


class NotSignedError(MoveplanError):
    """Nothing is recorded because something speaks against it, and no reason was given."""

    exit_status = 1


def in_order(
    record: Begun | Done | Dropped | Met, state: JournalState, known: Known
) -> Begun | Done | Dropped | Met:
    """Refuse what passes a hold point that was not met, save for a reason; name whatever else was not done before."""
    planned = known.snapshot.task(record.task) if known.snapshot else None
    again = isinstance(record, Done) and (state.of(record.task).begun is not None or record.time is not None)
    if isinstance(record, Dropped):
        return record
    if again:
        return replace(record, reason="")  # where its begin overruled something, that says why
    if known.snapshot is None or planned is None:
        return record
    found, said = standing_there(known.snapshot, state, record.at), known.said(record.task)
    before = found.open_before(record.task)
    shut = [name for name in before if found.tasks[name].kind is Kind.HOLD_POINT]
    if isinstance(record, Met):
        direct = [name for name in found.waits_for(record.task) if not found.tasks[name].alone]
        shut = list(dict.fromkeys((*direct, *shut)))
    if shut and not record.reason.strip():
        word = {Met: "met", Begun: "begun"}.get(type(record), "done")
        raise NotSignedError(
            f"{said} cannot be {word} yet: {_named(record.task, shut, found, known)} must come before it. "
            "Log that first, or say with --reason why not; the reason is printed from then on."
        )
    failures = _held_by(record, found, state, known.snapshot)
    if failures and not record.reason.strip():
        failure = failures[0]
        raise NotSignedError(
            f"{said} waits: {_thing(failure, known)} failed at {told(failure.at, known.zone)}, and nothing says "
            f"that it works again. Once it does: “moveplan record PLAN works {failure.name}”; or say with --reason "
            "why it goes on; the reason is printed from then on."
        )
    runs = [
        wait.until
        for wait in found.waits(record.task)
        if wait.until and (wait.since or wait.until) <= record.at and not found.is_open(wait.before.id)
    ]
    if runs and isinstance(record, Begun) and not record.reason.strip():
        raise NotSignedError(
            f"{said} cannot be begun yet: a wait before it runs until {told(max(runs), known.zone)}. Begin it "
            "then, or say with --reason why not; the reason is printed from then on."
        )
    but = (*before, *_early(record, found), *(f"{one.what}:{one.name}" for one in failures))
    explains = but or (isinstance(record, Met) and record.lacking)
    return replace(record, but=but, reason=record.reason if explains else "")


def closed_in_order(record: Shut, state: JournalState, known: Known) -> Shut:
    """Refuse to close what nothing may be put into yet, save for a reason; name what fills it and was not begun."""
    if known.snapshot is None:
        return replace(record, reason="")
    found = standing_there(known.snapshot, state, record.at)
    filling = _filling(record, known.snapshot, found)
    if not filling:
        return replace(record, reason="")
    before = [filling, *found.open_before(filling)]
    shut = [name for name in before if found.tasks[name].kind is Kind.HOLD_POINT]
    if shut and not record.reason.strip():
        named = record.container or known.groups.get(record.group, record.group)
        raise NotSignedError(
            f"{named} cannot be closed yet: {known.said(filling)} fills it, and "
            f"{_named(filling, shut, found, known)} must come before that. Log that first, or say "
            "with --reason why not; the reason is printed from then on."
        )
    return replace(record, but=tuple(before))


def _filling(record: Shut, snapshot: Snapshot, found: Standing) -> str:
    """Name the task that fills what is closed, where it had not begun by then; empty: it had, or nothing fills it."""
    stays = (
        stay
        for stay in sorted(snapshot.stays, key=lambda one: one.shut)
        if (record.container in dict(stay.containers) if record.container else stay.group == record.group)
        and found.is_open(stay.open_task)
        and not (stay.open_edge == "start" and stay.open_task in found.begun)
    )
    name = next((stay.shut_task for stay in stays), "")
    begun = found.states[name].begun if name in found.tasks else None
    if begun is None:
        return name if name in found.tasks and found.is_open(name) else ""
    return name if begun > record.at else ""


def _early(record: Begun | Done | Met, found: Standing) -> tuple[str, ...]:
    """Name the waits that still run after what is done, each with how many minutes it would have gone on."""
    return tuple(
        f"{SOONER}:{wait.before.id}:{wait.until - record.at}"
        for wait in found.waits(record.task)
        if wait.until is not None and not found.is_open(wait.before.id)
    )


def _held_by(
    record: Begun | Done | Met, found: Standing, state: JournalState, snapshot: Snapshot
) -> tuple[Failed, ...]:
    """Find what has failed and holds a task up."""
    return tuple(
        failure
        for failure in state.failures
        if failure.at <= record.at and record.task in held_up(failure, snapshot, found)
    )


def _thing(failure: Failed, known: Known) -> str:
    names = {**known.places, **known.systems, **known.vehicles}
    return ("power at " if failure.what == POWER else "") + names.get(failure.name, failure.name)


def _named(task: str, names: list[str], found: Standing, known: Known) -> str:
    """Name tasks, one that is done and whose least gap still runs with the end of that gap."""
    free = {
        tie.before: found.ended[tie.before] + tie.gap_min
        for tie in found.ties.get(task, ())
        if tie.before in found.ended
    }
    words = [
        known.said(name) + (f" (and a wait until {told(free[name], known.zone)})" if name in free else "")
        for name in names[:MOST_NAMED]
    ]
    more = len(names) - MOST_NAMED
    return ", ".join(words) + (f" and {more} more" if more > 0 else "")
