"""The containers of rock, media and animals of each system, whatever is kept of its old water."""

from __future__ import annotations

from collections.abc import Collection

from moveplan.plan.livestock import Livestock
from moveplan.plan.move import Plan
from moveplan.plan.systems import System
from moveplan.quantities.circuits import equipment_w
from moveplan.quantities.containers.choice import pack
from moveplan.quantities.containers.company import Journeys
from moveplan.quantities.containers.journeys import Measured, guessed
from moveplan.quantities.containers.offers import covering_l
from moveplan.quantities.containers.packing import Packing
from moveplan.quantities.containers.travellers import Travellers
from moveplan.quantities.containers.tubs import Tubs, arrange
from moveplan.quantities.context import Context, surroundings_in, times_of
from moveplan.quantities.course import Shift
from moveplan.quantities.durations import Handled
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.leg.refill import no_old_water
from moveplan.quantities.safe_time.metabolism import mass_g
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.quantities.water.amounts import (
    making_for,
    water_of,
)
from moveplan.quantities.water.arriving import (
    Arrival,
    arrivals,
)
from moveplan.quantities.water.ramps import Ramp, ramp_of
from moveplan.quantities.water.volumes import SOAKED_ROCK, masses, volumes


def packed_systems(context: Context) -> tuple[SystemFacts, ...]:
    """Choose containers for rock, media and animals, whatever is kept of the old water."""
    tubs = [_tubs(context, shift) for shift in context.leg.shifts]
    context.stock.take(context.means.main("tub").gear, sum(one.count for one in tubs))
    return tuple(
        _packed_system(context, shift, own) for shift, own in zip(context.leg.shifts, tubs, strict=True)
    )


def _tubs(context: Context, shift: Shift) -> Tubs:
    """Tubs for rock and media; none where they stay, or nothing goes over."""
    means = context.means
    return arrange(shift.before, means.main("tub").volume_l, SOAKED_ROCK[1], means.lift_kg, means.fill)


def _packed_system(context: Context, shift: Shift, tubs: Tubs) -> SystemFacts:
    plan, system, after = context.plan, shift.before, shift.after
    rock_known = plan.provenance(f"systems.{system.id}.rock")
    own = f"systems.{system.id}"
    renewed = f"{own}.new-tank.sump" if after.tank != system.tank else f"{own}.sump"
    water_volumes = volumes(after, rock_known, plan.provenance(renewed))
    before = volumes(system, rock_known, plan.provenance(f"{own}.sump"))
    weights = masses(after, water_volumes)
    travellers = (
        ()
        if context.leg.empty
        else tuple(Travellers(group, group.traits, count) for group, count in staying_of(plan, system))
    )
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


def _packed(
    context: Context, shift: Shift, handled: Handled, travellers: tuple[Travellers, ...]
) -> tuple[GroupFacts, ...]:
    """Choose the containers of all animals of a system."""
    usual = guessed(times_of(context, handled), context.drive, context.leg, standing=shift.standing)

    def ways(group: Travellers) -> Journeys:
        return context.measured.get(group.livestock.id) or usual(group.kind.group)

    around = surroundings_in(context, shift)
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
    context: Context, shift: Shift, arrival: Arrival, packing: Packing, company: list[Travellers]
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


def staying_of(plan: Plan, system: System) -> tuple[tuple[Livestock, int], ...]:
    """List the animals of a system that go on living in it: neither given away nor ill, and how many of each."""
    return tuple(
        (group, staying)
        for group in plan.livestock
        if group.system == system.id
        and not group.wished
        and not group.boarded
        and (staying := group.count - group.leaves - group.sick) > 0
    )
