"""What was agreed when something was done: a later schedule does not retell what is over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from moveplan.journal.file.snapshot import PlannedTask, Snapshot
from moveplan.journal.state import JournalState


def agreed(kept: Sequence[Snapshot], state: JournalState) -> Snapshot:
    """Put together what was last agreed of each task before it was begun.

    Parameters
    ----------
    kept : sequence of Snapshot
        Accepted schedules in the order of accepting, at least one.

    Returns
    -------
    Snapshot
        The last one, with what is begun or done as it was agreed then.
    """
    last = kept[-1]
    names = dict.fromkeys(task.id for one in reversed(kept) for task in one.tasks)
    return replace(
        last, tasks=tuple(task for name in names if (task := _agreed(name, kept, state)) is not None)
    )


def numbers_told(kept: Sequence[Snapshot]) -> Mapping[str, int]:
    """Give the number that each task was ever told by: no other task gets it, and where two had it, the later keeps it.

    Parameters
    ----------
    kept : sequence of Snapshot
        Accepted schedules in the order of accepting.
    """
    owners: dict[int, str] = {}
    found: dict[str, int] = {}
    for task in (task for one in reversed(kept) for task in one.tasks if task.number):
        if task.id not in found and owners.setdefault(task.number, task.id) == task.id:
            found[task.id] = task.number
    return found


def labels_told(kept: Sequence[Snapshot]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Give the numbers of all containers that were ever told, in their order, each with what it stands for."""
    told = {label for one in kept for label in one.labels}
    return tuple(sorted(told, key=lambda one: (one[0][0], int(one[0][1:]), one[1])))


def _agreed(name: str, kept: Sequence[Snapshot], state: JournalState) -> PlannedTask | None:
    """Find a task in the schedule that was in force when it was begun; None: it is in force no more, and not begun."""
    found = state.of(name)
    moments = [at for at in (found.begun, found.done) if at is not None]
    if not moments:
        return kept[-1].task(name)
    then = [task for one in kept if one.now <= min(moments) and (task := one.task(name)) is not None]
    since = [task for one in kept if (task := one.task(name)) is not None]
    return then[-1] if then else since[0]
