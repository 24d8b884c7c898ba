"""The spare heaters, and the pump that mixes beside them: which there are, which hang where, how tanks share them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from moveplan.plan.move import Plan
from moveplan.plan.supplies import ordered_id
from moveplan.quantities.containers.means import small_heater
from moveplan.quantities.course import other_systems
from moveplan.quantities.warming import SPARE_HEATER_W, SPARE_HEATERS

HEATER, PUMP = "heater", "pump"
"""Kinds of gear: heaters, and the small pump that mixes water and pumps it over."""


@dataclass(frozen=True, slots=True)
class Heater:
    """One heater that is no tank's own.

    Parameters
    ----------
    gear : str
        Id in the plan, or ``heater`` where it has none.
    watts : float
        Power. [W]
    """

    gear: str
    watts: float


def fewest_heaters(plan: Plan) -> int:
    """Spare heaters that a move has at least: two, and one for each tank that is filled. [-]."""
    return max(SPARE_HEATERS, len(plan.systems) - len(other_systems(plan)))


def spare_heaters(plan: Plan, more: int = 0) -> tuple[Heater, ...]:
    """List the heaters free for water: the plan's own, and those on the order list; the strongest first.

    Parameters
    ----------
    plan : Plan
        Its gear; heaters small enough for a tub hang in tubs.
    more : int
        Ordered beside the fewest.
    """
    items = [
        item for item in plan.gear if item.kind == "heater" and item.power_w > 0 and not small_heater(item)
    ]
    own = [Heater(item.id, item.power_w) for item in items for _ in range(item.count)]
    missing = max(fewest_heaters(plan) - len(own), 0) + more
    gear = items[0].id if items else ordered_id(plan.gear, HEATER)
    ordered = [Heater(gear, SPARE_HEATER_W)] * missing
    return tuple(sorted((*own, *ordered), key=lambda one: -one.watts))


def mixing_pump(plan: Plan) -> str:
    """Id of the gear of which one pump mixes new water: the plan's own, else one that is ordered."""
    own = [item for item in plan.gear if item.kind == PUMP]
    return max(own, key=lambda item: (item.owned, item.count)).id if own else ordered_id(plan.gear, PUMP)


def hung(heaters: Iterable[Heater], limit_w: float) -> tuple[Heater, ...]:
    """Hang in as many heaters as a circuit carries, the strongest first.

    Parameters
    ----------
    heaters : iterable of Heater
        The strongest first.
    limit_w : float
        What may be drawn. [W]

    >>> [one.watts for one in hung([Heater("large", 300.0)] * 2 + [Heater("small", 100.0)], 450.0)]
    [300.0, 100.0]
    """
    chosen: list[Heater] = []
    for one in heaters:
        if power_w((*chosen, one)) <= limit_w:
            chosen.append(one)
    return tuple(chosen)


def hung_beside(heaters: tuple[Heater, ...], limit_w: float) -> tuple[Heater, ...]:
    """Hang in as many heaters as a circuit carries, the weakest at least: where that is too much, it is said.

    >>> hung_beside((Heater("large", 300.0), Heater("small", 200.0)), 50.0)
    (Heater(gear='small', watts=200.0),)
    """
    return hung(heaters, limit_w) or heaters[-1:]


def power_w(heaters: Iterable[Heater]) -> float:
    """Power of some heaters. [W]."""
    return sum(one.watts for one in heaters)


def by_gear(heaters: Iterable[Heater]) -> tuple[tuple[str, int], ...]:
    """Count heaters by the gear that they are."""
    return tuple(Counter(one.gear for one in heaters).items())
