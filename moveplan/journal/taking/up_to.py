"""Everything up to here is done: what stands before a task on the run sheets or in the network, and nobody logged."""

from __future__ import annotations

from collections.abc import Sequence

from moveplan.journal.file.snapshot import PlannedTask, Snapshot
from moveplan.journal.now.standing import OPEN, Standing, standing
from moveplan.journal.records import Done
from moveplan.journal.state import JournalState
from moveplan.journal.taking.known import refused
from moveplan.network.task import Kind

WHY = "everything before it is done"
"""Reason of what is recorded so."""


def up_to(task: str, person: str, snapshot: Snapshot, state: JournalState, at: int) -> Sequence[Done]:
    """Record as done what should be over before a task begins.

    Each counts as ended when it was planned to, at the latest now: when it really ended nobody remembers, and of a
    container that was closed the earlier moment is the careful one.

    Parameters
    ----------
    task : str
        Id of the task; it is not among them.
    person : str
        Id of whose list it is; empty: everybody's.
    snapshot : Snapshot
        The schedule in force.
    state : JournalState
        What has happened.
    at : int
        When it is said, UTC. [min]

    Raises
    ------
    PlanFileError
        Where a hold point is among them: it has to be signed by name.
    """
    found = standing(snapshot, state, at)
    here = found.tasks[task]
    needed = {task, *found.open_before(task)}
    for name in reversed(list(found.tasks)):
        if name in needed:
            needed.update(tie.before for tie in found.ties.get(name, ()))
    rows = [one for one in found.tasks.values() if _said_now(one, found) and one is not here]
    rows = [one for one in rows if one.id in needed or _listed_before(one, here, person)]
    gates = [one.id for one in rows if one.kind is Kind.HOLD_POINT]
    if gates:
        raise refused(
            f"before {task} {'stand hold points' if len(gates) > 1 else 'stands a hold point'} that nobody signed: "
            f"{', '.join(gates)}",
            f"sign it first: moveplan record PLAN met {gates[0]} --by NAME",
        )
    return [
        Done(at=max(min(one.finish, at), found.begun.get(one.id, 0)), task=one.id, reason=WHY) for one in rows
    ]


def _said_now(task: PlannedTask, found: Standing) -> bool:
    """Whether a task is still to be logged, and has an end that somebody sees."""
    return task.times == 1 and not task.alone and found.states[task.id].state in OPEN


def _listed_before(task: PlannedTask, here: PlannedTask, person: str) -> bool:
    whose = person in task.people if person else True
    return whose and (task.start, task.number) < (here.start, here.number)
