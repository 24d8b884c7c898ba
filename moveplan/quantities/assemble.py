"""Works out everything about a plan, in the order in which one thing follows from the other."""

from __future__ import annotations

from dataclasses import replace

from moveplan.estimate import Estimate
from moveplan.plan.move import Plan
from moveplan.quantities.circuits import beside_w
from moveplan.quantities.containers.journeys import Measured
from moveplan.quantities.context import Context, context_of, surroundings_in, times_of
from moveplan.quantities.course import Leg, Shift
from moveplan.quantities.facts import Facts, SystemFacts
from moveplan.quantities.freight.freight import Trips
from moveplan.quantities.heaters import Heater, hung, power_w, spare_heaters
from moveplan.quantities.leg.hauling import within_a_day
from moveplan.quantities.leg.lading import gear_needed, trips_of
from moveplan.quantities.leg.legs import plain_leg
from moveplan.quantities.leg.mixing import mixed_for, water_place
from moveplan.quantities.leg.numbered import CAN_L, numbered
from moveplan.quantities.leg.refill import refilled
from moveplan.quantities.leg.shares import better_shares
from moveplan.quantities.packed import packed_systems
from moveplan.quantities.remarks import findings, impossible, named
from moveplan.quantities.safe_time.boxes import Box
from moveplan.quantities.sooner import sooner
from moveplan.quantities.water.amounts import (
    Water,
    making_for,
    making_of,
    production_time,
    proposed_share,
    summed,
)
from moveplan.quantities.water.arriving import (
    SOLID_L_A_KG,
    Arrival,
    arrivals,
    blended,
    carried,
    stored_c,
    waiting_warm,
    water_journey,
)
from moveplan.quantities.water.supply import Supply, short_of, supply_of


def facts_of(plan: Plan, leg: Leg | None = None, measured: Measured | None = None) -> Facts:
    """Work out all quantities of one leg of a plan, with as much old water as is worth keeping.

    Parameters
    ----------
    plan : Plan
        With at least one system that moves.
    leg : Leg or None
        What goes over, from where to where; None: everything in one day.
    measured : Mapping of str to Journeys, or None
        How long each group is in containers, by its id, where the tasks are known; None: as is usual.

    Raises
    ------
    CannotBeDoneError
        For animals beyond every formula, and for more trips than a day holds.
    """
    leg = leg or plain_leg(plan)
    context = context_of(plan, leg, measured or {})
    bare = packed_systems(context)
    facts = _filled(context, leg, bare)
    better = better_shares(plan, facts)
    if not better:
        return within_a_day(plan, facts)
    shifts = tuple(
        replace(shift, kept=better[shift.before.id]) if shift.before.id in better else shift
        for shift in facts.leg.shifts
    )
    return within_a_day(plan, _filled(context, replace(leg, shifts=shifts), bare))


def _filled(context: Context, leg: Leg, bare: tuple[SystemFacts, ...]) -> Facts:
    """Fill the tanks with as much old water as the shifts of the leg say."""
    plan = context.plan
    filled = tuple(_refilled(context, shift, facts) for shift, facts in zip(leg.shifts, bare, strict=True))
    systems = numbered(filled, plan, context.means)
    water = summed(tuple(facts.water for facts in systems))
    trips = trips_of(plan, leg, systems) if leg.drives else Trips((), 1)
    shorter = sooner(plan, leg, systems, trips)
    mixing = mixed_for(plan, leg, systems)
    first_l = _first_purified_l(systems, water)
    supply = supply_of(plan, leg, first_l, water_place(leg, systems))
    short = short_of(plan, leg, supply, first_l)
    return Facts(
        leg,
        context.old,
        context.new,
        systems,
        water,
        context.drive,
        _shared_times(context, supply, water),
        trips,
        context.carriers,
        gear_needed(plan, systems, (context.old, context.new), len(mixing.heaters)),
        named(systems, water, context.drive),
        (*findings(plan, leg, systems, trips, shorter), *short),
        impossible(plan, leg, systems),
        shorter.hints,
        supply,
    )


def _refilled(context: Context, shift: Shift, packed: SystemFacts) -> SystemFacts:
    share, why = _share(shift)
    facts = replace(packed, shift=shift)
    facts = refilled(facts, share, why, context.leg, making_for(context.plan, context.leg), context.means)
    helping = _helping(context, facts)
    power = facts.heater_w + power_w(helping)
    handled = replace(facts.handled, arrival=_arrival(context, facts), heater_w=power)
    return replace(facts, handled=handled, heater_w=power, helping=helping, times=times_of(context, handled))


def _helping(context: Context, facts: SystemFacts) -> tuple[Heater, ...]:
    """Deal the spare heaters out over the tanks that are filled, as far as the circuit carries them too."""
    shifts = context.leg.shifts
    tubs = sum(group.packing.count * group.packing.box.heater_w for group in facts.groups)
    left = beside_w(context.plan, context.new, tubs) / len(shifts)
    number = next(at for at, shift in enumerate(shifts) if shift.before.id == facts.system.id)
    return hung(spare_heaters(context.plan)[number :: len(shifts)], left)


def _arrival(context: Context, facts: SystemFacts) -> Arrival:
    """Blend what a tank is filled with: kept water in tubs, new water in cans or from beside it, and what is solid."""
    target, tubs, can = facts.rebuilt.temperature_c, facts.tubs, context.means.main("can")
    new_l, there = facts.water.new.likely, waiting_warm(target, context.new)
    if facts.standing:
        return there
    around = surroundings_in(context, facts.shift)
    journey = water_journey(times_of(context, facts.handled), context.drive, drives=context.leg.drives)
    (kept,) = arrivals([Box("tub", tubs.volume_l, max(tubs.keep_l, 1.0), journey, covered=True)], around)
    filled = Box("tub", can.volume_l, min(CAN_L, can.volume_l), journey, covered=True)
    cans = carried(filled, around, stored_c(target, context.old))
    solid_l = SOLID_L_A_KG * (facts.masses.tank.likely + facts.rebuilt.rock_kg + facts.rebuilt.sand_kg)
    low_c, high_c = context.new.room_temperature_c, context.new.room_high_c
    solid = Arrival(low_c, (low_c + high_c) / 2, high_c)
    return blended(
        ((facts.water.kept.likely, kept), (new_l, cans if facts.cans else there), (solid_l, solid))
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


def _first_purified_l(systems: tuple[SystemFacts, ...], water: Water) -> float:
    """Count purified water for what is mixed first: beside a tank filled ahead, the rest is made when due. [l]."""
    ahead = sum(one.water.new.likely for one in systems if one.standing)
    return water.purified.likely * (ahead / water.mixed_l if ahead else 1.0)


def _shared_times(context: Context, supply: Supply, water: Water) -> dict[str, Estimate]:
    if supply.made_l <= 0:
        return {}
    making, margin = making_of(context.plan), context.policy["production_margin"]
    return {"make-water": production_time(_part(water.purified, supply.made_l), making, margin)}


def _part(whole: Estimate, likely: float) -> Estimate:
    """Take a part of something, with the same spread."""
    share = likely / whole.likely
    return (
        whole
        if share == 1.0
        else replace(whole, low=share * whole.low, likely=likely, high=share * whole.high)
    )
