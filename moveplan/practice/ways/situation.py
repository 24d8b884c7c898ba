"""The facts of a plan that decide which ways of moving it allows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from moveplan.plan.move import Plan
from moveplan.plan.systems import System
from moveplan.quantities.course import moving_systems
from moveplan.times import to_local


@dataclass(frozen=True, slots=True)
class Situation:
    """The facts that decide.

    Parameters
    ----------
    plan : Plan
        What the keeper told us.
    moving : tuple of System
        Systems that go over; holding systems left out.
    """

    plan: Plan
    moving: tuple[System, ...]

    @property
    def drives(self) -> bool:
        """Whether it goes to another home."""
        return any(system.moves_to != system.place for system in self.moving)

    @property
    def renewed(self) -> tuple[System, ...]:
        """Systems that get a new tank."""
        return tuple(system for system in self.moving if system.new_tank is not None)

    @property
    def last_day(self) -> date:
        """Last day on which the move may be."""
        days = self.plan.dates.move_days if self.plan.dates else ()
        return days[-1] if days else to_local(self.plan.now, self.plan.zone).date()

    @property
    def access_day(self) -> date | None:
        """Day from which the new home may be entered; None: at once."""
        access = self.plan.dates.access_from if self.plan.dates else None
        return to_local(access, self.plan.zone).date() if access is not None else None

    @property
    def gap(self) -> bool:
        """Whether the new home opens only after the last move day."""
        return self.drives and self.access_day is not None and self.access_day > self.last_day

    @property
    def same_spot(self) -> tuple[System, ...]:
        """Systems whose new tank takes the place of the old one."""
        return tuple(one for one in self.renewed if one.new_tank and one.new_tank.spot == "same")

    @property
    def interim(self) -> str:
        """Id of the place where animals may wait; empty: there is none."""
        plan = self.plan
        for system in plan.systems:
            if system.role == "holding":
                return system.place
        ends = {place for system in self.moving for place in (system.place, system.moves_to)}
        others = [place.id for place in plan.places if place.id not in ends]
        boards = {boarding.place for boarding in plan.boarding}
        free = [place for place in others if place not in boards]
        if not self.drives:
            return self.moving[0].place
        if free:
            return free[0]
        return "" if self.gap else self.moving[0].moves_to


def situation_of(plan: Plan) -> Situation:
    """Sort out the facts that decide; systems for holding, and those that stay as they are, are not moved."""
    return Situation(plan, moving_systems(plan))
