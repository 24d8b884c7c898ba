"""Who runs on which: heaters and air outlets given out to containers, each to one at a time."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from moveplan.plan.move import Plan
from moveplan.plan.supplies import GearItem
from moveplan.practice.comfort.whereabouts import Inside, Standing
from moveplan.practice.project import Project
from moveplan.quantities.containers.means import BATTERY_H, MAINS_OUTLETS, MAINS_PUMP, small_heater

MAINS = "mains"
"""What an air pump on the wall is called where containers are aired."""
ORDERED_PUMP, ORDERED_HEATER = "air-pump", "tub-heater"
"""Ids of pumps and heaters that the plan has none of, as they are ordered."""
DAY_MIN = 24 * 60
"""A battery that has been used is full again a day after it was first used. [min]"""


@dataclass(frozen=True, slots=True)
class Aired:
    """An air stone of a container on an outlet.

    Parameters
    ----------
    standing : Standing
        Which use of which container.
    outlet_of : str
        Id of the battery pump, or ``mains``.
    gear : str
        Id of the pump.
    since, until : int
        UTC; a battery that is empty ends it. [min]
    """

    standing: Standing
    outlet_of: str
    gear: str
    since: int
    until: int


class _Slot:
    """One outlet or one heater."""

    def __init__(self, gear: str, lasts_min: int | None = None) -> None:
        self.gear = gear
        self.lasts_min = lasts_min
        self._began = self._until = 0
        self._used = 0

    def free(self, since: int, until: int) -> bool:
        if since < self._until:
            return False
        used = 0 if since >= self._began + DAY_MIN else self._used
        return self.lasts_min is None or not used or used + until - since <= self.lasts_min

    def take(self, since: int, until: int) -> int:
        """Take it, and say when it ends."""
        if since >= self._began + DAY_MIN or not self._used:
            self._began, self._used = since, 0
        if self.lasts_min is not None:
            until = min(until, since + self.lasts_min)
        self._used += until - since
        self._until = until
        return until


def battery_min(item: GearItem | None) -> int:
    """How long one pump runs on its battery. [min]."""
    return round(60 * ((item.battery_h if item else 0.0) or BATTERY_H))


def main_of(plan: Plan, kind: str) -> GearItem | None:
    """Give the item of a kind of which more are ordered: of pumps the one with most outlets, of heaters a large one.

    Parameters
    ----------
    plan : Plan
        Its gear.
    kind : str
        Kind of gear that holds nothing; ``tub-heater`` is a small heater.
    """
    if kind == ORDERED_HEATER:
        return None
    items = [item for item in plan.gear if item.kind == kind and not small_heater(item)]
    return max(items, key=lambda item: item.outlets, default=None)


def to_get(project: Project, kind: str) -> int:
    """How many more of a kind of gear are ordered."""
    return sum(max(needed - there, 0) for name, needed, there in project.gear_needed if name == kind)


def heaters_of(project: Project, standings: Iterable[Standing]) -> dict[int, str]:
    """Give every heated container a small heater: those there first, then those ordered.

    Parameters
    ----------
    project : Project
        Its plan's gear.

    Returns
    -------
    dict of int to str
        Id of the gear by the ``id()`` of the use.
    """
    slots = [
        _Slot(item.id) for item in project.plan.gear if small_heater(item) for _ in range(item.count)
    ] + [_Slot(ORDERED_HEATER) for _ in range(to_get(project, ORDERED_HEATER))]
    found = {}
    for one in sorted(standings, key=lambda one: one.since):
        if one.use.vessel.heater_w > 0:
            slot = _free(slots, one.since, one.until) or _Slot(ORDERED_HEATER)
            slot.take(one.since, one.until)
            found[id(one.use)] = slot.gear
    return found


def aired(project: Project, standings: Iterable[Standing], inside: Inside) -> tuple[Aired, ...]:
    """Give every air stone an outlet: in rooms with power one of a pump on the wall, else one with a battery.

    Air begins with the first animal, and ends where the battery does.

    Parameters
    ----------
    project : Project
        Its plan's gear, and how much more is ordered.
    inside : dict
        When animals are in them.
    """
    walls = _outlets(project, MAINS_PUMP)
    batteries = sorted(_outlets(project, ORDERED_PUMP), key=lambda slot: -(slot.lasts_min or 0))
    begun = sorted(((_first_in(one, inside), one) for one in standings), key=lambda pair: pair[0])
    rows: list[Aired] = []
    for first, one in begun:
        for _ in range(one.use.vessel.stones):
            on_wall = _on_walls(one, first, walls)
            rows += on_wall
            for since, until in _between(first, one.until, on_wall):
                slot = _free(batteries, since, until)
                if slot is not None:
                    rows.append(Aired(one, slot.gear, slot.gear, since, slot.take(since, until)))
    return tuple(sorted(rows, key=lambda row: row.since))


def _on_walls(one: Standing, first: int, walls: list[_Slot]) -> list[Aired]:
    """Take outlets on the wall for the whole time in rooms, or none: who changes over in a room saves nothing."""
    rooms = [(max(leg.since, first), leg.until) for leg in one.stretches if leg.powered and leg.until > first]
    slots = [_free(walls, *room) for room in rooms]
    if None in slots:
        return []
    return [
        Aired(one, MAINS, slot.gear, since, slot.take(since, until))
        for slot, (since, until) in zip(slots, rooms, strict=True)
        if slot is not None
    ]


def _between(first: int, last: int, taken: list[Aired]) -> list[tuple[int, int]]:
    """Give the times that are not on the wall."""
    ends = [first, *(moment for row in taken for moment in (row.since, row.until)), last]
    return [(since, until) for since, until in zip(ends[::2], ends[1::2], strict=True) if since < until]


def _first_in(one: Standing, inside: Inside) -> int:
    """When the first animal of a container goes into it."""
    begun = [inside[key][0] for group in one.use.vessel.livestock if (key := (id(one.use), group)) in inside]
    return min(begun, default=one.filled)


def _outlets(project: Project, kind: str) -> list[_Slot]:
    main, more = main_of(project.plan, kind), to_get(project, kind)
    slots = []
    for item in project.plan.gear:
        if item.kind == kind:
            count = item.count + (more if item is main else 0)
            lasts = battery_min(item) if kind == ORDERED_PUMP else None
            slots += [_Slot(item.id, lasts) for _ in range(count * item.outlets)]
    if main is None:
        lasts = battery_min(None) if kind == ORDERED_PUMP else None
        slots += [_Slot(kind, lasts) for _ in range(more * outlets_ordered(kind))]
    return slots


def outlets_ordered(kind: str) -> int:
    """Count the outlets of a pump that is ordered where the plan has none of its kind."""
    return MAINS_OUTLETS if kind == MAINS_PUMP else 1


def _free(slots: list[_Slot], since: int, until: int) -> _Slot | None:
    return next((slot for slot in slots if slot.free(since, until)), None)
