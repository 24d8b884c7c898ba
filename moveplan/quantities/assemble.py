"""Works out everything about a plan, in the order in which one thing follows from the other."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from moveplan.estimate import Estimate
from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.plan.systems import System
from moveplan.quantities.circuits import beside_w, equipment_w
from moveplan.quantities.containers.choice import pack
from moveplan.quantities.containers.company import Journeys
from moveplan.quantities.containers.journeys import Measured, guessed
from moveplan.quantities.containers.means import Means, means_of
from moveplan.quantities.containers.offers import covering_l
from moveplan.quantities.containers.packing import Packing
from moveplan.quantities.containers.stock import Stock
from moveplan.quantities.containers.travellers import Travellers
from moveplan.quantities.containers.tubs import Tubs, arrange
from moveplan.quantities.course import Leg, Shift
from moveplan.quantities.durations import Handled, rebuild, teardown
from moveplan.quantities.facts import Facts, GroupFacts, SystemFacts
from moveplan.quantities.freight.freight import Trips
from moveplan.quantities.freight.road import drive_of
from moveplan.quantities.handling import Handling
from moveplan.quantities.heaters import Heater, hung, power_w, spare_heaters
from moveplan.quantities.leg.hauling import within_a_day
from moveplan.quantities.leg.lading import gear_needed, trips_of
from moveplan.quantities.leg.legs import plain_leg
from moveplan.quantities.leg.mixing import mixed_for, water_place
from moveplan.quantities.leg.numbered import CAN_L, numbered
from moveplan.quantities.leg.refill import no_old_water, refilled
from moveplan.quantities.leg.shares import better_shares
from moveplan.quantities.policy import Policy
from moveplan.quantities.remarks import findings, impossible, named
from moveplan.quantities.safe_time.boxes import Box, Surroundings, surroundings_of
from moveplan.quantities.safe_time.metabolism import mass_g
from moveplan.quantities.safe_time.verdicts import Judge
from moveplan.quantities.sooner import sooner
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.quantities.water.amounts import (
    Water,
    making_for,
    making_of,
    production_time,
    proposed_share,
    summed,
    water_of,
)
from moveplan.quantities.water.arriving import (
    SOLID_L_A_KG,
    Arrival,
    arrivals,
    blended,
    waiting_warm,
    water_journey,
)
from moveplan.quantities.water.pouring import water_flow
from moveplan.quantities.water.ramps import Ramp, ramp_of
from moveplan.quantities.water.supply import Supply, short_of, supply_of
from moveplan.quantities.water.volumes import SOAKED_ROCK, masses, volumes


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
    stock: Stock
    measured: Measured
    judge: Judge


def facts_of(
    plan: Plan, leg: Leg | None = None, measured: Measured | None = None, judge: Judge | None = None
) -> Facts:
    """Work out all quantities of one leg of a plan, with as much old water as is worth keeping.

    Parameters
    ----------
    plan : Plan
        With at least one system that moves.
    leg : Leg or None
        What goes over, from where to where; None: everything in one day.
    measured : Mapping of str to Journeys, or None
        How long each group is in containers, by its id, where the tasks are known; None: as is usual.
    judge : Judge or None
        Remembers containers of an earlier round.

    Raises
    ------
    CannotBeDoneError
        For animals beyond every formula, and for more trips than a day holds.
    """
    judge = judge or Judge(Policy(plan.policy))
    leg = leg or plain_leg(plan)
    context = _context(plan, leg, measured or {}, judge)
    bare = _packed_systems(context)
    facts = _filled(context, leg, bare)
    better = better_shares(plan, facts)
    if not better:
        return within_a_day(plan, facts)
    shifts = tuple(
        replace(shift, kept=better[shift.before.id]) if shift.before.id in better else shift
        for shift in facts.leg.shifts
    )
    return within_a_day(plan, _filled(context, replace(leg, shifts=shifts), bare))


def _packed_systems(context: _Context) -> tuple[SystemFacts, ...]:
    """Choose containers for rock, media and animals, whatever is kept of the old water."""
    tubs = [_tubs(context, shift) for shift in context.leg.shifts]
    context.stock.take(context.means.main("tub").gear, sum(one.count for one in tubs))
    return tuple(
        _packed_system(context, shift, own) for shift, own in zip(context.leg.shifts, tubs, strict=True)
    )


def _filled(context: _Context, leg: Leg, bare: tuple[SystemFacts, ...]) -> Facts:
    """Fill the tanks with as much old water as the shifts of the leg say."""
    plan = context.plan
    filled = tuple(_refilled(context, shift, facts) for shift, facts in zip(leg.shifts, bare, strict=True))
    systems = numbered(filled, plan.gear, context.means)
    water = summed(tuple(facts.water for facts in systems))
    trips = trips_of(plan, leg, systems) if leg.drives else Trips((), 1)
    shorter = sooner(plan, leg, systems, trips)
    mixing = mixed_for(plan, leg, systems)
    supply = supply_of(plan, leg, water.purified.likely, water_place(leg, systems))
    short = short_of(plan, leg, supply, water.purified.likely)
    return Facts(
        leg,
        context.old,
        context.new,
        systems,
        water,
        context.drive,
        _shared_times(context, systems, supply, water),
        trips,
        context.carriers,
        gear_needed(plan, systems, (context.old, context.new), len(mixing.heaters)),
        named(systems, water, context.drive),
        (*findings(plan, leg, systems, trips, shorter), *short),
        impossible(plan, leg, systems),
        shorter.hints,
        supply,
    )


def _context(plan: Plan, leg: Leg, measured: Measured, judge: Judge) -> _Context:
    old, new = plan.place(leg.origin), plan.place(leg.destination)
    policy, handling, means = Policy(plan.policy), Handling(plan.policy), means_of(plan)
    carried = [handling.carry(0, 1, place, 2).likely for place in (old, new)] if leg.drives else [1.0]
    return _Context(
        plan,
        leg,
        policy,
        handling,
        old,
        new,
        drive_of(plan, old.id, new.id, policy),
        max(plan.lifters, 1),
        max(min(sum(person.cares for person in plan.people), 2), 1),
        means,
        Stock(means, sum(carried)),
        measured,
        judge,
    )


def _tubs(context: _Context, shift: Shift) -> Tubs:
    """Tubs for rock and media; none where they stay, or nothing goes over."""
    means = context.means
    return arrange(shift.before, means.main("tub").volume_l, SOAKED_ROCK[1], means.lift_kg, means.fill)


def _packed_system(context: _Context, shift: Shift, tubs: Tubs) -> SystemFacts:
    plan, system, after = context.plan, shift.before, shift.after
    rock_known = plan.provenance(f"systems.{system.id}.rock")
    own = f"systems.{system.id}"
    renewed = f"{own}.new-tank.sump" if after.tank != system.tank else f"{own}.sump"
    water_volumes = volumes(after, rock_known, plan.provenance(renewed))
    before = volumes(system, rock_known, plan.provenance(f"{own}.sump"))
    weights = masses(after, water_volumes)
    travellers = () if context.leg.empty else _travellers(plan, system)
    handled = Handled(
        system,
        after,
        water_volumes,
        weights,
        no_old_water(before.total.likely),
        0,
        0,
        tuple((group.livestock, group.kind, group.count) for group in travellers),
        0,
        equipment_w(after.equipment, "heater"),
        shift.standing,
        shift.carries,
    )
    return SystemFacts(
        system,
        water_volumes,
        weights,
        tubs,
        water_of(
            after, water_volumes.total, 0.0, "", making_for(plan, context.leg), (), context.means.spare_share
        ),
        _packed(context, shift, handled, travellers),
        {},
        handled.heater_w,
        handled,
        masses(system, before),
        shift,
        0.0,
        handled.old,
        cans=context.leg.drives and not shift.standing and not context.leg.water_there,
    )


def _refilled(context: _Context, shift: Shift, packed: SystemFacts) -> SystemFacts:
    share, why = _share(shift)
    facts = replace(packed, shift=shift)
    facts = refilled(facts, share, why, context.leg, making_for(context.plan, context.leg), context.means)
    helping = _helping(context, facts)
    power = facts.heater_w + power_w(helping)
    handled = replace(facts.handled, arrival=_arrival(context, facts), heater_w=power)
    return replace(facts, handled=handled, heater_w=power, helping=helping, times=_times(context, handled))


def _helping(context: _Context, facts: SystemFacts) -> tuple[Heater, ...]:
    """Deal the spare heaters out over the tanks that are filled, as far as the circuit carries them too."""
    shifts = context.leg.shifts
    tubs = sum(group.packing.count * group.packing.box.heater_w for group in facts.groups)
    left = beside_w(context.plan, context.new, tubs) / len(shifts)
    number = next(at for at, shift in enumerate(shifts) if shift.before.id == facts.system.id)
    return hung(spare_heaters(context.plan)[number :: len(shifts)], left)


def _arrival(context: _Context, facts: SystemFacts) -> Arrival:
    """Blend what a tank is filled with: kept water in tubs, new water in cans or from beside it, and what is solid."""
    target, tubs, can = facts.rebuilt.temperature_c, facts.tubs, context.means.main("can")
    new_l, there = facts.water.new.likely, waiting_warm(target)
    if facts.standing:
        return there
    around = _surroundings(context, facts.shift)
    journey = water_journey(_times(context, facts.handled), context.drive, drives=context.leg.drives)
    boxes = [Box("tub", tubs.volume_l, max(tubs.keep_l, 1.0), journey, covered=True)]
    boxes.append(Box("tub", can.volume_l, min(CAN_L, can.volume_l), journey, covered=True))
    kept, cans = arrivals(boxes, around)
    solid_l = SOLID_L_A_KG * (facts.masses.tank.likely + facts.rebuilt.rock_kg + facts.rebuilt.sand_kg)
    low_c, high_c = context.new.room_temperature_c, context.new.room_high_c
    solid = Arrival(low_c, (low_c + high_c) / 2, high_c)
    return blended(
        ((facts.water.kept.likely, kept), (new_l, cans if facts.cans else there), (solid_l, solid))
    )


def _packed(
    context: _Context, shift: Shift, handled: Handled, travellers: tuple[Travellers, ...]
) -> tuple[GroupFacts, ...]:
    """Choose the containers of all animals of a system."""
    usual = guessed(_times(context, handled), context.drive, context.leg, standing=shift.standing)

    def ways(group: Travellers) -> Journeys:
        return context.measured.get(group.livestock.id) or usual(group.kind.group)

    around = _surroundings(context, shift)
    by_id = {group.livestock.id: group for group in travellers}
    longer_h = _longer_h(context.measured, by_id)
    packings = pack(travellers, ways, around, context.stock, context.judge, longer_h)
    arriving = arrivals([packings[own].box for own in by_id], around)
    return tuple(
        GroupFacts(
            group.livestock,
            group.kind,
            group.count,
            mass_g(group.livestock, group.kind),
            packing,
            _ramp(context, shift, arrival, packing, [by_id[one] for one in (own, *packing.shares_with)]),
        )
        for (own, group), arrival in zip(by_id.items(), arriving, strict=True)
        for packing in (packings[own],)
    )


def _longer_h(measured: Measured, own: Collection[str]) -> float:
    """Hours by which the longest stay of any system passes that of these groups: the same hands serve them all."""
    stays = {name: one.whole.total_h for name, one in measured.items()}
    return max(stays.values(), default=0.0) - max((stays[name] for name in own if name in stays), default=0.0)


def _ramp(
    context: _Context, shift: Shift, arrival: Arrival, packing: Packing, company: list[Travellers]
) -> Ramp:
    """Find the way of those who share a container into the tank."""
    fish = [one for one in company if one.kind.group in FISH]
    grams = sum(one.count * mass_g(one.livestock, one.kind).likely for one in fish)
    return ramp_of(
        [one.kind.group for one in company],
        packing.water_l,
        grams / packing.count,
        arrival,
        shift.after.temperature_c,
        (shift.before.salinity_psu, shift.after.salinity_psu),
        context.policy,
        covering_l=covering_l(
            packing.spec.volume_l, max(one.livestock.size_cm for one in company) / 100, swims=bool(fish)
        ),
        bag=packing.bagged,
        corals=company[0].kind.group in CORALS,
    )


def _travellers(plan: Plan, system: System) -> tuple[Travellers, ...]:
    return tuple(
        Travellers(group, group.traits, staying)
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


def _times(context: _Context, what: Handled) -> Mapping[str, Estimate]:
    flow = water_flow(context.plan.gear, what.volumes.total.likely, context.policy)
    times = teardown(what, context.handling, flow, context.carriers, context.carers) | rebuild(
        what, context.handling, flow, context.carriers, context.carers, context.new
    )
    if what.system.old_sand == "keep" or what.rebuilt.sand_kg == 0:
        times.pop("sand-rinse")
    return times


def _surroundings(context: _Context, shift: Shift) -> Surroundings:
    places = (context.old, context.new)
    return surroundings_of(context.plan, places, shift.before, context.means.battery_h)


def _shared_times(
    context: _Context, systems: tuple[SystemFacts, ...], supply: Supply, water: Water
) -> dict[str, Estimate]:
    vessels = [vessel for facts in systems for vessel in facts.vessels]
    washed = sum(vessel.kind != "bag" for vessel in vessels)
    making = making_of(context.plan)
    times = {
        "wash": context.handling.work("wash", washed),
        "labels": context.handling.work("label", len(vessels)),
    }
    if supply.made_l > 0:
        times["make-water"] = production_time(
            _part(water.purified, supply.made_l), making, context.policy["production_margin"]
        )
    return times


def _part(whole: Estimate, likely: float) -> Estimate:
    """Take a part of something, with the same spread."""
    share = likely / whole.likely
    return (
        whole
        if share == 1.0
        else replace(whole, low=share * whole.low, likely=likely, high=share * whole.high)
    )
