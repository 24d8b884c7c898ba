"""Ways out of a plan that is not safe, and of ordering what is short: each is carried out before it is named.

A way out is one or several changes of the plan file. It is made as a value, the plan is composed, scheduled and weighed
with it, and it is named only if nothing is unsafe then.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from moveplan.errors import MoveplanError, Problem
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.plan.livestock import Livestock
from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.plan.supplies import GearItem
from moveplan.practice.courses import course_of
from moveplan.practice.power import worst_draws
from moveplan.practice.project import Project
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.circuits import CIRCUIT_SHARE, carries_w
from moveplan.quantities.containers.vessels import Vessel
from moveplan.quantities.leg.shortages import Writes, lent, shorts_of
from moveplan.reading import Settings, composed
from moveplan.scheduling.state.clock import by

QUICK_S = 0.3
"""Effort for one way out, by the quick engine. [s]"""
MOST_TRIED = 12
"""So many changes of a plan are tried. [-]"""
LOANS_TRIED = 2
"""Containers are chosen anew for what is borrowed, so often. [-]"""
MANY = 1000
"""What the tasks tell weighs more than all that a schedule may. [-]"""
PUMP_H = 24.0
"""What a battery pump that is borrowed or bought runs; usual in shops. [h]"""
HEATED_C, COOLED_C = 18.0, 24.0
"""Least of a heated load space, greatest of a cooled one, as a plan is filled in; assumed. [°C]"""
KINDS = ("bag", "tub", "pail")
"""Containers that the keeper may ask for."""

Foreseen = Callable[[Project, Settings], Outlook]


@dataclass(frozen=True, slots=True)
class Change:
    """One change of the plan file.

    Parameters
    ----------
    writes : tuple of (str, str)
        Keys, and what to write there. [-]
    apply : callable
        The same as a change of the value. [-]
    """

    writes: Writes
    apply: Callable[[Plan], Plan]


def told(writes: Writes) -> str:
    """Say what to write.

    >>> told((("gear.tubs.count", "12"), ("gear", "{id: oxygen, kind: oxygen, count: 1}")))
    'write "gear.tubs.count: 12" and add "{id: oxygen, kind: oxygen, count: 1}" under gear'
    """
    return " and ".join(
        f'add "{value}" under gear' if key == "gear" else f'write "{key}: {value}"' for key, value in writes
    )


def with_ways_out(outlook: Outlook, settings: Settings, foresee: Foreseen) -> Outlook:
    """Say beside what is wrong the changes of the plan that have been tried and are safe.

    Parameters
    ----------
    outlook : Outlook
        What came of the plan. [-]
    settings : Settings
        Seed, runs, and who may interrupt. [-]
    foresee : callable
        Schedules a project, and judges it. [-]
    """
    if outlook.verdict is Verdict.UNSAFE:
        first, *others = outlook.problems
        ways = _Trials(outlook, settings, foresee).ways()
        if ways:
            return replace(outlook, problems=(replace(first, remedy="; or ".join(ways)), *others))
    return outlook


def with_loans(outlook: Outlook, settings: Settings, foresee: Foreseen) -> Outlook:
    """Say beside gear that is ordered what to write where it is borrowed; tried.

    Parameters
    ----------
    outlook : Outlook
        What came of the plan. [-]
    settings : Settings
        Seed, runs, and who may interrupt. [-]
    foresee : callable
        Schedules a project, and judges it. [-]
    """
    project = outlook.project
    shorts = shorts_of(project.plan, project.gear_needed) if outlook.verdict.follows else ()
    if not any(one.item for one in shorts):
        return outlook
    plan, writes = lent(project.plan, shorts)
    if not _same_containers(project, plan):
        trials = _Trials(outlook, settings, foresee)
        for _ in range(LOANS_TRIED):
            seen = trials.seen(plan)
            if not isinstance(seen, Outlook) or not seen.verdict.follows:
                return outlook
            more = shorts_of(plan, seen.project.gear_needed)
            if not more:
                break
            plan, writes = lent(plan, more)[0], _joined(writes, lent(plan, more)[1])
        else:
            return outlook
    return replace(outlook, project=replace(project, findings=_with_loans(project, writes)))


def _joined(before: Writes, after: Writes) -> Writes:
    """Write each count once, the later one; what is added to the gear again is counted in the later entry."""
    keys = {key for key, _ in after}
    entries = {value.partition(",")[0] for key, value in after if key == "gear"}
    kept = (
        (key, value)
        for key, value in before
        if (value.partition(",")[0] not in entries if key == "gear" else key not in keys)
    )
    return (*kept, *after)


def _with_loans(project: Project, writes: Writes) -> tuple[Problem, ...]:
    """Put all that is borrowed beside the first thing that is short: it was tried together."""
    lines = [project.plan.where(key) for key, _ in writes if key.endswith(".count")]
    first = next(one.where for one in project.findings if one.where in lines)
    return tuple(
        replace(
            one,
            remedy=f"or borrow it, with all else that is short: {told(writes)} (tried: nothing is ordered then)",
        )
        if one.where == first
        else one
        for one in project.findings
    )


def _same_containers(project: Project, plan: Plan) -> bool:
    """Whether everything travels as it did when all that is short is there, so that nothing else changes."""
    before = {_alike(use.vessel) for use in project.ledger.containers}
    try:
        legs = [
            facts_of(plan, leg, measured)
            for leg, measured in zip(course_of(plan, project.way).legs, project.measured, strict=True)
        ]
    except MoveplanError:
        return False
    vessels = [vessel for facts in legs for one in facts.systems for vessel in one.vessels]
    return not any(shorts_of(plan, facts.gear_needed) for facts in legs) and {*map(_alike, vessels)} <= before


def _alike(vessel: Vessel) -> Vessel:
    """Leave out the number: that of a thing of the plan begins as its id does."""
    return replace(
        vessel, number="", gear="", holds=tuple(one for one in vessel.holds if one.what != "container")
    )


@dataclass(slots=True)
class _Trials:
    """Changes of an unsafe plan, tried one upon the other until nothing is unsafe."""

    outlook: Outlook
    settings: Settings
    foresee: Foreseen
    left: int = MOST_TRIED

    def ways(self) -> list[str]:
        """Find up to two ways out: by other means, and by fewer animals on the way."""
        plan, circuits = self._with_circuits()
        unsafe = self._unsafe_groups(self.outlook.problems)
        found = [
            self._way(plan, circuits, changes)
            for changes in (self._means(unsafe), self._fewer(unsafe))
            if unsafe or circuits
        ]
        return list(dict.fromkeys(filter(None, found)))

    def _way(self, plan: Plan, writes: Writes, changes: Iterator[Change]) -> str:
        """Take each change that leaves less unsafe than before; say them once nothing is."""
        seen = self.seen(plan) if writes else self.outlook
        best = _dangers(seen)
        for change in changes if best else ():
            other = self.seen(change.apply(plan))
            dangers = _dangers(other)
            if dangers < best:
                plan, writes, best, seen = change.apply(plan), writes + change.writes, dangers, other
            if not best:
                break
        if best or not isinstance(seen, Outlook):
            return ""
        settled = seen.schedule.of(dict(seen.project.network.milestones)["settled"]).finish
        return (
            f"{told(writes)} (tried: nothing is unsafe then, settled {by(seen.project.scheduling, settled)})"
        )

    def seen(self, plan: Plan) -> Outlook | Project | None:
        """Compose a changed plan, and schedule and weigh it where it might be safe; None: nobody waits for more."""
        effort = self.settings.effort
        if self.left <= 0 or (effort.interrupted is not None and effort.interrupted()):
            return None
        self.left -= 1
        quick = replace(effort, seconds=QUICK_S, engine="serial", progress=None, meanwhile=None)
        project = composed(replace(plan, way=self.outlook.project.way), steps=False)
        if project.unsafe or project.impossible:
            return project
        try:
            return self.foresee(project, replace(self.settings, effort=quick))
        except MoveplanError:  # its schedule did not pass the door
            return None

    def _with_circuits(self) -> tuple[Plan, Writes]:
        """Let every circuit that carries too little carry enough."""
        project = self.outlook.project
        enough = {
            draw.place.id: 100 * math.ceil(draw.watts / CIRCUIT_SHARE / 100)
            for draw in worst_draws(project, self.outlook.schedule)
            if (limit := carries_w(draw.place)) is not None and draw.watts > limit
        }
        places = tuple(
            replace(one, circuit_w=float(enough[one.id])) if one.id in enough else one
            for one in project.plan.places
        )
        writes = tuple((f"places.{name}.circuit", f"{watts} W") for name, watts in enough.items())
        return replace(project.plan, places=places), writes

    def _unsafe_groups(self, problems: tuple[Problem, ...]) -> list[Livestock]:
        plan, lines = self.outlook.project.plan, {one.where for one in problems}
        return [one for one in plan.livestock if plan.where(f"livestock.{one.id}") in lines]

    def _means(self, groups: list[Livestock]) -> Iterator[Change]:
        """Give pumps that last, oxygen, another load space, and other containers."""
        plan = self.outlook.project.plan
        for item in plan.gear if groups else ():
            if item.kind == "air-pump" and 0 < item.battery_h < PUMP_H:
                yield _gear_change(item, f"{PUMP_H:.0f} h")
        yield from self._load_spaces(groups)
        for group in groups:
            for kind in KINDS:
                if kind != group.container:
                    yield _group_change(group, "container", kind)
        if groups and not any(item.kind == "oxygen" for item in plan.gear):
            oxygen = GearItem("oxygen", "oxygen", "oxygen", 1)
            entry = (("gear", "{id: oxygen, kind: oxygen, count: 1}"),)
            yield Change(entry, lambda old: replace(old, gear=(*old.gear, oxygen)))

    def _load_spaces(self, groups: list[Livestock]) -> Iterator[Change]:
        ended = {
            stop.safe.limited_by
            for route in self.outlook.project.routes
            if route.livestock in {one.id for one in groups}
            for stop in route.stops
            if stop.safe
        }
        for vehicle in self.outlook.project.plan.vehicles if "temperature" in ended else ():
            if vehicle.air_temperature_c < HEATED_C:
                yield _vehicle_change(vehicle, heated=True)
            if vehicle.air_high_c > COOLED_C:
                yield _vehicle_change(vehicle, heated=False)

    def _fewer(self, groups: list[Livestock]) -> Iterator[Change]:
        """Let animals wait elsewhere, or half or all of them find a new keeper."""
        for group in groups:
            for place in self.outlook.project.plan.boarding:
                yield _group_change(group, "boarded", place.id)
            staying = group.count - group.leaves - group.sick
            for number in dict.fromkeys((math.ceil(staying / 2), staying)):
                yield _group_change(group, "leaves", str(group.leaves + number))


def _dangers(seen: Outlook | Project | None) -> float:
    """Count what is unsafe: first what the tasks tell, then what the schedule does; what cannot be done is worst."""
    project = seen.project if isinstance(seen, Outlook) else seen
    if project is None or project.impossible:
        return math.inf
    if project.unsafe or not isinstance(seen, Outlook):
        return MANY * len(project.unsafe)
    if not seen.schedule.placements:
        return math.inf
    return 0 if seen.verdict.follows else len(seen.problems)


def _gear_change(item: GearItem, battery: str) -> Change:
    def apply(plan: Plan) -> Plan:
        gear = (replace(one, battery_h=PUMP_H) if one.id == item.id else one for one in plan.gear)
        return replace(plan, gear=tuple(gear))

    return Change(((f"gear.{item.id}.battery", battery),), apply)


def _vehicle_change(vehicle: Vehicle, *, heated: bool) -> Change:
    """Heat or cool a load space, and let it stand in the shade."""
    if heated:
        other = replace(
            vehicle,
            load_space_air="heated",
            air_temperature_c=HEATED_C,
            air_high_c=max(vehicle.air_high_c, HEATED_C),
        )
        said = {"load-space-air": "heated", "air-temperature": f"{HEATED_C:.0f} C"}
        said |= {"air-temperature-high": f"{other.air_high_c:g} C"}
    else:
        low_c = min(vehicle.air_temperature_c, COOLED_C)
        other = replace(
            vehicle, load_space_air="cooled", air_temperature_c=low_c, air_high_c=COOLED_C, parked="shade"
        )
        said = {"load-space-air": "cooled", "air-temperature": f"{low_c:g} C"}
        said |= {"air-temperature-high": f"{COOLED_C:.0f} C", "parked": "shade"}

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
