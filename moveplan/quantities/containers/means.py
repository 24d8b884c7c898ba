"""The containers, pumps and heaters that a plan has, and what may be bought beside them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from moveplan.plan.move import Plan
from moveplan.plan.supplies import GearItem, ordered_id
from moveplan.quantities.containers.tubs import DEFAULT_TUB_L, WATER_KG_L
from moveplan.quantities.freight.lifting import tub_limit_kg
from moveplan.quantities.policy import Policy

USUAL_L = {"tub": DEFAULT_TUB_L, "pail": 15.0, "bag": 12.0, "box": 40.0, "can": 20.0}
"""Volume of a container where the plan names none; assumed, what shops have. [l]"""
BUYING_MIN = {
    "tub": 60.0,
    "pail": 30.0,
    "bag": 3.0,
    "box": 40.0,
    "wrap": 20.0,
    "heater": 60.0,
    "pump": 60.0,
}
"""What one more thing to order is worth in minutes of a moving day, when containers are chosen: its price at 18 an
hour, and where it is kept afterwards; assumed. [min]"""


BATTERY_H = 24.0
"""How long a battery pump runs where the plan does not say; assumed. [h]"""
MAINS_PUMP, MAINS_OUTLETS = "mains-air-pump", 4
"""The pump that is ordered where nothing is driven, and its outlets: two to six are usual; common practice."""
BAG_KG = 0.1
"""An empty bag; assumed. [kg]"""
BOX_KG = 2.0
"""An empty insulated box; assumed. [kg]"""
HALF_GAS = 0.5
"""Least share of gas in a bag: more water stays warm for longer, where its gas lasts; common practice. [-]"""
MOST_TUB_HEATER_W = 60.0
"""Largest heater for a tub of some 20 l: 300 W would warm it by a kelvin in five minutes; policy. [W]"""


@dataclass(frozen=True, slots=True)
class Spec:
    """One kind and size of container.

    Parameters
    ----------
    kind : str
        ``tub``, ``pail``, ``bag``, ``box`` or ``can``.
    gear : str
        Id in the plan, or the kind where the plan has none.
    volume_l : float
        Full volume. [l]
    there : int
        How many there are.
    bought : bool
        Whether more of it may be ordered.
    insulated : bool
        Whether its walls are insulated.
    """

    kind: str
    gear: str
    volume_l: float
    there: int
    bought: bool
    insulated: bool = False


@dataclass(frozen=True, slots=True)
class Means:
    """What animals, rock and water may travel in.

    Parameters
    ----------
    specs : tuple of Spec
        Containers, the main size of each kind first.
    oxygen : bool
        Whether there is pure oxygen.
    outlets, outlets_a_pump : int
        Outlets of all battery air pumps but a spare one, and of one of them.
    wraps, heaters : int
        Foam wraps for tubs, and heaters small enough for a tub.
    battery_h : float
        How long the battery pump that runs shortest runs. [h]
    units_system : str
        ``metric`` or ``us``, for labels.
    where : callable
        Line of the plan file of a key, for messages.
    lift_kg : float
        What a tub may weigh for those who lift. [kg]
    fill : float
        Greatest fill of a tub or pail.
    spare_share : float
        Spare salt water over the water of a system.
    """

    specs: tuple[Spec, ...]
    oxygen: bool
    outlets: int
    outlets_a_pump: int
    wraps: int
    heaters: int
    battery_h: float
    units_system: str
    where: Callable[[str], str]
    lift_kg: float
    fill: float = 0.75
    spare_share: float = 0.2

    def main(self, kind: str) -> Spec:
        """Give the main size of a kind: the one of which more are ordered."""
        return next(spec for spec in self.specs if spec.kind == kind)

    def of(self, *kinds: str) -> tuple[Spec, ...]:
        """List all sizes of some kinds."""
        return tuple(spec for spec in self.specs if spec.kind in kinds)


def small_heater(item: GearItem) -> bool:
    """Whether a heater may hang in a tub: one that would boil its animals if it stuck may not."""
    return item.kind == "heater" and 0 < item.power_w <= MOST_TUB_HEATER_W


def means_of(plan: Plan) -> Means:
    """Read the containers of a plan, and how heavy a tub may be for those who lift."""
    pumps = [item for item in plan.gear if item.kind == "air-pump"]
    each, policy = max((item.outlets for item in pumps), default=1), Policy(plan.policy)
    return Means(
        specs=tuple(spec for kind in USUAL_L for spec in _sizes(plan.gear, kind)),
        oxygen=any(item.kind == "oxygen" and item.count > 0 for item in plan.gear),
        outlets=max(sum(item.count * item.outlets for item in pumps) - each, 0),
        outlets_a_pump=each,
        wraps=sum(item.count for item in plan.gear if item.kind == "wrap"),
        heaters=sum(item.count for item in plan.gear if small_heater(item)),
        battery_h=min((item.battery_h for item in pumps if item.battery_h), default=BATTERY_H),
        units_system=plan.units,
        where=plan.where,
        lift_kg=tub_limit_kg(plan),
        fill=policy["tub_fill"],
        spare_share=policy["spare_water"],
    )


def _sizes(gear: tuple[GearItem, ...], kind: str) -> tuple[Spec, ...]:
    """List the sizes of a kind, that of which there are most first; the usual one where there is none."""
    items = [item for item in gear if item.kind == kind]
    if not items:
        return (Spec(kind, ordered_id(gear, kind), USUAL_L[kind], 0, bought=True),)
    ordered = sorted(items, key=lambda item: (-item.count, -item.volume_l))
    return tuple(
        Spec(
            kind,
            item.id,
            item.volume_l or USUAL_L[kind],
            item.count if item.owned else 0,
            number == 0,
            item.insulated,
        )
        for number, item in enumerate(ordered)
    )


def boxes_for(means: Means, bags: int) -> int:
    """Insulated boxes for so many bags."""
    return math.ceil(bags / bags_to_a_box(means))


def fewest_to_a_box(means: Means, least: int, most: int) -> int:
    """Bags that stand in the emptiest box, whichever number of bags there will be, shared out evenly.

    Parameters
    ----------
    least, most : int
        Bags that there will be at least, and at most.
    """
    return min(bags // boxes_for(means, bags) for bags in range(least, most + 1))


def bags_to_a_box(means: Means) -> int:
    """Bags that one insulated box holds, and that are not too heavy in it with as much water as a bag may hold."""
    bag_l = means.main("bag").volume_l
    bag_kg = BAG_KG + WATER_KG_L * bag_l * (1 - HALF_GAS)
    most = min(means.main("box").volume_l / bag_l, (means.lift_kg - BOX_KG) / bag_kg)
    return max(math.floor(most), 1)
