"""The spare heaters, and the pump that mixes beside them: which there are, which hang where, how tanks share them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from moveplan.plan.move import Plan
from moveplan.plan.supplies import ordered_id
from moveplan.quantities.containers.means import small_heater
from moveplan.quantities.course import other_systems
from moveplan.quantities.warming import SPARE_HEATER_W, SPARE_HEATERS

HEATER, PUMP = "heater", "pump"
"""Kinds of gear: heaters, and the small pump that mixes water and pumps it over."""
COOLED_H = 1 / 3
"""Before a heater leaves the water of one bin for the next it is cold; common practice, no source. [h]"""
MOVED_H = 1.0
"""Somebody has to come for each move: a way that saves one may take so much longer; assumed. [h]"""


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


@dataclass(frozen=True, slots=True)
class Turn:
    """Heaters that hang in one bin, and then in the next.

    Parameters
    ----------
    bins : tuple of str
        Their numbers, in order.
    heaters : tuple of Heater
        What hangs in each of them.
    """

    bins: tuple[str, ...]
    heaters: tuple[Heater, ...]

    @property
    def watts(self) -> float:
        """Their power. [W]."""
        return power_w(self.heaters)


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


def in_turn(
    bins: tuple[tuple[str, float], ...], heaters: tuple[Heater, ...], warm_h: Callable[[float, float], float]
) -> tuple[Turn, ...]:
    """Give heaters to bins; where they are fewer, some take one bin after the other, and each move counts as time.

    Parameters
    ----------
    bins : tuple of (str, float)
        Number of each and its water. [l]
    heaters : tuple of Heater
        The strongest first.
    warm_h : callable
        Hours in which so many litres get warm with so many watts.

    >>> bins = (("M1", 400.0), *((f"T{number}", 100.0) for number in range(1, 5)))
    >>> turns = in_turn(bins, (Heater("large", 300.0),) * 4, lambda litres, watts: 11.6 * litres / watts)
    >>> [(one.bins, one.watts) for one in turns]
    [(('M1',), 600.0), (('T1', 'T3'), 300.0), (('T2', 'T4'), 300.0)]
    """
    ways = [_grouped(bins, heaters, groups) for groups in range(1, min(len(bins), len(heaters)) + 1)]
    volumes = dict(bins)

    def burden(turns: tuple[Turn, ...]) -> float:
        moves = sum((len(one.bins) - 1) * len(one.heaters) for one in turns)
        return turns_h(turns, volumes, warm_h) + MOVED_H * moves

    return min(ways, key=burden, default=())


def turns_h(
    turns: Iterable[Turn], volumes: Mapping[str, float], warm_h: Callable[[float, float], float]
) -> float:
    """Time until the last bin is warm, heaters that move on cold meanwhile. [h]."""

    def hours(turn: Turn) -> float:
        warming = (warm_h(volumes[one], turn.watts) for one in turn.bins)
        return sum(warming) + COOLED_H * (len(turn.bins) - 1)

    return max(map(hours, turns), default=0.0)


def _grouped(
    bins: tuple[tuple[str, float], ...], heaters: tuple[Heater, ...], groups: int
) -> tuple[Turn, ...]:
    """Share bins, the largest first, and then heaters, the strongest first, over so many groups of them."""
    shares: list[list[tuple[str, float]]] = [[] for _ in range(groups)]
    for one in sorted(bins, key=lambda one: -one[1]):
        min(shares, key=_litres).append(one)
    hung: list[list[Heater]] = [[] for _ in range(groups)]
    for heater in heaters:
        least = min(
            range(groups), key=lambda at: (power_w(hung[at]) / _litres(shares[at]), -_litres(shares[at]))
        )
        hung[least].append(heater)
    return tuple(
        Turn(tuple(number for number, _ in share), tuple(own))
        for share, own in zip(shares, hung, strict=True)
    )


def _litres(share: Iterable[tuple[str, float]]) -> float:
    return sum(litres for _, litres in share)


def power_w(heaters: Iterable[Heater]) -> float:
    """Power of some heaters. [W]."""
    return sum(one.watts for one in heaters)


def by_gear(heaters: Iterable[Heater]) -> tuple[tuple[str, int], ...]:
    """Count heaters by the gear that they are."""
    return tuple(Counter(one.gear for one in heaters).items())
