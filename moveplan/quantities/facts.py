"""Everything that was worked out about a plan, as one value that practice reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.plan.livestock import Livestock
from moveplan.plan.places import Place
from moveplan.plan.systems import System
from moveplan.quantities.course import Leg, Shift
from moveplan.quantities.durations import CORALS, FISH, Handled
from moveplan.quantities.freight import Trips
from moveplan.quantities.packing import Packing
from moveplan.quantities.tubs import Tubs
from moveplan.quantities.volumes import Masses, Volumes
from moveplan.quantities.water import Water
from moveplan.science.livestock import Kind


@dataclass(frozen=True, slots=True)
class GroupFacts:
    """One group of animals that travels.

    Parameters
    ----------
    livestock : Livestock
        What the keeper said. [-]
    kind : Kind
        What is known of the kind. [-]
    count : int
        How many travel. [-]
    mass_g : Estimate
        Mass of one. [g]
    packing : Packing
        Its containers. [-]
    """

    livestock: Livestock
    kind: Kind
    count: int
    mass_g: Estimate
    packing: Packing


@dataclass(frozen=True, slots=True)
class SystemFacts:
    """One system that moves.

    Parameters
    ----------
    system : System
        What the keeper said. [-]
    volumes : Volumes
        Its water. [-]
    masses : Masses
        What it weighs. [-]
    tubs : Tubs
        What carries it. [-]
    water : Water
        Kept, new and spare water. [-]
    groups : tuple of GroupFacts
        Its animals that travel. [-]
    times : Mapping of str to Estimate
        Durations of its pieces of work, by name. [min]
    heater_w : float
        Heaters that run on it. [W]
    handled : Handled
        What has to be handled. [-]
    before : Masses
        What it weighs as it stands now. [-]
    shift : Shift
        From what into what it goes. [-]
    share : float
        Share of the old water that is to be kept. [-]
    old_water_l : float
        Water that there is now. [l]
    """

    system: System
    volumes: Volumes
    masses: Masses
    tubs: Tubs
    water: Water
    groups: tuple[GroupFacts, ...]
    times: Mapping[str, Estimate]
    heater_w: float
    handled: Handled
    before: Masses
    shift: Shift
    share: float
    old_water_l: float

    def of_group(self, *groups: str) -> tuple[GroupFacts, ...]:
        """Pick the groups of animals whose kind belongs to one of the named trade groups."""
        return tuple(group for group in self.groups if group.kind.group in groups)

    def invertebrates(self) -> tuple[GroupFacts, ...]:
        """Pick the animals that are neither fish nor kept racked like corals."""
        return tuple(group for group in self.groups if group.kind.group not in (*CORALS, *FISH))

    @property
    def packings(self) -> Mapping[str, Packing]:
        """Containers of its animals, by id of the group."""
        return {group.livestock.id: group.packing for group in self.groups}

    @property
    def standing(self) -> bool:
        """Whether the tank it goes into already runs when the animals come."""
        return self.shift.standing

    @property
    def rebuilt(self) -> System:
        """The system as it will stand."""
        return self.handled.rebuilt

    def task(self, key: str) -> str:
        """Id of the task that does something to this system."""
        return f"{key}-{self.system.id}"


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything that was worked out about a plan.

    Parameters
    ----------
    old, new : Place
        Where it stands now and where it will stand. [-]
    systems : tuple of SystemFacts
        Those that move. [-]
    water : Water
        All of it. [-]
    drive : Estimate
        Door to door, one way. [min]
    times : Mapping of str to Estimate
        Durations of work that is not of one system, by name. [min]
    trips : Trips
        What goes when, in which vehicle. [-]
    carriers : int
        People who lift on the moving day. [-]
    gear_needed : tuple of (str, int, int)
        Kind of gear, how many are needed, how many there are. [-]
    named : tuple of (str, Estimate)
        Estimates worth showing, in the order of reading. [-]
    findings : tuple of Problem
        Things to know that stop nothing. [-]
    impossible : tuple of Problem
        What cannot be done whatever the schedule. [-]
    hints : tuple of str
        What would make the day shorter; nobody has tried it. [-]
    leg : Leg
        The day on which it goes over. [-]
    """

    leg: Leg
    old: Place
    new: Place
    systems: tuple[SystemFacts, ...]
    water: Water
    drive: Estimate
    times: Mapping[str, Estimate]
    trips: Trips
    carriers: int
    gear_needed: tuple[tuple[str, int, int], ...]
    named: tuple[tuple[str, Estimate], ...]
    findings: tuple[Problem, ...] = ()
    impossible: tuple[Problem, ...] = ()
    hints: tuple[str, ...] = ()
