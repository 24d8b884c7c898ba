"""What comes out of the engine: a placement for each task, and how good it is proven to be."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from moveplan.errors import Problem
from moveplan.times import Interval


class Engine(StrEnum):
    """Which engine gave the answer."""

    SERIAL = "serial"
    EXACT = "exact"


class Status(StrEnum):
    """How far the answer is proven."""

    OPTIMAL = "OPTIMAL"
    FEASIBLE = "FEASIBLE"
    INFEASIBLE = "INFEASIBLE"
    UNKNOWN = "UNKNOWN"


@dataclass(frozen=True, slots=True)
class Placement:
    """Where one task came to stand.

    Parameters
    ----------
    task : str
        Id of the task.
    start, finish : int
        UTC; of recurring care the first start and the last finish. [min]
    segments : tuple of Interval
        The working stretches, in order; more than one where the work pauses, and one an occurrence of
        recurring care. [min]
    people, vehicles : tuple of str
        Ids, sorted.
    segment_people : tuple of tuple of str
        One crew a segment, only where recurring care changes hands; else empty: all of them every time.
    """

    task: str
    start: int
    finish: int
    segments: tuple[Interval, ...]
    people: tuple[str, ...] = ()
    vehicles: tuple[str, ...] = ()
    segment_people: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Aim:
    """One aim and how well it is met.

    Parameters
    ----------
    name : str
        What is made small.
    value, bound : int
        Reached, and proven to be the least possible given the aims before it.
    proven : bool
        Whether the two are shown to be equal.
    """

    name: str
    value: int
    bound: int
    proven: bool


@dataclass(frozen=True, slots=True)
class Schedule:
    """The answer of the engine.

    Parameters
    ----------
    status : Status
        How far it is proven.
    engine : Engine
        Who gave it.
    placements : tuple of Placement
        One a task, in the network's order; empty where there is no schedule.
    makespan_min, bound_min : int
        From the problem's start to the last finish, and its proven lower bound given the aims before. [min]
    aims : tuple of Aim
        In order of importance.
    reasons : tuple of Problem
        Why there is no schedule, with the ways out; empty where there is one.
    guard_struck : bool
        Whether the wall-clock guard ended the search, so that another run may differ.
    interrupted : bool
        Whether the keeper ended the search.
    """

    status: Status
    engine: Engine
    placements: tuple[Placement, ...] = ()
    makespan_min: int = 0
    bound_min: int = 0
    aims: tuple[Aim, ...] = ()
    reasons: tuple[Problem, ...] = ()
    guard_struck: bool = False
    interrupted: bool = False

    @classmethod
    def refused(cls, reasons: tuple[Problem, ...]) -> Schedule:
        """Say that there is none, for reasons that were shown before any search."""
        return cls(Status.INFEASIBLE, Engine.SERIAL, reasons=reasons)

    def of(self, task_id: str) -> Placement:
        """Find the placement of a task; KeyError where there is none."""
        for placement in self.placements:
            if placement.task == task_id:
                return placement
        raise KeyError(task_id)
