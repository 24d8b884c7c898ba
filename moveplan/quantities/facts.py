"""Everything that was worked out about a plan, as one value that practice reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.plan.livestock import Livestock
from moveplan.plan.places import Place
from moveplan.plan.systems import System
from moveplan.quantities.containers.packing import Packing
from moveplan.quantities.containers.tubs import Tubs
from moveplan.quantities.containers.vessels import Use, Vessel, by_use
from moveplan.quantities.course import Leg, Shift
from moveplan.quantities.durations import Handled
from moveplan.quantities.freight.freight import Trips
from moveplan.quantities.heaters import Heater
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.quantities.water.amounts import Water
from moveplan.quantities.water.old_water import OldWater
from moveplan.quantities.water.ramps import Ramp
from moveplan.quantities.water.supply import Supply
from moveplan.quantities.water.volumes import Masses, Volumes
from moveplan.science.animals.livestock import Kind


@dataclass(frozen=True, slots=True)
class GroupFacts:
    """One group of animals that travels.

    Parameters
    ----------
    livestock : Livestock
        What the keeper said.
    kind : Kind
        What is known of the kind.
    count : int
        How many travel.
    mass_g : Estimate
        Mass of one. [g]
    packing : Packing
        Its containers.
    ramp : Ramp or None
        How it comes from their water to that of the tank; None: into no tank of the plan.
    """

    livestock: Livestock
    kind: Kind
    count: int
    mass_g: Estimate
    packing: Packing
    ramp: Ramp | None = None


@dataclass(frozen=True, slots=True)
class SystemFacts:
    """One system that moves.

    Parameters
    ----------
    system : System
        What the keeper said.
    volumes : Volumes
        Its water.
    masses : Masses
        What it weighs.
    tubs : Tubs
        What carries it.
    water : Water
        Kept, new and spare water.
    groups : tuple of GroupFacts
        Its animals that travel.
    times : Mapping of str to Estimate
        Durations of its pieces of work, by name. [min]
    heater_w : float
        Heaters that run on it. [W]
    handled : Handled
        What has to be handled.
    before : Masses
        What it weighs as it stands now.
    shift : Shift
        From what into what it goes.
    share : float
        Share of the old water that is to be kept.
    old : OldWater
        Where the water goes that there is now.
    cans : bool
        Whether new and spare water travel in cans.
    spare_l : float
        Spare water, with what gets its animals used to the tank. [l]
    vessels : tuple of Vessel
        Its containers on the day, numbered.
    helping : tuple of Heater
        Spare heaters that help to warm it.
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
    old: OldWater
    cans: bool = False
    spare_l: float = 0.0
    vessels: tuple[Vessel, ...] = ()
    helping: tuple[Heater, ...] = ()

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
    def lifted_kg(self) -> tuple[float, float]:
        """Mass of the empty tank as it stands now and as it will stand. [kg]."""
        return self.before.tank.likely, self.masses.tank.likely

    @property
    def stands_kg(self) -> tuple[float, ...]:
        """Mass of each stand that is carried along. [kg]."""
        return tuple(one.stand_kg for one in self.shift.carries)

    @property
    def carries_own(self) -> bool:
        """Whether the tank that the animals leave travels along, and not another."""
        return any(one.tank == self.system.tank for one in self.shift.carries)

    @property
    def standing(self) -> bool:
        """Whether the tank it goes into already runs when the animals come."""
        return self.shift.standing

    @property
    def rebuilt(self) -> System:
        """The system as it will stand."""
        return self.handled.rebuilt

    def of_use(self, *uses: Use) -> tuple[Vessel, ...]:
        """Pick the containers that are for some uses."""
        return tuple(vessel for vessel in self.vessels if vessel.use in uses)

    def numbers(self, *uses: str) -> list[str]:
        """Give the numbers of the containers that are for some uses."""
        return [vessel.number for vessel in self.vessels if vessel.use in uses]

    def aired(self, *uses: str) -> list[str]:
        """Give the numbers of those of them in which an air stone runs."""
        return [vessel.number for vessel in self.vessels if vessel.use in uses and vessel.stones]

    def still(self, *uses: str) -> list[str]:
        """Give the numbers of those of them in which none runs."""
        return [vessel.number for vessel in self.vessels if vessel.use in uses and not vessel.stones]

    def heated(self, *uses: str) -> list[str]:
        """Give the numbers of those of them in which a small heater hangs."""
        return [vessel.number for vessel in self.vessels if vessel.use in uses and vessel.heater_w > 0]

    def by_use(self) -> list[tuple[str, list[str]]]:
        """Give the numbers of all containers by what they are for."""
        return [(use.value, [one.number for one in several]) for use, several in by_use(self.vessels).items()]

    def ramp(self, vessel: Vessel) -> Ramp | None:
        """Tell how the animals in a container come to the water of the tank."""
        inside = set(vessel.livestock)
        return next((group.ramp for group in self.groups if group.livestock.id in inside), None)

    def task(self, key: str) -> str:
        """Id of the task that does something to this system."""
        return f"{key}-{self.system.id}"


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything that was worked out about a plan.

    Parameters
    ----------
    old, new : Place
        Where it stands now and where it will stand.
    systems : tuple of SystemFacts
        Those that move.
    drive : Estimate
        Door to door, one way. [min]
    times : Mapping of str to Estimate
        Durations of work that is not of one system, by name. [min]
    trips : Trips
        What goes when, in which vehicle.
    carriers : int
        People who lift on the moving day.
    gear_needed : tuple of (str, int, int)
        Kind of gear, how many are needed, how many there are.
    named : tuple of (str, Estimate)
        Estimates worth showing, in the order of reading.
    findings : tuple of Problem
        Things to know that stop nothing.
    impossible : tuple of Problem
        What cannot be done whatever the schedule.
    hints : tuple of str
        What would make the day shorter; nobody has tried it.
    leg : Leg
        The day on which it goes over.
    supply : Supply or None
        Purified water: made, and bought.
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
    supply: Supply | None = None
