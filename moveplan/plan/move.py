"""The whole plan: what is to be moved, when, and by whom."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from zoneinfo import ZoneInfo

from moveplan.estimate import Provenance
from moveplan.plan.livestock import Livestock
from moveplan.plan.people import Boarding, Contact, Helper, LateChange, Vehicle
from moveplan.plan.places import Drive, OutsideAir, Place
from moveplan.plan.risks import RiskChange
from moveplan.plan.supplies import GearItem, Price, WaterMaking
from moveplan.plan.systems import System
from moveplan.plan.tasks import OwnTask


@dataclass(frozen=True, slots=True)
class Learnt:
    """How long work really took on an earlier move.

    Parameters
    ----------
    tasks : tuple of (str, int, int)
        Ids of its measured tasks, each with planned and real minutes. [min]
    paces : Mapping of str to float
        Real over planned duration of all work, by the ids of the limits.
    leads : Mapping of str to Mapping of str to float
        By who led: how much longer than that a crew of theirs takes, by kind of task. [-]
    """

    tasks: tuple[tuple[str, int, int], ...]
    paces: Mapping[str, float]
    leads: Mapping[str, Mapping[str, float]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something the keeper did not say.

    Parameters
    ----------
    key : str
        Path of the key in the plan file, such as ``systems.display.rock``.
    value : str
        What is assumed, with its unit, as it could be written there.
    """

    key: str
    value: str
    why: str


