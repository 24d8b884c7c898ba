"""One task: how long it takes, who and what it needs, and when it may happen."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from moveplan.estimate import Estimate


class Kind(StrEnum):
    """What sort of time a task is."""

    WORK = "work"
    WAIT = "wait"
    TRAVEL = "travel"
    HOLD_POINT = "hold-point"
    REST = "rest"


class State(StrEnum):
    """RFC 5545 STATUS of a to-do."""

    NEEDS_ACTION = "NEEDS-ACTION"
    IN_PROCESS = "IN-PROCESS"
    COMPLETED = "COMPLETED"
    CANCELLED = "CANCELLED"


class Timing(StrEnum):
    """Whether a task wants to be early or as late as its margin allows."""

    EARLY = "early"
    LATE = "late"


@dataclass(frozen=True, slots=True)
class Crew:
    """The people a task needs.

    Parameters
    ----------
    count : int
        How many people in all, at least 1.
    skills : tuple of (str, int)
        How many of them must have each skill, for example ``(("lifts", 2),)``.
    named : tuple of str
        Ids of people who must be among them.
    """

    count: int
    skills: tuple[tuple[str, int], ...] = ()
    named: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LargerCrew:
    """Another size of crew that does the task in another time.

    Parameters
    ----------
    count : int
        People in all.
    minutes : int
        Likely duration with that crew. [min]
    """

    count: int
    minutes: int


@dataclass(frozen=True, slots=True)
class Repeat:
    """Recurring care: the task happens ``times`` times, ``every_min`` apart, from its start on.

    Parameters
    ----------
    every_min : int
        From one start to the next. [min]
    times : int
        How often in all, at least 1.
    slack_min : int
        How far each time may be moved to a moment at which somebody is free. [min]
    """

    every_min: int
    times: int
    slack_min: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One task of the network.

    Parameters
    ----------
    id : str
        ``[A-Za-z0-9][A-Za-z0-9._-]*``, verb and thing; stays when the plan is rebuilt.
    title : str
        One line for people.
    estimate : Estimate
        Duration; ``likely`` is what is planned. [min]
    kind : Kind
        Work, wait, travel, hold point or rest.
    phase : str
        Name of the phase it belongs to.
    place : str
        Id of the place where it happens; empty: anywhere. Travel: where it begins.
    place_after : str
        Travel only: where it ends.
    crew : Crew or None
        None: needs nobody, runs round the clock.
    larger_crews : tuple of LargerCrew
        Other sizes the engine may choose.
    vehicles : tuple of str
        Ids of the vehicles it needs, all of them.
    gear : tuple of (str, int)
        Gear in use during the task itself.
    may_pause : bool
        Whether the work may stop at the end of a working day and go on the next.
    not_before, finish_by : int or None
        Hard dates, UTC. [min]
    due : int or None
        Soft date for the finish, UTC; lateness is counted in hours. [min]
    day : str
        Tasks with the same tag happen on the same local day; empty: free.
    timing : Timing
        Early (default), or late: as late as what needs it allows, less ``margin_min``.
    margin_min : int
        Wished distance between a late task's finish and what needs it. [min]
    repeats : Repeat or None
        Recurring care.
    steps : tuple of str
        What to do, in order, for somebody who cannot ask.
    cautions : tuple of str
        Ids of the cautions that apply.
    where : str
        The line of the plan file it comes from, for messages.
    planned_min : int or None
        The duration that was chosen in place of the likely one; None: none was. [min]
    """

    id: str
    title: str
    estimate: Estimate
    kind: Kind = Kind.WORK
    phase: str = ""
    place: str = ""
    place_after: str = ""
    crew: Crew | None = None
    larger_crews: tuple[LargerCrew, ...] = ()
    vehicles: tuple[str, ...] = ()
    gear: tuple[tuple[str, int], ...] = ()
    may_pause: bool = False
    not_before: int | None = None
    finish_by: int | None = None
    due: int | None = None
    day: str = ""
    timing: Timing = Timing.EARLY
    margin_min: int = 0
    repeats: Repeat | None = None
    steps: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    where: str = ""
    planned_min: int | None = None

    @property
    def minutes(self) -> int:
        """What is planned, in minutes: the likely duration, where no other was chosen."""
        return round(self.estimate.likely) if self.planned_min is None else self.planned_min

    @property
    def driven(self) -> bool:
        """Whether somebody drives for it."""
        skills = self.crew.skills if self.crew else ()
        return self.kind is Kind.TRAVEL or any(skill == "drives" for skill, _ in skills)

    @property
    def ends_at(self) -> str:
        """The place where people and vehicles are when it is over."""
        return self.place_after or self.place
