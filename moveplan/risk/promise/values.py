"""What is promised, in how many runs it is kept, and what breaks it."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, replace
from datetime import date

HELD_MIN = 5.0
"""A task that the clock holds back counts as begun in time up to so much later; assumed. [min]"""
EVERYBODY = "*"
"""Stands for all people and animals of a day; no id. [-]"""


@dataclass(frozen=True, slots=True)
class Root:
    """A slipped day or a risk that is mostly followed by a break.

    Parameters
    ----------
    what : str
        ``day`` or ``risk``.
    id : str
        Which day, which entry of the register.
    share : float
        In which share of the runs in which something breaks it had happened.
    """

    what: str
    id: str
    share: float


@dataclass(frozen=True, slots=True)
class Broken:
    """Something that is promised, and how often it is not kept.

    Parameters
    ----------
    what : str
        ``hours``, ``hire``, ``keys``, ``date``, ``day``, ``safe-time`` or ``animals``: any past its safe time.
    id : str
        Whose hours, which vehicle, which own task, which day, which animals.
    chance : float
        Share of the runs.
    roots : tuple of Root
        What lies behind it, the most often first; none where it breaks by itself.
    """

    what: str
    id: str
    chance: float
    roots: tuple[Root, ...] = ()


@dataclass(frozen=True, slots=True)
class ToldTask:
    """When people are told that a task of a moving day is.

    Parameters
    ----------
    task : str
        Its id.
    start, finish : int
        UTC. [min]
    chance : float
        Share of the runs in which it begins by then; what the clock holds back, not more than some minutes later.
    """

    task: str
    start: int
    finish: int
    chance: float


@dataclass(frozen=True, slots=True)
class LaterTask:
    """When the runs begin a task that follows the moving days.

    Parameters
    ----------
    task : str
        Its id.
    by : tuple of int
        By when each further hundredth of the runs has begun it, UTC. [min]
    earliest : float
        Nothing but the clock holds it back until then, UTC. [min]
    """

    task: str
    by: tuple[int, ...]
    earliest: float

    def chance(self, start: int) -> float:
        """Share of the runs in which it is begun by a start, to the hundredth; as with what is told of a day. [min]."""
        held = HELD_MIN if self.earliest >= start else 0.0
        return bisect_right(self.by, start + held) / len(self.by)

    def is_seldom(self, start: int) -> bool:
        """Whether less than half of the runs begin it by a start, or some minutes later. [min]."""
        return 2 * bisect_right(self.by, start + HELD_MIN) < len(self.by)


@dataclass(frozen=True, slots=True)
class DayEnd:
    """By when somebody is free on a moving day, or the animals are out of what they travelled in.

    Parameters
    ----------
    day : date
        Local day, as planned.
    who : str
        Id of the person; empty: the animals of that day; ``*``: everybody, the animals included.
    likely, promised : int
        In half of the runs, and in the share that the plan asks for, UTC. [min]
    """

    day: date
    who: str
    likely: int
    promised: int


@dataclass(frozen=True, slots=True)
class Promise:
    """What is promised together, and how often all of it is kept.

    Parameters
    ----------
    confidence : float
        Share of the runs in which it is to be kept, as the plan asks.
    kept : float
        Share of the runs in which nothing promised breaks.
    error : float
        Standard error of it.
    breaks : tuple of Broken
        What breaks, the most often first.
    milestones, likely : tuple of (str, int)
        When each milestone is reached in that share, and in half of the runs, UTC. [min]
    start_chances : tuple of (str, float)
        Id of each task of the moving days, and share of the runs in which it begins by its start.
    told : tuple of ToldTask
        What people could be told of the moving days so that half of the runs keep it.
    barred : tuple of (str, float)
        Id of each risk that breaks it more often by itself than the plan lets it break, and in which share of the
        runs.
    overruns : tuple of (str, str)
        Who works past stated hours at which task, the most often first.
    ends : tuple of DayEnd
        Of each moving day: its animals, its people, everybody.
    long_days : tuple of (str, float)
        Whose longest day is passed, which is no part of the promise, and in which share of the runs.
    animals : Broken or None
        That any of them passes its safe time, beside each group for itself; None: none travels.
    after : tuple of (str, int)
        What follows the moving days and is begun as planned in less than half of the runs, and when half of them begin
        it, UTC. [min]
    later : tuple of LaterTask
        What follows the moving days, however much later, and comes once.
    dates_kept : float or None
        Share of the runs in which every milestone is reached by its promised date; None: there is only one.
    """

    confidence: float
    kept: float
    error: float
    breaks: tuple[Broken, ...] = ()
    milestones: tuple[tuple[str, int], ...] = ()
    likely: tuple[tuple[str, int], ...] = ()
    start_chances: tuple[tuple[str, float], ...] = ()
    told: tuple[ToldTask, ...] = ()
    barred: tuple[tuple[str, float], ...] = ()
    overruns: tuple[tuple[str, str], ...] = ()
    ends: tuple[DayEnd, ...] = ()
    long_days: tuple[tuple[str, float], ...] = ()
    animals: Broken | None = None
    after: tuple[tuple[str, int], ...] = ()
    later: tuple[LaterTask, ...] = ()
    dates_kept: float | None = None

    @property
    def as_told(self) -> Promise:
        """The same with the chances of what people are told."""
        return replace(self, start_chances=tuple((one.task, one.chance) for one in self.told))

    @property
    def holds(self) -> bool:
        """Whether it is kept as often as the plan asks."""
        return self.kept >= self.confidence
