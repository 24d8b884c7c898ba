"""Works out everything about a plan, in the order in which one thing follows from the other."""

from __future__ import annotations

from dataclasses import dataclass, replace

from moveplan.estimate import Estimate
from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.plan.systems import System
from moveplan.quantities.boxes import Surroundings
from moveplan.quantities.cargo import tubs_needed
from moveplan.quantities.containers import pack
from moveplan.quantities.course import Leg, Shift
from moveplan.quantities.durations import (
    CORALS,
    SPARE_HEATERS,
    Handled,
    heaters_w,
    rebuild,
    teardown,
)
from moveplan.quantities.facts import Facts, GroupFacts, SystemFacts
from moveplan.quantities.freight import Trips
from moveplan.quantities.handling import Handling
from moveplan.quantities.lading import gear_needed, trips_of
from moveplan.quantities.legs import plain_leg
from moveplan.quantities.metabolism import mass_g
from moveplan.quantities.policy import Policy
from moveplan.quantities.pouring import water_flow
from moveplan.quantities.remarks import findings, impossible, named
from moveplan.quantities.road import drive_of
from moveplan.quantities.shares import better_shares
from moveplan.quantities.sooner import sooner
from moveplan.quantities.travellers import Means, Travellers, means_of
from moveplan.quantities.tubs import arrange
from moveplan.quantities.volumes import SOAKED_ROCK, masses, volumes
from moveplan.quantities.water import (
    ROOM,
    Water,
    making_of,
    production_time,
    proposed_share,
    summed,
    water_of,
)
from moveplan.science.livestock import kinds


@dataclass(frozen=True, slots=True)
class _Context:
    """What every system's reckoning needs."""

    plan: Plan
    leg: Leg
    policy: Policy
    handling: Handling
    old: Place
    new: Place
    drive: Estimate
    carriers: int
    carers: int
    means: Means


def facts_of(plan: Plan, leg: Leg | None = None) -> Facts:
    """Work out all quantities of one leg of a plan, with as much old water as is worth keeping.

    Parameters
    ----------
    plan : Plan
        With at least one system that moves. [-]
    leg : Leg or None
        What goes over, from where to where; None: everything in one day. [-]
    """
    facts = _facts_of(plan, leg or plain_leg(plan))
    better = better_shares(plan, facts)
    if not better:
        return facts
    shifts = tuple(
        replace(shift, kept=better[shift.before.id]) if shift.before.id in better else shift
        for shift in facts.leg.shifts
    )
    return _facts_of(plan, replace(facts.leg, shifts=shifts))


def _facts_of(plan: Plan, leg: Leg) -> Facts:
    old, new = plan.place(leg.origin), plan.place(leg.destination)
    policy = Policy(plan.policy)
    carriers = max(plan.lifters, 1)
    carers = max(min(sum(person.cares for person in plan.people), 2), 1)
    context = _Context(
        plan,
        leg,
        policy,
        Handling(plan.policy),
        old,
        new,
        drive_of(plan, old.id, new.id, policy),
        carriers,
        carers,
        means_of(plan),
    )
    systems = tuple(_system_facts(context, shift) for shift in leg.shifts)
    water = summed(tuple(facts.water for facts in systems))
    trips = trips_of(plan, leg, systems) if leg.drives else Trips((), 1)
    shorter = sooner(plan, leg, systems, trips)
    return Facts(
        leg,
        old,
        new,
        systems,
        water,
        context.drive,
        _shared_times(context, systems, water),
        trips,
        carriers,
        gear_needed(plan, systems, water),
        named(systems, water, context.drive),
        findings(plan, leg, systems, trips, shorter),
        impossible(plan, leg, systems),
        shorter.hints,
    )


