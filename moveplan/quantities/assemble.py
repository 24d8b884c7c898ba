"""Works out everything about a plan, in the order in which one thing follows from the other."""

from __future__ import annotations

from dataclasses import dataclass, replace

from moveplan.errors import Problem
from moveplan.estimate import Estimate
from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.plan.supplies import WaterMaking
from moveplan.plan.systems import System
from moveplan.quantities.boxes import Surroundings
from moveplan.quantities.cargo import CAN_L, can_count, items_of, tubs_needed
from moveplan.quantities.containers import Travellers, means_of, pack
from moveplan.quantities.durations import (
    CORALS,
    SPARE_HEATERS,
    Handled,
    heaters_w,
    rebuild,
    teardown,
    water_flow,
)
from moveplan.quantities.facts import Facts, GroupFacts, SystemFacts
from moveplan.quantities.floors import floor_needs_engineer
from moveplan.quantities.freight import Trips, fill_trips, misfits
from moveplan.quantities.handling import Handling
from moveplan.quantities.metabolism import mass_g
from moveplan.quantities.packing import Packing
from moveplan.quantities.policy import Policy
from moveplan.quantities.road import drive_of
from moveplan.quantities.tubs import arrange, tub_volume_l
from moveplan.quantities.volumes import SOAKED_ROCK, masses, volumes
from moveplan.quantities.water import Water, production_time, proposed_share, summed, water_of
from moveplan.science.livestock import kinds

NO_MAKING = WaterMaking(0.0, 4.14, 3.5, 15.0, 3.0, 0.0, 0.06)
"""Where the plan makes no water of its own."""


@dataclass(frozen=True, slots=True)
class _Context:
    """What every system's reckoning needs."""

    plan: Plan
    policy: Policy
    handling: Handling
    old: Place
    new: Place
    drive: Estimate
    carriers: int
    carers: int
    tub_l: float


def facts_of(plan: Plan) -> Facts:
    """Work out all quantities of a plan whose systems move between places.

    Parameters
    ----------
    plan : Plan
        With at least one system that moves. [-]
    """
    moving = tuple(system for system in plan.systems if system.role != "holding")
    old, new = plan.place(moving[0].place), plan.place(moving[0].moves_to)
    policy = Policy(plan.policy)
    carriers = max(sum(person.lifts for person in plan.people), 1)
    carers = max(min(sum(person.cares for person in plan.people), 2), 1)
    context = _Context(
        plan,
        policy,
        Handling(plan.policy),
        old,
        new,
        drive_of(plan, old.id, new.id, policy),
        carriers,
        carers,
        tub_volume_l(plan.gear),
    )
    systems = tuple(_system_facts(context, system) for system in moving)
    water = summed(tuple(facts.water for facts in systems))
    trips = _trips(context, systems)
    return Facts(
        old,
        new,
        systems,
        water,
        context.drive,
        _shared_times(context, systems, water),
        trips,
        carriers,
        _gear(context, systems, water),
        _named(context, systems, water),
        _findings(context, systems, trips),
        _impossible(context, systems),
    )


def _system_facts(context: _Context, system: System) -> SystemFacts:
    plan = context.plan
    rebuilt = _rebuilt(system)
    rock_known = plan.provenance(f"systems.{system.id}.rock")
    water_volumes = volumes(rebuilt, rock_known)
    weights = masses(rebuilt, water_volumes)
    travellers = _travellers(plan, system)
    widths = [
        group.livestock.size_cm / 100
        for group in travellers
        if group.kind.group in CORALS and not group.apart
        for _ in range(group.count)
    ]
    share, why = _share(system)
    wished = share * volumes(system, rock_known).total.likely
    tubs = arrange(system, widths, wished, context.tub_l, SOAKED_ROCK[1])
    reason = f"{tubs.count} tubs of old water, rock, corals and media; {share:.0%} wished: {why}"
    water = water_of(
        rebuilt, water_volumes.total, min(tubs.kept_l, wished * 1.2), reason, plan.water_making or NO_MAKING
    )
    heat_w = heaters_w(rebuilt.equipment, plan.gear, SPARE_HEATERS)
    groups = tuple((group.livestock, group.kind, group.count) for group in travellers)
    bags = sum(group.count for group in travellers if group.kind.group == "fish")
    what = Handled(system, rebuilt, water_volumes, weights, tubs, groups, bags, heat_w)
    times = _times(context, what)
    around = _surroundings(context, system, times)
    packings = pack(travellers, CORALS, tubs.coral, around, means_of(plan, context.tub_l), context.policy)
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
    return SystemFacts(system, water_volumes, weights, tubs, water, packed, times, heat_w, what)


