"""What to do now: overdue, running, next for each person, hold points, and animals on their way.

Reads the accepted schedule and the records; never solves, and imports nothing heavy.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from moveplan.journal.gates import lacking
from moveplan.journal.snapshot import PlannedStay, PlannedTask, Snapshot
from moveplan.journal.state import JournalState, TaskState
from moveplan.network.task import Kind, State
from moveplan.times import Interval

NEAR_MIN = 7 * 1440
"""Hold points planned within this are near. [min]"""
OPEN = (State.NEEDS_ACTION, State.IN_PROCESS)


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to do.

    Parameters
    ----------
    task : PlannedTask
        As it was accepted. [-]
    span : Interval
        When it is planned, UTC; of what runs: since when, and when it should be over. [min]
    time : int
        Which time of recurring care; 0: it does not recur. [-]
    """

    task: PlannedTask
    span: Interval
    time: int = 0


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """A hold point that is near.

    Parameters
    ----------
    task : PlannedTask
        The hold point. [-]
    lacks : tuple of str
        Limits that the last readings do not show to be kept. [-]
    waits_for : tuple of PlannedTask
        What has to be done before. [-]
    """

    task: PlannedTask
    lacks: tuple[str, ...]
    waits_for: tuple[PlannedTask, ...]


@dataclass(frozen=True, slots=True)
class Travelling:
    """A group of animals in a container.

    Parameters
    ----------
    stay : PlannedStay
        As it was planned. [-]
    since : int
        When the container was closed, UTC. [min]
    logged : bool
        Whether that was logged; else it is the planned moment. [-]
    left_min : int or None
        Until the low end of the safe time, negative where it is over; None: no limit. [min]
    """

    stay: PlannedStay
    since: int
    logged: bool
    left_min: int | None


@dataclass(frozen=True, slots=True)
class NextUp:
    """What to do now and next.

    Parameters
    ----------
    now : int
        UTC. [min]
    done, total : int
        How many tasks are done, and how many there are, dropped ones left out. [-]
    overdue, running : tuple of Item
        What should be over or have begun, and what runs. [-]
    ahead : tuple of (str, Item)
        The next thing of each person, by name; of nobody: what runs by itself. [-]
    hold_points : tuple of HoldPoint
        Near ones, in order. [-]
    travelling : tuple of Travelling
        The least time left first. [-]
    """

    now: int
    done: int
    total: int
    overdue: tuple[Item, ...]
    running: tuple[Item, ...]
    ahead: tuple[tuple[str, Item], ...]
    hold_points: tuple[HoldPoint, ...]
    travelling: tuple[Travelling, ...]


def state_in(state: JournalState, task: PlannedTask) -> TaskState:
    """Tell how far a task is; recurring care is done with its last time."""
    found = state.of(task.id)
    if found.state is State.IN_PROCESS and len(found.times) >= task.times > 1:
        last = max(at for _, at in found.times)
        return TaskState(State.COMPLETED, found.begun, last, found.took_min, found.times)
    return found


def next_up(snapshot: Snapshot, state: JournalState, now: int) -> NextUp:
    """Work out what to do now.

    Parameters
    ----------
    snapshot : Snapshot
        The schedule in force. [-]
    state : JournalState
        What has happened. [-]
    now : int
        UTC. [min]
    """
    states = {task.id: state_in(state, task) for task in snapshot.tasks}
    counted = [task for task in snapshot.tasks if states[task.id].state is not State.CANCELLED]
    items = sorted(
        (item for task in counted for item in _items(task, states[task.id])),
        key=lambda item: (item.span.start, item.span.finish),
    )
    running = tuple(_running(task, states[task.id]) for task in counted if _runs(task, states[task.id]))
    return NextUp(
        now=now,
        done=sum(states[task.id].state is State.COMPLETED for task in counted),
        total=len(counted),
        overdue=tuple(item for item in items if item.span.start < now),
        running=tuple(sorted(running, key=lambda item: (item.span.start, item.task.id))),
        ahead=tuple(_ahead(snapshot, [item for item in items if item.span.start >= now])),
        hold_points=tuple(_hold_points(snapshot, state, states, now)),
        travelling=_travelling(snapshot, state, states, now),
    )


def _items(task: PlannedTask, found: TaskState) -> Iterator[Item]:
    """List what is still to be begun of a task."""
    if found.state not in OPEN:
        return
    if task.times > 1:
        done = dict(found.times)
        for number, piece in enumerate(task.segments, start=1):
            if number not in done:
                yield Item(task, piece, number)
    elif found.state is State.NEEDS_ACTION:
        yield Item(task, Interval(task.start, task.finish))


def _runs(task: PlannedTask, found: TaskState) -> bool:
    return found.state is State.IN_PROCESS and task.times == 1 and found.begun is not None


def _running(task: PlannedTask, found: TaskState) -> Item:
    since = found.begun or 0
    return Item(task, Interval(since, since + task.finish - task.start))


def _ahead(snapshot: Snapshot, items: list[Item]) -> Iterator[tuple[str, Item]]:
    for person, name in snapshot.people.items():
        first = next((item for item in items if person in item.task.people), None)
        if first is not None:
            yield name, first
    alone = next((item for item in items if not item.task.people), None)
    if alone is not None:
        yield "", alone


def _hold_points(
    snapshot: Snapshot, state: JournalState, states: dict[str, TaskState], now: int
) -> Iterator[HoldPoint]:
    tasks = {task.id: task for task in snapshot.tasks}
    for task in sorted(snapshot.tasks, key=lambda task: task.start):
        if task.kind is Kind.HOLD_POINT and states[task.id].state in OPEN and task.start - now <= NEAR_MIN:
            before = [tasks[name] for name in snapshot.waits.get(task.id, ()) if name in tasks]
            yield HoldPoint(
                task,
                tuple(map(str, lacking(task.gates, state.readings, now))),
                tuple(one for one in before if states[one.id].state in OPEN),
            )


def _travelling(
    snapshot: Snapshot, state: JournalState, states: dict[str, TaskState], now: int
) -> tuple[Travelling, ...]:
    found = []
    for stay in snapshot.stays:
        since, logged = _shut(stay, state, states)
        over = _edge(states.get(stay.open_task), stay.open_edge) is not None or stay.group in state.opened
        if since is not None and since <= now and not over and (logged or now < stay.opened):
            left = None if stay.safe_low_min is None else since + stay.safe_low_min - now
            found.append(Travelling(stay, since, logged, left))
    return tuple(sorted(found, key=lambda one: (one.left_min is None, one.left_min or 0, one.stay.group)))


def _shut(stay: PlannedStay, state: JournalState, states: dict[str, TaskState]) -> tuple[int | None, bool]:
    if stay.group in state.shut:
        return state.shut[stay.group], True
    real = _edge(states.get(stay.shut_task), stay.shut_edge)
    if real is not None:
        return real, True
    return stay.shut, False


def _edge(found: TaskState | None, edge: str) -> int | None:
    """Moment of one end of a task, as far as it was logged."""
    if found is None:
        return None
    if edge == "finish":
        return found.done
    return found.begun if found.begun is not None else found.done
