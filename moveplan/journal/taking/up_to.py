"""Everything up to here is done: what stands before a task on the run sheets or in the network, and nobody logged."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from moveplan.errors import PlanFileError
from moveplan.journal.file.snapshot import PlannedTask, Snapshot
from moveplan.journal.now.standing import OPEN, Standing, standing
from moveplan.journal.records import Done, Met
from moveplan.journal.state import JournalState
from moveplan.journal.taking.answers import NO_ANSWERS, Answers
from moveplan.journal.taking.known import refused
from moveplan.journal.waters.judged import lacking
from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.times import Interval

WHY = "everything before it is done"
"""Reason of what is recorded so."""


def up_to(
    task: str,
    person: str,
    snapshot: Snapshot,
    state: JournalState,
    at: int,
    answers: Answers = NO_ANSWERS,
    time: int = 0,
) -> Sequence[Done | Met]:
    """Record as done what should be over before a task begins, and as met the hold points that somebody signed.

    Each counts as ended when it was planned to, after what it waits for, at the latest now: when it really ended
    nobody remembers, and of a container that was closed the earlier moment is the careful one.  Of recurring care each
    time is done that was planned to be over by then.

    Parameters
    ----------
    task : str
        Id of the task; it is not among them.
    person : str
        Id of whose list it is; empty: everybody's.
    at : int
        When it is said, UTC. [min]
    answers : Answers
        Who signed which hold points.
    time : int
        Which time of the task, if that recurs; 0: the first.

    Raises
    ------
    PlanFileError
        Where a hold point is among them that nobody signed, or one was signed that is not.
    """
    found = standing(snapshot, state, at)
    rows = _before(task, person, found)
    who = answers.signed
    said = {name: one.said for name, one in found.tasks.items()}
    gates = [one for one in rows if one.kind is Kind.HOLD_POINT and one.id not in who]
    strange = sorted(set(who).difference(one.id for one in rows if one.kind is Kind.HOLD_POINT))
    if strange:
        raise refused(
            f"{said[strange[0]]} is no hold point that is open before {said[task]}", "leave it out of --met"
        )
    if gates:
        raise _unsigned(gates, said[task], snapshot, state, at, answers.line)
    ended = dict(found.ended)
    for one in rows:
        waits = (
            ended[tie.before] + tie.gap_min
            for tie in found.ties.get(one.id, ())
            if tie.before in ended and tie.relation is Relation.FINISHTOSTART
        )
        ended[one.id] = max(min(max(one.finish, *waits, 0), at), found.begun.get(one.id, 0))
    records = [
        (
            one.start,
            one.number,
            Met(at=ended[one.id], task=one.id, by=who[one.id], reason=answers.reason)
            if one.id in who
            else Done(at=ended[one.id], task=one.id, reason=WHY),
        )
        for one in rows
    ]
    here = found.tasks[task].segments[max(min(time, found.tasks[task].times), 1) - 1].start
    records += [
        (piece.start, one.number, Done(at=piece.finish, task=one.id, time=number, reason=WHY))
        for one, number, piece in _care(found, person)
        if piece.start < here and piece.finish <= at
    ]
    return [record for _, _, record in sorted(records, key=lambda row: row[:2])]


def answers_asked(task: str, snapshot: Snapshot, state: JournalState, at: int) -> str:
    """Give the words of a line that answer for the hold points before a task that nobody signed; empty: for none."""
    rows = _before(task, "", standing(snapshot, state, at))
    return " ".join(_asked([one for one in rows if one.kind is Kind.HOLD_POINT], snapshot, state, at))


def _before(task: str, person: str, found: Standing) -> list[PlannedTask]:
    here = found.tasks[task]
    needed = {task, *found.open_before(task)}
    for name in reversed(list(found.tasks)):
        if name in needed:
            needed.update(tie.before for tie in found.ties.get(name, ()))
    rows = [one for one in found.tasks.values() if _said_now(one, found) and one is not here]
    return [one for one in rows if one.id in needed or _listed_before(one, here, person)]


def _care(found: Standing, person: str) -> Iterator[tuple[PlannedTask, int, Interval]]:
    """Give each time of recurring care that nobody logged."""
    for name, one in found.tasks.items():
        if one.times > 1 and found.states[name].state in OPEN and (not person or person in one.people):
            done = dict(found.states[name].times)
            for number, piece in enumerate(one.segments, start=1):
                if number not in done:
                    yield one, number, piece


def _unsigned(
    gates: list[PlannedTask], said: str, snapshot: Snapshot, state: JournalState, at: int, line: str
) -> PlanFileError:
    """Name all hold points that nobody signed, with the words that answer for all of them in one line."""
    return refused(
        f"before {said} {'stand hold points' if len(gates) > 1 else 'stands a hold point'} that nobody signed: "
        f"{', '.join(one.said for one in gates)}",
        f"sign it first: moveplan record PLAN met {gates[0].number or gates[0].id} --by NAME; "
        "or, where all were met, write in one line: " + " ".join((line, *_asked(gates, snapshot, state, at))),
    )


def _asked(gates: list[PlannedTask], snapshot: Snapshot, state: JournalState, at: int) -> list[str]:
    by: dict[str, list[str]] = {}
    asked: list[str] = []
    for one in gates:
        who = snapshot.people.get(one.people[0], "").partition(" ")[0] if one.people else "NAME"
        by.setdefault(who, []).append(str(one.number or one.id))
        for gate in one.gates:
            done = state.of(gate.since).done
            ended = {gate.since: at + 1 if done is None else done}
            if not gate.apart_min and any(lacking([gate], state.readings, at, ended)):
                waters = [gate.system] * gate.times + [gate.like] * gate.compares
                asked += [f"{gate.what} VALUE" + (f" in {water}" if water else "") for water in waters]
    words = [f"--met {','.join(several)}={who}" for who, several in by.items()]
    return words + [f"--read '{one}'" for one in asked]


def _said_now(task: PlannedTask, found: Standing) -> bool:
    """Whether a task is still to be logged, and has an end that somebody sees."""
    return task.times == 1 and not task.alone and found.states[task.id].state in OPEN


def _listed_before(task: PlannedTask, here: PlannedTask, person: str) -> bool:
    whose = person in task.people if person else True
    return whose and (task.start, task.number) < (here.start, here.number)