def _rebuilt(system: System) -> System:
    new = system.new_tank
    if new is None:
        return system
    return replace(
        system,
        tank=new.tank,
        sump_l=new.sump_l,
        stand_kg=new.stand_kg,
        rock_kg=system.rock_kg + new.rock_kg,
        sand_kg=new.sand_kg or system.sand_kg,
        equipment=new.equipment or system.equipment,
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


def _share(system: System) -> tuple[float, str]:
    if system.water_kept is not None:
        return system.water_kept, "as the plan says"
    return proposed_share(system)


def _times(context: _Context, what: Handled) -> dict[str, Estimate]:
    flow = water_flow(context.plan.gear)
    hands = max(context.carriers / 2, 1.0)
    times = teardown(what, context.handling, flow, hands, context.carers) | rebuild(
        what, context.handling, flow, hands, context.carers, context.new
    )
    if what.system.old_sand == "keep" or what.rebuilt.sand_kg == 0:
        times.pop("sand-rinse")
    return times


_STAY = (
    "catch",
    "seal",
    "drain",
    "sand-out",
    "tank-off",
    "tank-on",
    "sand-in",
    "rock-in",
    "fill",
    "connect",
    "warm",
    "corals-in",
)
"""Work that lies between catching and release."""
_STAY_ALLOWANCE = 1.2
"""P90 over likely of the hours between catching and release, for choosing containers; assumed. [-]"""


def _surroundings(context: _Context, system: System, times: dict[str, Estimate]) -> Surroundings:
    handling, carriers = context.handling, context.carriers
    carrying = [handling.carry(16, place, carriers) for place in (context.old, context.new)]
    between = [times[name] for name in _STAY] + carrying + [context.drive]
    hours = (sum(part.likely for part in between) + 60 + 60) / 60
    air_c = min((vehicle.air_temperature_c for vehicle in context.plan.vehicles), default=15.0)
    battery_h = max((item.battery_h for item in context.plan.gear if item.kind == "air-pump"), default=24.0)
    return Surroundings(
        temperature_c=system.temperature_c,
        salinity_psu=system.salinity_psu,
        room_c=min(context.old.room_temperature_c, context.new.room_temperature_c),
        vehicle_c=air_c,
        cold_h=context.drive.high / 60 + 0.5,
        needed_h=_STAY_ALLOWANCE * hours,
        battery_h=battery_h or 24.0,
    )


def _trips(context: _Context, systems: tuple[SystemFacts, ...]) -> Trips:
    means = means_of(context.plan, context.tub_l)
    per_box = max(int(means.box_l // means.bag_l), 1)
    items = tuple(
        item
        for facts in systems
        for item in items_of(facts.handled, facts.water, _packings(facts), per_box, context.plan.units)
    )
    return fill_trips(items, context.plan.vehicles)


def _packings(facts: SystemFacts) -> dict[str, Packing]:
    return {group.livestock.id: group.packing for group in facts.groups}


def _shared_times(context: _Context, systems: tuple[SystemFacts, ...], water: Water) -> dict[str, Estimate]:
    containers = sum(tubs_needed(facts.handled, _packings(facts)) for facts in systems)
    bags = sum(
        packing.count for facts in systems for packing in _packings(facts).values() if packing.gear == "bag"
    )
    making = context.plan.water_making or NO_MAKING
    times = {
        "wash": context.handling.work("wash", containers),
        "labels": context.handling.work("label", containers + bags),
    }
    if making.rate_l_day > 0:
        times["make-water"] = production_time(water.purified, making)
    return times


def _gear(
    context: _Context, systems: tuple[SystemFacts, ...], water: Water
) -> tuple[tuple[str, int, int], ...]:
    def there(kind: str) -> int:
        return sum(item.count for item in context.plan.gear if item.kind == kind and item.owned)

    packings = [packing for facts in systems for packing in _packings(facts).values()]
    bags = sum(packing.count for packing in packings if packing.gear == "bag")
    tubs = sum(tubs_needed(facts.handled, _packings(facts)) for facts in systems)
    means = means_of(context.plan, context.tub_l)
    boxes = -(-bags // max(int(means.box_l // means.bag_l), 1))
    pumps = 1 + sum(facts.tubs.coral + facts.tubs.media for facts in systems) // 2
    storage = context.plan.water_making.storage_l if context.plan.water_making else 0.0
    return (
        ("tub", tubs, there("tub")),
        ("can", can_count(water), int(storage // CAN_L)),
        ("bag", 2 * bags, there("bag")),
        ("box", boxes, there("box")),
        ("air-pump", max(pumps, 2), there("air-pump")),
        ("heater", SPARE_HEATERS, there("heater")),
    )


def _named(
    context: _Context, systems: tuple[SystemFacts, ...], water: Water
) -> tuple[tuple[str, Estimate], ...]:
    rows: list[tuple[str, Estimate]] = []
    for facts in systems:
        name = facts.system.id
        rows += [
            (f"{name}: water", facts.volumes.total),
            (f"{name}: displaced", facts.volumes.displaced),
            (f"{name}: empty tank", facts.masses.tank),
            (f"{name}: soaked rock", facts.masses.rock_wet),
            (f"{name}: running mass", facts.masses.full),
            (f"{name}: floor pressure", facts.masses.floor),
            (f"{name}: warming", facts.times["warm"]),
        ]
    rows += [
        ("water kept", water.kept),
        ("new water", water.new),
        ("spare water", water.spare),
        ("purified water", water.purified),
        ("salt mix", water.salt),
        ("drive", context.drive),
    ]
    return tuple(rows)


def _findings(context: _Context, systems: tuple[SystemFacts, ...], trips: Trips) -> tuple[Problem, ...]:
    plan = context.plan
    found = [
        Problem(
            f"running, {facts.system.name} weighs {facts.masses.full.likely:.0f} kg "
            f"({facts.masses.floor.likely:.1f} kPa) at {context.new.name}",
            plan.where(f"places.{context.new.id}"),
            "a structural engineer should look at the floor; the plan has a task for it",
        )
        for facts in systems
        if floor_needs_engineer(context.new, facts.masses.full, plan.policy)
    ]
    if trips.count > 1:
        found.append(
            Problem(
                f"the load needs {trips.count} trips",
                plan.where("vehicles"),
                "a vehicle with more payload or floor would save the second drive",
            )
        )
    return tuple(found)


def _impossible(context: _Context, systems: tuple[SystemFacts, ...]) -> tuple[Problem, ...]:
    plan = context.plan
    where = plan.where("vehicles")
    tanks = tuple(
        problem
        for facts in systems
        if facts.system.new_tank is None
        for problem in misfits(facts.system.tank, facts.masses.tank.likely, plan.vehicles, where)
    )
    lifters = sum(person.lifts for person in plan.people)
    if lifters >= 2 or not plan.people:
        return tanks
    heaviest = max(facts.masses.tank.likely for facts in systems)
    alone = Problem(
        f"an empty tank of {heaviest:.0f} kg and tubs of more than 25 kg need two people who lift; "
        f"the plan has {lifters}",
        plan.where("people"),
        'add a second person with "lifts: yes" under people, for the moving day at least',
    )
    return (*tanks, alone)
