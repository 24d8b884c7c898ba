"""A network as the simulation runs it: tasks in order, what each waits for, and what may go wrong with it."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from moveplan.risk.prepared.windows import Stretches


@dataclass(frozen=True, slots=True)
class Tie:
    """``start of head`` (or its finish) is at least so long after start or finish of ``tail``.

    Parameters
    ----------
    tail, head : int
        Positions of the tasks.
    gap_min : float
        Least gap, may be negative. [min]
    from_finish, to_finish : bool
        Which ends the gap is measured between.
    freed : bool
        Whether people only follow one another: they are free while the tail is waited for again.
    begun_by_min : float or None
        It holds only in runs in which the predecessor has begun by then: whoever cannot begin there does other work
        first; None: always. [min]
    """

    tail: int
    head: int
    gap_min: float = 0.0
    from_finish: bool = True
    to_finish: bool = False
    freed: bool = False
    begun_by_min: float | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """How one task is carried out.

    Parameters
    ----------
    floor_min : float
        It never starts before; counted from the start of the plan. [min]
    follows_day : bool
        Whether the floor slips with the moving day.
    day : int
        Number of the moving day to which it belongs; -1: none.
    hours : Stretches or None
        When there is somebody and something to drive; None: round the clock.
    pauses : bool
        Whether it may stop and go on.
    runs_over : bool
        Whether it may go on past the stated hours, which is then counted.
    tail_min : float
        Recurring care: from the finish of the first time to that of the last. [min]
    fails : float
        Hold point: chance of a no.
    redo_min : float
        Hold point: how long until it is asked again. [min]
    slips : bool
        Hold point: a no moves the moving day that waits for it.
    """

    floor_min: float = 0.0
    follows_day: bool = False
    day: int = -1
    hours: Stretches | None = None
    pauses: bool = False
    runs_over: bool = False
    tail_min: float = 0.0
    fails: float = 0.0
    redo_min: float = 0.0
    slips: bool = False

    @property
    def tied(self) -> bool:
        """Whether it belongs to a moving day."""
        return self.day >= 0


@dataclass(frozen=True, slots=True)
class Mishap:
    """Something that happens in some runs.

    Parameters
    ----------
    probability : float
        Chance, 0 to 1.
    delay_min : float
        How much later the task it strikes is finished. [min]
    task : int or None
        Position of the task; None: it costs money only.
    holding : bool
        Whether animals go to a filtered holding place.
    """

    probability: float
    delay_min: float = 0.0
    task: int | None = None
    holding: bool = False


@dataclass(frozen=True, slots=True)
class Day:
    """A moving day, and what happens where the preparation misses it.

    Parameters
    ----------
    slip_min : float
        By how much the day slips. [min]
    tolerance_min : float
        By how much a task of the day may wait for the preparation before the day slips. [min]
    """

    slip_min: float
    tolerance_min: float


@dataclass(frozen=True, slots=True)
class Net:
    """Everything that one run needs to know.

    Parameters
    ----------
    steps : tuple of Step
        One a task.
    ties : tuple of Tie
        What waits for what, the order of people, vehicles and gear included.
    mishaps : tuple of Mishap
        What happens in some runs.
    days : tuple of Day
        Moving days, in order of time.
    planned_min : tuple of float
        Planned start of each task; only needed where there are moving days. [min]
    order : tuple of int
        Positions in the order of working through.
    into : tuple of tuple of Tie
        Ties into each task.
    rounds : int
        How often the network is worked through: more than once where ties run against the order.
    """

    steps: tuple[Step, ...]
    ties: tuple[Tie, ...]
    mishaps: tuple[Mishap, ...] = ()
    days: tuple[Day, ...] = ()
    planned_min: tuple[float, ...] = ()
    order: tuple[int, ...] = field(init=False)
    into: tuple[tuple[Tie, ...], ...] = field(init=False)
    rounds: int = field(init=False)

    def __post_init__(self) -> None:
        into: list[list[Tie]] = [[] for _ in self.steps]
        for tie in self.ties:
            into[tie.head].append(tie)
        order = _order(self.steps, into)
        place = {position: number for number, position in enumerate(order)}
        against = sum(place[tie.tail] > place[tie.head] for tie in self.ties)
        object.__setattr__(self, "into", tuple(map(tuple, into)))
        object.__setattr__(self, "order", order)
        object.__setattr__(self, "rounds", 1 + min(against, len(self.steps)))


def _order(steps: Sequence[Step], into: Sequence[Iterable[Tie]]) -> tuple[int, ...]:
    """Sort so that ties run forwards, the preparation before its moving day; rings are cut at the earliest floor."""
    waiting = [len({tie.tail for tie in ties}) for ties in into]
    following: list[set[int]] = [set() for _ in steps]
    for position, ties in enumerate(into):
        for tie in ties:
            following[tie.tail].add(position)
    key = [(step.day, step.floor_min, position) for position, step in enumerate(steps)]
    free = [key[position] for position, number in enumerate(waiting) if number == 0]
    heapq.heapify(free)
    in_rings = iter(sorted(key))
    left = set(range(len(steps)))
    order: list[int] = []
    while left:
        taken = heapq.heappop(free)[2] if free else next(in_rings)[2]
        if taken not in left:
            continue
        left.remove(taken)
        order.append(taken)
        for position in following[taken]:
            waiting[position] -= 1
            if waiting[position] == 0:
                heapq.heappush(free, key[position])
    return tuple(order)
