"""Looking back: planned against real, what was late and why, what was lost and spent, what to assume next time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from moveplan.journal.file.snapshot import PlannedTask, Snapshot
from moveplan.journal.now.standing import state_in
from moveplan.journal.records import Counted
from moveplan.journal.state import JournalState, TaskState
from moveplan.network.task import Kind, State

LATE_MIN = 30
"""What begins or ends this much later than planned is late; assumed. [min]"""
LEAST_TASKS, LEAST_MIN = 3, 120
"""Measured tasks and minutes of work below which no pace is learnt; assumed. [-, min]"""
PACES = ("pace_moving_day", "pace_other_work")
"""Limits that a plan may set, for work on moving days and for all other work."""


@dataclass(frozen=True, slots=True)
class Looked:
    """One task, planned and real.

    Parameters
    ----------
    task : PlannedTask
        As it was last agreed before it was begun.
    state : TaskState
        How it went.
    real_min : int or None
        How long it really took; None: nobody said. [min]
    later_start_min, later_finish_min : int or None
        Real less planned; None: not known. [min]
    waited_for : PlannedTask or None
        What it waited for that ended later than it was planned to begin.
    """

    task: PlannedTask
    state: TaskState
    real_min: int | None
    later_start_min: int | None
    later_finish_min: int | None
    waited_for: PlannedTask | None

    @property
    def usual_min(self) -> int:
        """What was planned, at the usual pace. [min]."""
        return round(self.task.minutes / self.task.pace)

    @property
    def ratio(self) -> float | None:
        """Real over planned duration."""
        return None if self.real_min is None or not self.task.minutes else self.real_min / self.task.minutes

    @property
    def late(self) -> bool:
        """Whether it ended later than planned."""
        return self.later_finish_min is not None and self.later_finish_min >= LATE_MIN


@dataclass(frozen=True, slots=True)
class Phase:
    """The measured tasks of one phase.

    Parameters
    ----------
    name : str
        Of the phase.
    done, total : int
        Tasks done, and all.
    planned_min, real_min : int
        Of the measured tasks. [min]
    """

    name: str
    done: int
    total: int
    planned_min: int
    real_min: int


@dataclass(frozen=True, slots=True)
class Pace:
    """What was learnt of one sort of work.

    Parameters
    ----------
    name : str
        Name of the limit that a plan may set.
    factor : float
        Real over planned duration.
    tasks : int
        On how many measured tasks it rests.
    """

    name: str
    factor: float
    tasks: int


@dataclass(frozen=True, slots=True)
class Lost:
    """Animals of one group that were lost.

    Parameters
    ----------
    group, name : str
        Id, and what to print.
    count : int
        How many.
    reasons : tuple of str
        Why, as far as somebody said.
    """

    group: str
    name: str
    count: int
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LookBack:
    """The whole of it.

    Parameters
    ----------
    tasks : tuple of Looked
        In the order of the plan.
    phases : tuple of Phase
        In the order of the plan.
    paces : tuple of Pace
        What to assume next time; only what differs from the plan.
    lost : tuple of Lost
        Animals.
    milestones : tuple of (str, int, int)
        Name, planned and real date, UTC, of those reached. [min]
    planned_cost, spent : Decimal
        What was planned, and what was logged.
    open : int
        Tasks of the plan that are neither done nor dropped.
    """

    tasks: tuple[Looked, ...]
    phases: tuple[Phase, ...]
    paces: tuple[Pace, ...]
    lost: tuple[Lost, ...]
    milestones: tuple[tuple[str, int, int], ...]
    planned_cost: Decimal
    spent: Decimal
    open: int

    @property
    def late(self) -> tuple[Looked, ...]:
        """What ended late, the latest first."""
        return tuple(
            sorted((one for one in self.tasks if one.late), key=lambda one: -(one.later_finish_min or 0))
        )

    @property
    def dropped(self) -> tuple[Looked, ...]:
        """What was not done."""
        return tuple(one for one in self.tasks if one.state.state is State.CANCELLED)

    @property
    def forced(self) -> tuple[Looked, ...]:
        """Hold points that were opened although a limit was not shown to be kept."""
        return tuple(one for one in self.tasks if one.state.lacking)


def look_back(first: Snapshot, state: JournalState) -> LookBack:
    """Compare what was planned with what happened.

    Parameters
    ----------
    first : Snapshot
        What was last agreed of each task, the yardstick.
    """
    states = {task.id: state_in(state, task) for task in first.tasks}
    tasks = tuple(_looked(task, first, states) for task in first.tasks)
    finishes = {one.task.id: one for one in tasks}
    return LookBack(
        tasks=tasks,
        phases=tuple(_phases(tasks)),
        paces=tuple(_paces(tasks)),
        lost=tuple(_lost(first, state)),
        milestones=tuple(
            (name, finishes[task].task.finish, done)
            for name, task in first.milestones.items()
            if task in finishes and (done := states[task].done) is not None
        ),
        planned_cost=sum(map(Decimal, first.cost.values()), Decimal(0)),
        spent=sum((Decimal(one.amount) for one in state.spent), Decimal(0)),
        open=sum(found.state in (State.NEEDS_ACTION, State.IN_PROCESS) for found in states.values()),
    )


def _looked(task: PlannedTask, first: Snapshot, states: dict[str, TaskState]) -> Looked:
    found = states[task.id]
    done = found.done if found.state is State.COMPLETED else None
    real = found.took_min if done is not None and task.times == 1 else None
    begun = found.begun
    if begun is None and done is not None and real is not None:
        begun = done - real
    start = None if begun is None or task.times > 1 else begun - task.start
    return Looked(
        task,
        found,
        real,
        start,
        None if done is None else done - task.finish,
        _waited_for(task, first, states),
    )


def _waited_for(task: PlannedTask, first: Snapshot, states: dict[str, TaskState]) -> PlannedTask | None:
    """Find what came last of all it waits for, where that ended after its own planned start."""
    before = [one for name in first.waits.get(task.id, ()) if (one := first.task(name)) is not None]
    ended = [
        (done, one.id) for one in before if (done := states[one.id].done) is not None and done > task.start
    ]
    return first.task(max(ended)[1]) if ended else None


def _phases(tasks: Iterable[Looked]) -> Iterator[Phase]:
    groups: dict[str, list[Looked]] = {}
    for one in tasks:
        groups.setdefault(one.task.phase, []).append(one)
    for name, held in groups.items():
        measured = [one for one in held if one.real_min is not None]
        yield Phase(
            name,
            sum(one.state.state is State.COMPLETED for one in held),
            len(held),
            sum(one.task.minutes for one in measured),
            sum(one.real_min or 0 for one in measured),
        )


def _paces(tasks: Iterable[Looked]) -> Iterator[Pace]:
    work = [
        one for one in tasks if one.real_min is not None and one.task.kind is Kind.WORK and one.task.people
    ]
    for name, held in zip(
        PACES, ([one for one in work if one.task.day], [one for one in work if not one.task.day]), strict=True
    ):
        planned, real = sum(one.usual_min for one in held), sum(one.real_min or 0 for one in held)
        if len(held) >= LEAST_TASKS and planned >= LEAST_MIN:
            factor = min(max(round(real / planned, 1), 0.5), 3.0)
            if factor != 1.0:
                yield Pace(name, factor, len(held))


def _lost(first: Snapshot, state: JournalState) -> Iterator[Lost]:
    losses = [one for one in state.facts if isinstance(one, Counted) and one.change < 0]
    for group in dict.fromkeys(one.group for one in losses):
        own = [one for one in losses if one.group == group]
        reasons = tuple(one.reason for one in own if one.reason)
        yield Lost(group, first.groups.get(group, group), -sum(one.change for one in own), reasons)
