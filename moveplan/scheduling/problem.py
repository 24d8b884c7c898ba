"""What goes into the engine: a network, and the people, vehicles, gear and days it may use."""

from __future__ import annotations

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from moveplan.network.graph import Network
from moveplan.times import Interval


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who works.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    available : tuple of Interval
        Disjoint, in order, UTC. [min]
    skills : tuple of str
        Skills as named in ``Crew.skills``.
    home : str
        Place where the person is before the first task; empty: wherever that is.
    cents_per_hour : int
        Pay, in hundredths of the currency.
    where : str
        Line of the plan file, for messages.
    helps : bool
        Whether they come because somebody else asks them; each local day for which they come is one to ask for.
    lives : str
        Place where they are anyway and need not be asked to; empty: none that is known.
    """

    id: str
    name: str
    available: tuple[Interval, ...]
    skills: tuple[str, ...] = ()
    home: str = ""
    cents_per_hour: int = 0
    where: str = ""
    helps: bool = False
    lives: str = ""

    def is_asked(self, place: str) -> bool:
        """Whether they have to be asked to come to work at a place."""
        return self.helps and not (place and place == self.lives)


@dataclass(frozen=True, slots=True)
class Vehicle:
    """Something with wheels.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    available : tuple of Interval
        When it may be used: its hire window; disjoint, in order, UTC. [min]
    home : str
        Place where it stands before its first task; empty: wherever that is.
    cents_per_day : int
        Hire for each local day on which it is used, in hundredths of the currency.
    where : str
        Line of the plan file, for messages.
    """

    id: str
    name: str
    available: tuple[Interval, ...]
    home: str = ""
    cents_per_day: int = 0
    where: str = ""


@dataclass(frozen=True, slots=True)
class Gear:
    """Things that can be used by so many tasks at a time.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    count : int
        How many there are.
    where : str
        Line of the plan file, for messages.
    """

    id: str
    name: str
    count: int
    where: str = ""


@dataclass(frozen=True, slots=True)
class TiedDay:
    """A tag whose tasks all happen on one local day, chosen from some.

    Parameters
    ----------
    tag : str
        As in ``Task.day``.
    days : tuple of Interval
        The local days to choose from, in order of time, UTC. The earliest that works is taken. [min]
    where : str
        Line of the plan file, for messages.
    """

    tag: str
    days: tuple[Interval, ...]
    where: str = ""


@dataclass(frozen=True, slots=True)
class SchedulingProblem:
    """Everything the engine may know.

    Parameters
    ----------
    start : int
        Nothing begins before this, UTC. [min]
    horizon : int
        Everything is over by this, UTC. [min]
    days : tuple of Interval
        The local days from start to horizon, in order, UTC. [min]
    people : tuple of Person
        Who there is.
    vehicles : tuple of Vehicle
        What there is to drive.
    gear : tuple of Gear
        What there is to use.
    drives : tuple of (str, str, int)
        Place, place and the likely drive between them, both ways, in minutes. Places without a drive are
        next to each other. [min]
    tied_days : tuple of TiedDay
        Days chosen by the engine.
    grid_min : int
        Starts fall on multiples of this after ``start``; 1 keeps to the minute. [min]
    where : str
        Line of the plan file that sets the start, for messages.
    zone : ZoneInfo or None
        Whose clock moments are told by in messages; None: they are counted from the start.
    """

    network: Network
    start: int
    horizon: int
    days: tuple[Interval, ...] = ()
    people: tuple[Person, ...] = ()
    vehicles: tuple[Vehicle, ...] = ()
    gear: tuple[Gear, ...] = ()
    drives: tuple[tuple[str, str, int], ...] = ()
    tied_days: tuple[TiedDay, ...] = ()
    grid_min: int = 1
    where: str = ""
    zone: ZoneInfo | None = None

    def drive_min(self, origin: str, destination: str) -> int:
        """Likely minutes between two places; 0 where either is empty or no drive is known."""
        for one, other, minutes in self.drives:
            if {one, other} == {origin, destination} and origin != destination:
                return minutes
        return 0
