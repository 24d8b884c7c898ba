"""What a way of moving means for the quantities: which systems go over on which day, into what."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from moveplan.plan.move import Plan
from moveplan.plan.systems import System


@dataclass(frozen=True, slots=True)
class Shift:
    """One system that goes over.

    Parameters
    ----------
    before, after : System
        As it stands before and after, both under the id of the plan's system whose animals they hold.
    standing : bool
        Whether the tank it goes into already runs when the animals come.
    placed : bool
        Whether that tank already stands on its spot on the day, even if empty.
    benched : bool
        Whether it is tested away from its spot, where the old one still stands.
    carries : tuple of System
        Systems whose tank and stand travel along.
    kept : tuple of (float, str) or None
        Share of the old water to keep and why, where neither the plan nor its nitrate decides.
    source, target : str
        Names of the two bodies of water in the ledger; empty: the id of the system.
    """

    before: System
    after: System
    standing: bool = False
    placed: bool = False
    benched: bool = False
    carries: tuple[System, ...] = ()
    kept: tuple[float, str] | None = None
    source: str = ""
    target: str = ""

    @property
    def out_of(self) -> str:
        """Account of the water that the animals leave."""
        return f"system:{self.source or self.before.id}"

    @property
    def into(self) -> str:
        """Account of the water that they come into."""
        return f"system:{self.target or self.after.id}"

    @property
    def mixed(self) -> str:
        """Account of the salt water that is mixed for it."""
        return f"new:{self.target or self.after.id}"


@dataclass(frozen=True, slots=True)
class Leg:
    """One day on which systems go over, and what belongs to it.

    Parameters
    ----------
    shifts : tuple of Shift
        What goes over.
    origin, destination : str
        Ids of places; the same for a move within the home.
    days : tuple of date
        Days on which it may be.
    empty : bool
        Whether no animal is left to go over.
    gives_away : bool
        Whether every animal goes to a new keeper.
    in_waves : bool
        Whether animals go over in waves, days apart, while both tanks run.
    water_there : bool
        Whether new water is made where it is poured in.
    spares : tuple of System
        Tanks that nothing lives in, and that travel along empty.
    bins : tuple of (str, float)
        Number and volume of the bins for mixing water that travel along empty. [l]
    ripens : bool
        Whether the tank that waits is cycled before the animals come.
    waits : bool
        Whether the animals wait where the leg brings them, until another leg takes them on.
    """

    shifts: tuple[Shift, ...]
    origin: str
    destination: str
    days: tuple[date, ...] = ()
    empty: bool = False
    gives_away: bool = False
    in_waves: bool = False
    water_there: bool = False
    spares: tuple[System, ...] = ()
    bins: tuple[tuple[str, float], ...] = ()
    ripens: bool = False
    waits: bool = False

    @property
    def drives(self) -> bool:
        """Whether there is a way to drive."""
        return self.origin != self.destination


def moving_systems(plan: Plan) -> tuple[System, ...]:
    """List the systems that a plan is about: those that change place or tank; all of them where it is shut down.

    Parameters
    ----------
    plan : Plan
        Holding systems are means, and left out.
    """
    own = tuple(system for system in plan.systems if system.role != "holding")
    going = tuple(one for one in own if one.moves_to != one.place or one.new_tank is not None)
    if plan.purpose == "shut-down" or not going:
        return own
    lived_in = tuple(one for one in going if not _bare(plan, one))
    return lived_in or going


def other_systems(plan: Plan) -> tuple[System, ...]:
    """List the systems that a plan is not about; one of them that changes place is spare: nothing lives in it.

    Parameters
    ----------
    plan : Plan
        A display tank is never a spare one: its filter is alive.
    """
    moving = moving_systems(plan)
    return tuple(one for one in plan.systems if one.role != "holding" and one not in moving)


def _bare(plan: Plan, system: System) -> bool:
    lives = any(group.system == system.id and not group.wished for group in plan.livestock)
    return system.role != "display" and not lives and not system.rock_kg and system.new_tank is None


def rebuilt(system: System) -> System:
    """Give a system as it will stand in its new tank, or as it is where there is none."""
    new = system.new_tank
    if new is None:
        return system
    return replace(
        system,
        tank=new.tank,
        sump_l=new.sump_l,
        stand_kg=new.stand_kg,
        rock_kg=system.rock_kg + new.rock_kg,
        sand_kg=new.sand_kg or system.sand_kg,
        equipment=new.equipment or system.equipment,
    )
