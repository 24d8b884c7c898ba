"""Ways out of a plan that is not safe: changes of the plan file, each carried out before it is named.

What the circuits lack is written first; then pumps that last, another load space, other containers and oxygen are tried
one upon the other until nothing is unsafe; and, as another way, fewer animals on the road.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from moveplan.changed.change import Change
from moveplan.changed.trials import UNKNOWN, Foreseen, Trials, dangers_of, settled_by, told
from moveplan.errors import Problem, WayOut
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.plan.livestock import Livestock
from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.plan.supplies import GearItem
from moveplan.practice.comfort.power import worst_draws
from moveplan.quantities.circuits import CIRCUIT_SHARE, carries_w
from moveplan.quantities.leg.shortages import Writes
from moveplan.stages.reading import Settings
from moveplan.units import show_temperature

PUMPS_H = (24.0, 48.0)
"""What battery pumps that are borrowed or bought run, and with a second set of cells in them; usual in shops. [h]"""
HEATED_C, COOLED_C = 18.0, 24.0
"""Least of a heated load space, greatest of a cooled one, as a plan is filled in; assumed. [°C]"""
KINDS = ("bag", "tub", "pail")
"""Containers that the keeper may ask for."""


def with_ways_out(outlook: Outlook, settings: Settings, foresee: Foreseen) -> Outlook:
    """Say beside what is wrong the changes of the plan that have been tried and are safe."""
    known = not outlook.verdict.follows and outlook.project.unsafe  # a danger needs no schedule to be known
    if outlook.verdict is not Verdict.UNSAFE and not known:
        return outlook
    trials = Trials(outlook, settings, foresee)
    ways = Ways(trials).ways()
    first, *others = outlook.problems
    if ways:
        first = replace(first, remedy="; or ".join(map(str, ways)), ways=tuple(ways))
    elif trials.tried:
        first = replace(first, remedy=f"{first.remedy}; {none_of(trials)}")
    whole = ways if any(one.tried for one in ways) else []
    return replace(outlook, problems=(first, *(with_own_way(one, trials, whole) for one in others)))


def none_of(trials: Trials) -> str:
    """Say how many changes were tried in vain."""
    count = len(trials.tried)
    return f"{count} {'change' if count == 1 else 'changes'} of the plan tried, and none leaves less that is not safe"


def with_own_way(problem: Problem, trials: Trials, whole: Sequence[WayOut]) -> Problem:
    """Say beside a further problem what ends it: what ends all of them, else the first change that was seen to."""
    if whole:
        ended = WayOut(whole[0].text, "tried: this ends it too", writes=whole[0].writes)
        return replace(problem, remedy=str(ended), ways=(ended,))
    for writes, lines in trials.tried:
        if writes and problem.where and problem.where not in lines and UNKNOWN not in lines:
            left = f"{len(lines)} other {'line is' if len(lines) == 1 else 'lines are'} not safe then"
            ended = WayOut(told(writes), f"tried: this one is safe then; {left}", writes=writes)
            return replace(problem, remedy=str(ended), ways=(ended,))
    return problem


@dataclass(slots=True)
class Ways:
    """Changes of an unsafe plan, tried one upon the other until nothing is unsafe."""

    trials: Trials

    def ways(self) -> list[WayOut]:
        """Find up to two ways out: by other means, and by fewer animals on the way."""
        plan, circuits = self._with_circuits()
        unsafe = self._unsafe_groups(self.trials.outlook.problems)
        found = [
            self._way(plan, circuits, changes)
            for changes in (self._means(unsafe), self._fewer(unsafe))
            if unsafe or circuits
        ]
        ways = [way for way in found if way is not None]
        return list(dict.fromkeys(way for way in ways if way.tried)) or ways[:1]

    def _way(self, plan: Plan, writes: Writes, changes: Iterator[Change]) -> WayOut | None:
        """Take each change that leaves less unsafe than before, until nothing is; not tried: it does not do alone."""
        seen = self.trials.seen(plan, writes) if writes else self.trials.outlook
        best = dangers_of(seen)
        for change in changes if best else ():
            both = tuple(dict.fromkeys(writes + change.writes))
            other = self.trials.seen(change.apply(plan), both)
            dangers = dangers_of(other)
            if dangers < best:
                plan, writes, best, seen = change.apply(plan), both, dangers, other
            if not best:
                break
        if not writes or not isinstance(seen, Outlook) or not seen.schedule.placements:
            return None
        if best:
            left = seen.problems[0].message
            number = len(seen.problems)
            found = f"tried: {number} of the dangers are left: {left}"
            return WayOut(f"not enough by itself: {told(writes)}", found, tried=False, writes=writes)
        done = settled_by(seen)
        return WayOut(told(writes), f"tried: nothing is unsafe then, {done}", writes=writes)

    def _with_circuits(self) -> tuple[Plan, Writes]:
        """Let every circuit that carries too little carry enough."""
        project = self.trials.outlook.project
        enough = {
            draw.place.id: 100 * math.ceil(draw.watts / CIRCUIT_SHARE / 100)
            for draw in worst_draws(project, self.trials.outlook.schedule)
            if (limit := carries_w(draw.place)) is not None and draw.watts > limit
        }
        places = tuple(
            replace(one, circuit_w=float(enough[one.id])) if one.id in enough else one
            for one in project.plan.places
        )
        writes = tuple((f"places.{name}.circuit", f"{watts} W") for name, watts in enough.items())
        return replace(project.plan, places=places), writes

    def _unsafe_groups(self, problems: tuple[Problem, ...]) -> list[Livestock]:
        plan, lines = self.trials.outlook.project.plan, {one.where for one in problems}
        return [one for one in plan.livestock if plan.where(f"livestock.{one.id}") in lines]

    def _means(self, groups: list[Livestock]) -> Iterator[Change]:
        """Give pumps that last, another load space, oxygen, and other containers."""
        plan = self.trials.outlook.project.plan
        for item in plan.gear if groups else ():
            if item.kind == "air-pump":
                yield from (_gear_change(item, hours) for hours in PUMPS_H if 0 < item.battery_h < hours)
        yield from self._load_spaces(groups)
        yield from self.containers(groups)

    def containers(self, groups: list[Livestock]) -> Iterator[Change]:
        """Give oxygen, bags with it, and other containers: to all at once, then to one company after another."""
        bare = not any(item.kind == "oxygen" for item in self.trials.outlook.project.plan.gear)
        bags = _asked(groups, "bag")
        if groups and bare:
            yield _OXYGEN
        if bags and bare:
            yield _together([_OXYGEN, *bags])
        for several in ([groups] if len(groups) > 1 else []) + [[one] for one in groups]:
            for kind in KINDS:
                if changes := _asked(several, kind):
                    yield _together(changes)

    def _load_spaces(self, groups: list[Livestock]) -> Iterator[Change]:
        ended = {
            stop.safe.limited_by
            for route in self.trials.outlook.project.routes
            if route.livestock in {one.id for one in groups}
            for stop in route.stops
            if stop.safe
        }
        plan = self.trials.outlook.project.plan
        for vehicle in plan.vehicles if "temperature" in ended else ():
            if vehicle.air_temperature_c < HEATED_C:
                yield _vehicle_change(vehicle, plan.units, heated=True)
            if vehicle.air_high_c > COOLED_C:
                yield _vehicle_change(vehicle, plan.units, heated=False)

    def _fewer(self, groups: list[Livestock]) -> Iterator[Change]:
        """Let animals wait elsewhere, or half or all of them find a new keeper."""
        for group in groups:
            for place in self.trials.outlook.project.plan.boarding:
                yield _group_change(group, "boarded", place.id)
            staying = group.count - group.leaves - group.sick
            for number in dict.fromkeys((math.ceil(staying / 2), staying)):
                yield _group_change(group, "leaves", str(group.leaves + number))


def _with_oxygen(plan: Plan) -> Plan:
    if any(item.kind == "oxygen" for item in plan.gear):
        return plan
    return replace(plan, gear=(*plan.gear, GearItem("oxygen", "oxygen", "oxygen", 1)))


_OXYGEN = Change((("gear", "{id: oxygen, kind: oxygen, count: 1}"),), _with_oxygen)
"""Pure oxygen over the water of closed bags, and beside the air of open containers."""


def _asked(groups: Sequence[Livestock], kind: str) -> list[Change]:
    """Ask for one kind of container, for those who do not have it yet."""
    return [_group_change(one, "container", kind) for one in groups if one.container != kind]


def _together(changes: Sequence[Change]) -> Change:
    """Make one change of several."""

    def apply(plan: Plan) -> Plan:
        for one in changes:
            plan = one.apply(plan)
        return plan

    return Change(tuple(write for one in changes for write in one.writes), apply)


def _gear_change(item: GearItem, battery_h: float) -> Change:
    def apply(plan: Plan) -> Plan:
        gear = (replace(one, battery_h=battery_h) if one.id == item.id else one for one in plan.gear)
        return replace(plan, gear=tuple(gear))

    return Change(((f"gear.{item.id}.battery", f"{battery_h:.0f} h"),), apply)


def _vehicle_change(vehicle: Vehicle, units: str, *, heated: bool) -> Change:
    """Heat or cool a load space, and let it stand in the shade."""
    if heated:
        other = replace(
            vehicle,
            load_space_air="heated",
            air_temperature_c=HEATED_C,
            air_high_c=max(vehicle.air_high_c, HEATED_C),
        )
        said = {"load-space-air": "heated"}
    else:
        low_c = min(vehicle.air_temperature_c, COOLED_C)
        other = replace(
            vehicle, load_space_air="cooled", air_temperature_c=low_c, air_high_c=COOLED_C, parked="shade"
        )
        said = {"load-space-air": "cooled", "parked": "shade"}
    said["air-temperature"] = show_temperature(other.air_temperature_c, units)
    said["air-temperature-high"] = show_temperature(other.air_high_c, units)

    def apply(plan: Plan) -> Plan:
        return replace(plan, vehicles=tuple(other if one.id == vehicle.id else one for one in plan.vehicles))

    return Change(tuple((f"vehicles.{vehicle.id}.{key}", value) for key, value in said.items()), apply)


def _group_change(group: Livestock, key: str, value: str) -> Change:
    def apply(plan: Plan) -> Plan:
        return replace(
            plan, livestock=tuple(_changed(one) if one.id == group.id else one for one in plan.livestock)
        )

    def _changed(one: Livestock) -> Livestock:
        if key == "leaves":
            return replace(one, leaves=int(value))
        return replace(one, boarded=value) if key == "boarded" else replace(one, container=value)

    return Change(((f"livestock.{group.id}.{key}", value),), apply)
