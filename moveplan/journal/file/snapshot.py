"""An accepted schedule as it is kept in the journal: all that is needed to say what is next, without solving."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from moveplan.journal.premises import Premises
from moveplan.journal.waters.gates import Gate
from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.times import Interval


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedTask:
    """One task as it was accepted.

    Parameters
    ----------
    id, title, phase, place : str
        As people read them.
    kind : Kind
        Work, wait, travel or hold point.
    segments : tuple of Interval
        When, UTC; one a time of recurring care. [min]
    minutes, low, high : int
        Duration: planned, and its spread. [min]
    people, vehicles : tuple of str
        Ids.
    times : int
        How often recurring care happens; 1 for anything else.
    critical : bool
        Whether nothing here may slip.
    day : str
        Tag of the day it is tied to; empty: free.
    gates : tuple of Gate
        What a hold point asks for.
    number : int
        Its number on the run sheets; 0: it was accepted before numbers were kept.
    hands : int
        How many people it takes; 0: it was accepted before that was kept.
    needs : tuple of (str, int)
        How many of them must have each skill.
    pace : float
        How much longer than usual it was planned to take, because this crew had taken so long before. [-]
    steps : tuple of str
        What was to do, in the words that were agreed; empty: it was accepted before they were kept.
    slower_min : int
        How much of ``minutes`` came on top of what was accepted, because somebody is not there. [min]
    """

    id: str
    title: str
    kind: Kind
    segments: tuple[Interval, ...]
    minutes: int
    low: int
    high: int
    phase: str = ""
    place: str = ""
    people: tuple[str, ...] = ()
    vehicles: tuple[str, ...] = ()
    times: int = 1
    critical: bool = False
    day: str = ""
    gates: tuple[Gate, ...] = ()
    number: int = 0
    hands: int = 0
    needs: tuple[tuple[str, int], ...] = ()
    pace: float = 1.0
    steps: tuple[str, ...] = ()
    slower_min: int = 0

    @property
    def alone(self) -> bool:
        """Whether it is a wait that runs by itself."""
        return self.kind is Kind.WAIT and not self.people

    @property
    def said(self) -> str:
        """How people name it: its number on the run sheets, and its title."""
        return f"“{self.number}. {self.title}”" if self.number else f"“{self.title}”"

    @property
    def start(self) -> int:
        """First start, UTC."""
        return self.segments[0].start

    @property
    def finish(self) -> int:
        """Last finish, UTC."""
        return self.segments[-1].finish


@dataclass(frozen=True, slots=True)
class Tie:
    """What one task waits for.

    Parameters
    ----------
    before, after : str
        Ids of the two tasks.
    relation : Relation
        Which of their ends.
    gap_min : int
        Least gap; may be negative. [min]
    """

    before: str
    after: str
    relation: Relation = Relation.FINISHTOSTART
    gap_min: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedStay:
    """The time of one group in unfiltered containers.

    Parameters
    ----------
    group, name, container : str
        Id of the group, what to print, and the container in words.
    count : int
        How many animals.
    shut_task, shut_edge, open_task, open_edge : str
        The task at whose ``start`` or ``finish`` it begins and ends.
    shut, opened : int
        When that was planned, UTC. [min]
    safe_low_min, safe_likely_min, safe_high_min : int or None
        Safe time; None: no limit. [min]
    limited_by : str
        What ends it.
    in_vehicle_min : int or None
        The low end where it stays in the vehicle; None: it does not ride, or no limit. [min]
    aboard_min : int or None
        How much of it is left when it is loaded, where cold or heat ends it there; None: something else does, or it
        was accepted before that was kept. [min]
    containers : tuple of (str, int)
        Number of each container, and how many of the animals are in it.
    places : tuple of (str, str, str)
        Where they are, one after the other: the place, and the task at whose ``start`` or ``finish`` they come
        there.
    """

    group: str
    name: str
    container: str
    count: int
    shut_task: str
    shut_edge: str
    open_task: str
    open_edge: str
    shut: int
    opened: int
    safe_low_min: int | None = None
    safe_likely_min: int | None = None
    safe_high_min: int | None = None
    limited_by: str = ""
    in_vehicle_min: int | None = None
    aboard_min: int | None = None
    containers: tuple[tuple[str, int], ...] = ()
    places: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """A schedule that was accepted.

    Parameters
    ----------
    title, zone, locale, currency : str
        Of the plan.
    way : str
        The way of moving that was accepted; empty: own tasks.
    now : int
        The moment it was made for, UTC. [min]
    tasks : tuple of PlannedTask
        In the order of reading.
    stays : tuple of PlannedStay
        Animals in containers.
    waits : Mapping of str to tuple of str
        Ids of the tasks that each task waits for.
    gaps : tuple of Tie
        Those of them that are more than "when it is done".
    people, vehicles, groups, systems : Mapping of str to str
        Names by id; a new tank that runs beside the old one is a system of its own here.
    milestones : Mapping of str to str
        Id of the task by whose finish each milestone is reached.
    cost : Mapping of str to str
        Sum of each group of the bill, as decimal numbers.
    cycles : Mapping of str to Mapping
        ``seeding``, ``temperature_c``, ``water`` and ``gates`` of each system whose new tank ripens.
    policy : Mapping of str to float
        Limits that the plan sets, by name.
    skills : Mapping of str to tuple of str
        What each person can do, by id.
    rates : Mapping of str to str
        Pay an hour by person, as decimal numbers.
    premises : Premises or None
        What stands where; None: it was accepted before that was kept.
    terms : Mapping of str to Mapping
        What a late change costs by person or vehicle: ``fee``, ``within_days``, and whether that is ``assumed``.
    promise : Mapping of str to object
        What was simulated, with hours, hires, keys and safe times, and ``confidence``; empty: nothing is promised.
    labels : tuple of (str, tuple of str)
        Number of each container, and what it stands for.
    """

    title: str
    zone: str
    now: int
    tasks: tuple[PlannedTask, ...]
    locale: str = ""
    currency: str = ""
    way: str = ""
    stays: tuple[PlannedStay, ...] = ()
    waits: Mapping[str, tuple[str, ...]]
    people: Mapping[str, str]
    vehicles: Mapping[str, str]
    groups: Mapping[str, str]
    systems: Mapping[str, str]
    milestones: Mapping[str, str]
    cost: Mapping[str, str]
    cycles: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    policy: Mapping[str, float] = field(default_factory=dict)
    rates: Mapping[str, str] = field(default_factory=dict)
    skills: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    gaps: tuple[Tie, ...] = ()
    premises: Premises | None = None
    terms: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    promise: Mapping[str, Any] = field(default_factory=dict)
    labels: tuple[tuple[str, tuple[str, ...]], ...] = ()

    @property
    def ties(self) -> Mapping[str, tuple[Tie, ...]]:
        """All that each task waits for."""
        known: dict[tuple[str, str], tuple[Tie, ...]] = {}
        for tie in self.gaps:
            known[tie.before, tie.after] = (*known.get((tie.before, tie.after), ()), tie)
        return {
            after: tuple(
                tie for before in several for tie in known.get((before, after), (Tie(before, after),))
            )
            for after, several in self.waits.items()
        }

    def task(self, task_id: str) -> PlannedTask | None:
        """Find a task; None where it was not planned."""
        return next((task for task in self.tasks if task.id == task_id), None)
