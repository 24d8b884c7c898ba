"""Who travels, and which containers there are for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from moveplan.plan.livestock import Livestock
from moveplan.plan.move import Plan
from moveplan.quantities.tubs import TWO_PEOPLE_KG, lift_kg, tub_volume_l
from moveplan.science.livestock import ContainerRule, Kind

BAG_L = 12.0
"""Full volume of a fish bag where the plan names none; assumed. [l]"""
BOX_L = 40.0
"""Volume of an insulated box where the plan names none; assumed. [l]"""
APART = (ContainerRule.ALONE, ContainerRule.TOXIN)
"""Kinds that get containers of their own."""


@dataclass(frozen=True, slots=True)
class Travellers:
    """One group that travels.

    Parameters
    ----------
    livestock : Livestock
        What the keeper said. [-]
    kind : Kind
        What is known of it. [-]
    count : int
        How many travel. [-]
    """

    livestock: Livestock
    kind: Kind
    count: int

    @property
    def apart(self) -> bool:
        """Whether it shares its containers with nobody."""
        fighter = self.kind.group == "fish" and self.livestock.temperament in ("territorial", "predator")
        return fighter or any(rule in self.kind.container for rule in APART)


@dataclass(frozen=True, slots=True)
class Means:
    """Containers that the plan has.

    Parameters
    ----------
    tub_l, bag_l, box_l : float
        Full volume of a tub, a bag and an insulated box. [l]
    oxygen : bool
        Whether there is pure oxygen. [-]
    units_system : str
        ``metric`` or ``us``, for labels. [-]
    where : callable
        Line of the plan file of a key, for messages. [-]
    lift_kg : float
        What a tub may weigh for those who lift. [kg]
    """

    tub_l: float
    bag_l: float
    box_l: float
    oxygen: bool
    units_system: str
    where: Callable[[str], str] = str
    lift_kg: float = TWO_PEOPLE_KG


def means_of(plan: Plan) -> Means:
    """Read the containers of a plan, and how heavy a tub may be for those who lift."""

    def volume(kind: str, default: float) -> float:
        return max(
            (item.volume_l for item in plan.gear if item.kind == kind and item.volume_l > 0), default=default
        )

    def there(kind: str) -> bool:
        return any(item.kind == kind and item.count > 0 for item in plan.gear)

    tub_l, bag_l, box_l = tub_volume_l(plan.gear), volume("bag", BAG_L), volume("box", BOX_L)
    heaviest_kg = lift_kg(plan.lifters, tub_l)
    return Means(tub_l, bag_l, box_l, there("oxygen"), plan.units, plan.where, heaviest_kg)