@dataclass(frozen=True, slots=True)
class Dates:
    """The dates that others set.

    Parameters
    ----------
    move_days : tuple of date
        Days on which the move may take place, in order; one where the keeper fixed it.
    fall_back_day : date or None
        The day kept free in case the eve says no.
    access_from : int or None
        From when the new home may be entered, UTC. [min]
    keys_back : int or None
        When the old home must be empty, UTC. [min]
    earliest_start : int or None
        Nothing starts before, UTC. [min]
    move_in_day : date or None
        The day of moving in, where animals wait in between.
    restart_day : date or None
        The day from which a tank that was shut down is set up again.
    """

    move_days: tuple[date, ...]
    fall_back_day: date | None
    access_from: int | None
    keys_back: int | None
    earliest_start: int | None
    move_in_day: date | None = None
    restart_day: date | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything the keeper told us, complete.

    Parameters
    ----------
    id : str
        Names the plan for ever.
    title : str
        What to print.
    purpose : str
        ``house-move``, ``larger-tank``, ``house-move-larger-tank``, ``shut-down`` or ``own-tasks``.
    way : str
        The way of moving the keeper chose; empty: the best is to be found.
    now : int
        The plan's ``as-of``, or the clock, UTC. [min]
    start : int or None
        ``start:`` of a plan of own tasks, UTC. [min]
    zone : ZoneInfo
        Time zone of every wall-clock time.
    locale, units, country, currency : str
        ``units`` is ``metric`` or ``us``.
    dates : Dates
        Dates that others set; None only in a plan of own tasks.
    places : tuple of Place
        Where things are; the first is the old home.
    drives : tuple of Drive
        Ways between places.
    systems, livestock, people, vehicles, gear, prices, tasks, contacts, boarding : tuple
        What there is.
    water_making : WaterMaking or None
        None only in a plan of own tasks.
    policy : Mapping of str to float
        Overridden policy defaults, by their id in the table of limits.
    low_high : tuple of (float, float)
        The quantiles that low and high stand for.
    safe_time_risk : float
        Accepted chance of passing a safe time.
    confidence : float
        Share of cases in which what is promised is to be kept, start-by dates among it, 0 to 1.
    assumptions : tuple of Assumption
        What was filled in.
    file_name : str
        The plan file, for messages.
    lines : Mapping of str to int
        Key path to line of the plan file.
    risks : tuple of RiskChange
        What the plan adds to the risk register, changes or strikes.
    outside : OutsideAir or None
        Air outside on the moving day; None only in a plan of own tasks.
    learnt : Learnt or None
        What an earlier move taught; None: nothing.
    slips : int
        How often the moving day has moved since a schedule was accepted.
    notice_days : int
        How long before the day that was agreed it was said last that it moves. [day]
    labels : tuple of (str, tuple of str)
        Numbers of containers that were told, each with what it stands for.
    filled : tuple of (str, str, tuple of str)
        Groups whose containers are filled: the place where that was, and the containers in the words they were told in.
    """

    id: str
    title: str
    purpose: str
    way: str
    now: int
    start: int | None
    zone: ZoneInfo
    locale: str
    units: str
    country: str
    currency: str
    dates: Dates | None
    places: tuple[Place, ...]
    drives: tuple[Drive, ...]
    systems: tuple[System, ...]
    livestock: tuple[Livestock, ...]
    people: tuple[Helper, ...]
    vehicles: tuple[Vehicle, ...]
    water_making: WaterMaking | None
    gear: tuple[GearItem, ...]
    prices: tuple[Price, ...]
    tasks: tuple[OwnTask, ...]
    contacts: tuple[Contact, ...]
    boarding: tuple[Boarding, ...]
    policy: Mapping[str, float]
    low_high: tuple[float, float]
    safe_time_risk: float
    confidence: float
    assumptions: tuple[Assumption, ...]
    file_name: str
    lines: Mapping[str, int] = field(repr=False)
    risks: tuple[RiskChange, ...] = ()
    outside: OutsideAir | None = None
    learnt: Learnt | None = None
    slips: int = 0
    notice_days: int = 0
    labels: tuple[tuple[str, tuple[str, ...]], ...] = ()
    filled: tuple[tuple[str, str, tuple[str, ...]], ...] = ()

    @property
    def ring(self) -> tuple[Contact, ...]:
        """Whom to ring: people of the plan who give a number, then contacts."""
        people = (Contact(one.id, one.name, "", one.phone) for one in self.people if one.phone)
        return *people, *self.contacts

    @property
    def late_changes(self) -> tuple[tuple[str, str, LateChange, bool], ...]:
        """Whose promise costs something to change late: id, name, what, and whether that is assumed."""
        several = (
            *(("people", one.id, one.name, one.late_change) for one in self.people),
            *(("vehicles", one.id, one.name, one.late_change) for one in self.vehicles),
        )
        assumed = {one.key for one in self.assumptions}
        return tuple(
            (one, name, late, f"{kind}.{one}.late-change" in assumed)
            for kind, one, name, late in several
            if late
        )

    def where(self, key: str) -> str:
        """``FILE:LINE KEY`` of a key path, or of the nearest block above that stands in the file.

        Parameters
        ----------
        key : str
            Key path with the keeper's ids, such as ``systems.display.tank``.
        """
        parts = key.split(".")
        for end in range(len(parts), 0, -1):
            line = self.lines.get(".".join(parts[:end]))
            if line is not None:
                return f"{self.file_name}:{line} {key}"
        return f"{self.file_name} {key}"

    def provenance(self, key: str) -> Provenance:
        """Tell whether the keeper gave the value of a key path, or it or a block around it was assumed."""
        if any(f"{key}.".startswith(f"{assumption.key}.") for assumption in self.assumptions):
            return Provenance.ASSUMED
        return Provenance.GIVEN

    @property
    def leads(self) -> Helper | None:
        """Who leads: whoever is said to, else the first one; None where there is nobody."""
        return next((one for one in self.people if one.lead), self.people[0] if self.people else None)

    @property
    def lifters(self) -> int:
        """How many people lift."""
        return sum(person.lifts for person in self.people)

    def place(self, place_id: str) -> Place:
        """Find a place by its id; KeyError where there is none."""
        return {place.id: place for place in self.places}[place_id]

    def system(self, system_id: str) -> System:
        """Find a system by its id; KeyError where there is none."""
        return {system.id: system for system in self.systems}[system_id]

    def drive(self, origin: str, destination: str) -> Drive | None:
        """Find the way between two places, in either direction."""
        for drive in self.drives:
            if {drive.origin, drive.destination} == {origin, destination}:
                return drive
        return None