def _system_facts(context: _Context, shift: Shift) -> SystemFacts:
    plan, system, after = context.plan, shift.before, shift.after
    rock_known = plan.provenance(f"systems.{system.id}.rock")
    own = f"systems.{system.id}"
    renewed = f"{own}.new-tank.sump" if after.tank != system.tank else f"{own}.sump"
    water_volumes = volumes(after, rock_known, plan.provenance(renewed))
    before = volumes(system, rock_known, plan.provenance(f"{own}.sump"))
    weights = masses(after, water_volumes)
    travellers = () if context.leg.empty else _travellers(plan, system)
    widths = [
        group.livestock.size_cm / 100
        for group in travellers
        if group.kind.group in CORALS and not group.apart
        for _ in range(group.count)
    ]
    share, why = _share(shift)
    wished = share * before.total.likely
    tubs = arrange(system, widths, wished, context.means.tub_l, SOAKED_ROCK[1], context.means.lift_kg)
    reason = f"{tubs.count} tubs of old water, rock, corals and media; {100 * share:.0f} % wished: {why}"
    kept = 0.0 if shift.standing else min(tubs.kept_l, wished * ROOM, water_volumes.total.likely)
    water = water_of(after, water_volumes.total, kept, reason, making_of(plan))
    heat_w = heaters_w(after.equipment, plan.gear, SPARE_HEATERS)
    groups = tuple((group.livestock, group.kind, group.count) for group in travellers)
    bags = sum(group.count for group in travellers if group.kind.group == "fish")
    what = Handled(
        system,
        after,
        water_volumes,
        weights,
        tubs,
        groups,
        bags,
        heat_w,
        shift.standing,
        shift.carries,
        context.leg.water_there,
    )
    times = _times(context, what)
    around = _surroundings(context, shift, times)
    packings = pack(travellers, CORALS, tubs.coral, around, context.means, context.policy)
    packed = tuple(
        GroupFacts(
            group.livestock,
            group.kind,
            group.count,
            mass_g(group.livestock, group.kind),
            packings[group.livestock.id],
        )
        for group in travellers
    )
    return SystemFacts(
        system,
        water_volumes,
        weights,
        tubs,
        water,
        packed,
        times,
        heat_w,
        what,
        masses(system, before),
        shift,
        share,
        before.total.likely,
    )


def _travellers(plan: Plan, system: System) -> tuple[Travellers, ...]:
    table = kinds()
    return tuple(
        Travellers(group, table[group.kind], staying)
        for group in plan.livestock
        if group.system == system.id
        and not group.wished
        and not group.boarded
        and (staying := group.count - group.leaves - group.sick) > 0
    )


def _share(shift: Shift) -> tuple[float, str]:
    system = shift.before
    if shift.standing:
        return 0.0, "the tank it goes into is filled already"
    if shift.kept is not None:
        return shift.kept
    if system.water_kept is not None:
        return system.water_kept, "as the plan says"
    return proposed_share(system)


def _times(context: _Context, what: Handled) -> dict[str, Estimate]:
    flow = water_flow(context.plan.gear, what.volumes.total.likely)
    hands = max(context.carriers / 2, 1.0)
    times = teardown(what, context.handling, flow, hands, context.carers) | rebuild(
        what, context.handling, flow, hands, context.carers, context.new
    )
    if what.system.old_sand == "keep" or what.rebuilt.sand_kg == 0:
        times.pop("sand-rinse")
    return times


_CLOSED = ("catch", "seal", "corals-in")
"""Work between catching and release in any case."""
_JOINING = ("strip", "rock-in")
"""Work that comes on top where the rock is added to a tank that runs."""
_REBUILDING = ("drain", "sand-out", "tank-off", "tank-on", "sand-in", "rock-in", "fill", "connect", "warm")
"""Work that comes on top where the tank is rebuilt meanwhile."""
_DELAY_H = 2.0
"""A breakdown or a leak that containers should outlast as well; assumed. [h]"""
_STAY_ALLOWANCE = 1.2
"""P90 over likely of the hours between catching and release, for choosing containers; assumed. [-]"""


def _surroundings(context: _Context, shift: Shift, times: dict[str, Estimate]) -> Surroundings:
    handling, carriers, drives = context.handling, context.carriers, context.leg.drives
    places = (context.old, context.new) if drives else ()
    carrying = [handling.carry(16, place, carriers) for place in places]
    work = (*_CLOSED, *(_JOINING if shift.standing else _REBUILDING))
    if context.leg.in_waves:
        work = _CLOSED
    between = [times[name] for name in work] + carrying + [context.drive]
    hours = (sum(part.likely for part in between) + 60 + 60) / 60
    rooms = min(context.old.room_temperature_c, context.new.room_temperature_c)
    air_c = min((vehicle.air_temperature_c for vehicle in context.plan.vehicles), default=15.0)
    battery_h = max((item.battery_h for item in context.plan.gear if item.kind == "air-pump"), default=24.0)
    system = shift.before
    return Surroundings(
        temperature_c=system.temperature_c,
        salinity_psu=system.salinity_psu,
        room_c=rooms,
        vehicle_c=air_c if drives else rooms,
        cold_h=context.drive.high / 60 + 0.5 if drives else 0.0,
        needed_h=_STAY_ALLOWANCE * hours + _DELAY_H,
        battery_h=battery_h or 24.0,
    )


def _shared_times(context: _Context, systems: tuple[SystemFacts, ...], water: Water) -> dict[str, Estimate]:
    containers = sum(tubs_needed(facts.handled, facts.packings) for facts in systems)
    bags = sum(
        packing.count for facts in systems for packing in facts.packings.values() if packing.gear == "bag"
    )
    making = making_of(context.plan)
    times = {
        "wash": context.handling.work("wash", containers),
        "labels": context.handling.work("label", containers + bags),
    }
    if making.rate_l_day > 0:
        times["make-water"] = production_time(water.purified, making)
    return times
