"""What gear is short of, line by line, and what a plan would say in which nothing of it has to be ordered."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from moveplan.errors import Problem
from moveplan.plan.move import Plan
from moveplan.plan.supplies import GearItem, ordered_id
from moveplan.quantities.containers.means import USUAL_L, small_heater
from moveplan.quantities.containers.offers import SMALL_HEATER_W
from moveplan.quantities.warming import SPARE_HEATER_W
from moveplan.units import show_volume

LENT = {
    "tub": "tub",
    "pail": "pail",
    "can": "can",
    "bag": "bag",
    "box": "box",
    "air-pump": "air-pump",
    "mains-air-pump": "mains-air-pump",
    "tub-heater": "heater",
    "heater": "heater",
    "pump": "pump",
    "hose": "hose",
    "wrap": "wrap",
    "oxygen": "oxygen",
    "lifters": "lifters",
    "straps": "straps",
    "dolly": "dolly",
    "ice-bottle": "ice-bottle",
}
"""Kinds that may be borrowed, and what the plan file calls them; vats and bins are storage."""
WATTS = {"tub-heater": SMALL_HEATER_W, "heater": SPARE_HEATER_W}
"""Power of heaters where the plan has none. [W]"""

Needed = Sequence[tuple[str, int, int]]
"""Kind of gear, how many are needed, how many there are."""
Writes = tuple[tuple[str, str], ...]
"""Keys of the plan file, and what to write there."""


@dataclass(frozen=True, slots=True)
class Short:
    """A kind of gear of which there is too little.

    Parameters
    ----------
    kind : str
        As it is counted; a ``tub-heater`` is a small heater.
    item : GearItem or None
        The plan's own, of which more are ordered; None: the plan says nothing of any.
    needed, there : int
        At one time.
    """

    kind: str
    item: GearItem | None
    needed: int
    there: int

    @property
    def missing(self) -> int:
        """How many are ordered."""
        return self.needed - self.there


def shorts_of(plan: Plan, needed: Needed) -> tuple[Short, ...]:
    """List the kinds of gear of which there is too little.

    Parameters
    ----------
    plan : Plan
        Its gear.
    needed : sequence of (str, int, int)
        Kind, how many are needed, how many there are.
    """
    return tuple(
        Short(kind, _own(plan, kind), most, there)
        for kind, most, there in needed
        if kind in LENT and most > there
    )


def _own(plan: Plan, kind: str) -> GearItem | None:
    """Find the item of a kind of which more would be ordered: that of which there are most, pumps with most outlets."""
    items = [
        item
        for item in plan.gear
        if item.kind == LENT[kind] and (kind not in WATTS or small_heater(item) == (kind == "tub-heater"))
    ]
    return max(items, key=lambda item: (item.outlets, item.count, item.volume_l), default=None)


def said(plan: Plan, shorts: Iterable[Short]) -> tuple[Problem, ...]:
    """Say what is short: a line for each thing of the plan, and one for all of which it says nothing.

    Parameters
    ----------
    plan : Plan
        For its lines.
    """
    all_of_it = tuple(shorts)
    own = tuple(_said_own(plan, one, one.item) for one in all_of_it if one.item)
    unsaid = [one for one in all_of_it if one.item is None]
    if not unsaid:
        return own
    listed = ", ".join(f"{one.missing} × {one.kind.replace('-', ' ')}" for one in unsaid)
    first = _fresh(plan, unsaid[0])
    return (
        *own,
        Problem(
            f"the plan has none of what else the days take: {listed}; all of it is on the order list and on the bill",
            plan.where("gear"),
            f'what is there or can be borrowed is not ordered: write it under gear, such as "{_entry(plan, first)}"',
        ),
    )


def _said_own(plan: Plan, one: Short, item: GearItem) -> Problem:
    key = f"gear.{item.id}.count"
    return Problem(
        f"{item.name}: {one.needed} are needed at one time, {one.there} {'is' if one.there == 1 else 'are'} there; "
        f"{one.missing} short, on the order list and on the bill",
        plan.where(key),
        f"what can be borrowed is not ordered: add it to {key}",
    )


def lent(plan: Plan, shorts: Iterable[Short]) -> tuple[Plan, Writes]:
    """Give the plan in which all that is short is there, and what to write for it.

    Parameters
    ----------
    plan : Plan
        Its gear.
    """
    gear, writes = list(plan.gear), []
    for one in shorts:
        if one.item is None:
            gear.append(_fresh(plan, one))
            writes.append(("gear", _entry(plan, gear[-1])))
            continue
        count = one.item.count + one.missing if one.item.owned else max(one.item.count, one.needed)
        at = next(number for number, item in enumerate(gear) if item.id == one.item.id)
        writes.append((f"gear.{one.item.id}.count", str(count)))
        if not one.item.owned:
            writes.append((f"gear.{one.item.id}.owned", "yes"))
        gear[at] = replace(gear[at], count=count, owned=True)
    return replace(plan, gear=tuple(gear)), tuple(writes)


def _fresh(plan: Plan, one: Short) -> GearItem:
    return GearItem(
        ordered_id(plan.gear, one.kind),
        one.kind,
        LENT[one.kind],
        one.missing,
        volume_l=USUAL_L.get(one.kind, 0.0),
        power_w=WATTS.get(one.kind, 0.0),
    )


def _entry(plan: Plan, item: GearItem) -> str:
    volume = f", volume: {show_volume(item.volume_l, plan.units)}" if item.volume_l else ""
    power = f", power: {item.power_w:.0f} W" if item.power_w else ""
    return f"{{id: {item.id}, kind: {item.kind}, count: {item.count}{volume}{power}}}"
