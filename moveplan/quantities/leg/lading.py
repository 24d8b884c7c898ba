"""What travels in which vehicle on which trip, and the gear that it takes."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.plan.places import Place
from moveplan.quantities.containers.means import MAINS_OUTLETS, MAINS_PUMP, Means, means_of
from moveplan.quantities.containers.vessels import Numbers, Vessel
from moveplan.quantities.course import Leg
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.freight.freight import LoadItem, Trips, fill_trips
from moveplan.quantities.freight.lifting import aids_of, from_floor_kg, lift_of
from moveplan.quantities.heaters import fewest_heaters
from moveplan.quantities.leg.cargo import (
    BUCKET,
    CYLINDER_L,
    bin_item,
    cylinder_item,
    helpers_item,
    items_of,
    spare_item,
)
from moveplan.quantities.leg.mixing import mixed_for, water_place
from moveplan.quantities.leg.refill import vats_of
from moveplan.quantities.policy import Policy
from moveplan.quantities.warming import ice_bottles
from moveplan.quantities.water.amounts import making_of
from moveplan.times import local_day

SPARE_PUMPS = 1
"""Battery air pumps beside those that are needed; common practice, no source. [-]"""


def trips_of(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> Trips:
    """Share everything that a leg drives out over vehicles and trips.

    Parameters
    ----------
    plan : Plan
        Its vehicles and gear.
    leg : Leg
        With a way to drive.
    systems : tuple of SystemFacts
        What travels, with its containers.
    """
    items = [spare_item(system) for system in leg.spares]
    helping, making = sum(len(facts.helping) for facts in systems), making_of(plan)
    if helping:
        there = water_place(leg, systems) == leg.destination
        hung = len(mixed_for(plan, leg, systems).heaters) if there else 0
        items.append(helpers_item(max(helping - hung, 0), unit=making.rate_l_day > 0 and not there))
    items += [bin_item(volume_l) for _, volume_l in leg.bins]
    items += cylinders_for([vessel for facts in systems for vessel in facts.vessels]) * [cylinder_item()]
    for facts in systems:
        items += items_of(facts.handled, facts.vessels, from_floor_kg(plan, 1))
    taken = {vessel.number for facts in systems for vessel in facts.vessels}
    return fill_trips(
        tuple(_numbered(items, Numbers(plan.gear, plan.labels, taken))), _free_vehicles(plan, leg)
    )


def _numbered(items: Iterable[LoadItem], numbers: Numbers) -> Iterator[LoadItem]:
    """Give buckets of sand a number, so that each has a label as all containers have."""
    for item in items:
        sand = item.name.startswith(BUCKET)
        yield replace(item, number=numbers.take(BUCKET, "", (item.name,))) if sand else item


def _free_vehicles(plan: Plan, leg: Leg) -> tuple[Vehicle, ...]:
    """Pick the vehicles whose hire touches a day of the leg; all of them where none does."""
    days = leg.days
    if not days:
        return plan.vehicles
    first, last = local_day(days[0], plan.zone).start, local_day(days[-1], plan.zone).finish
    free = tuple(
        vehicle
        for vehicle in plan.vehicles
        if (vehicle.hire_from or first) < last and (vehicle.hire_until or last) > first
    )
    return free or plan.vehicles


def gear_needed(
    plan: Plan,
    systems: tuple[SystemFacts, ...],
    places: tuple[Place, ...],
    heaters: int = 0,
) -> tuple[tuple[str, int, int], ...]:
    """Count what is needed of each kind of gear, and what there is.

    Of a kind in several sizes that of which there are most counts: others are only used as far as they are there.

    Parameters
    ----------
    plan : Plan
        Its gear.
    systems : tuple of SystemFacts
        What travels, with its containers.
    places : tuple of Place
        Where it is carried.
    heaters : int
        Heaters that warm new water, and stand by on the day.

    Returns
    -------
    tuple of (str, int, int)
        Kind, how many are needed, how many there are.
    """
    warmers = ("heater", max(heaters, fewest_heaters(plan)), _there(plan, "heater") - means_of(plan).heaters)
    return (
        *gear_of(
            plan,
            [vessel for facts in systems for vessel in facts.vessels],
            driven=places[0].id != places[-1].id,
        ),
        warmers,
        *((gear, count, 0) for gear, count in vats_of(systems).items()),
        *(
            (("ice-bottle", ice, _there(plan, "ice-bottle")),)
            if (ice := ice_of(plan, systems, places[-1]))
            else ()
        ),
        *((kind, count, _there(plan, kind)) for kind, count in _aids(plan, systems, places)),
    )


def gear_of(
    plan: Plan, vessels: Sequence[Vessel], *, driven: bool = True
) -> tuple[tuple[str, int, int], ...]:
    """Count what is needed of each kind of gear for containers that are in use together, and what there is.

    Parameters
    ----------
    plan : Plan
        Its gear.
    vessels : sequence of Vessel
        Of one day, or of one way to a boarding place.
    driven : bool
        Whether they are on the road at all; in one home pumps on the mains do as well as those with a battery.
    """
    means, used = means_of(plan), Counter(vessel.gear for vessel in vessels)

    def main(kind: str, twice: int = 1) -> tuple[str, int, int]:
        spec = means.main(kind)
        return kind, twice * used[spec.gear], spec.there

    return (
        *(main("tub"), main("pail"), main("can"), main("bag", 2), main("box")),
        *_pumps(plan, vessels, means, driven=driven),
        ("tub-heater", sum(vessel.heater_w > 0 for vessel in vessels), means.heaters),
        ("wrap", sum(vessel.wrapped for vessel in vessels), _there(plan, "wrap")),
        *((("oxygen", cylinders, _there(plan, "oxygen")),) if (cylinders := cylinders_for(vessels)) else ()),
    )


def cylinders_for(vessels: Iterable[Vessel]) -> int:
    """Count the cylinders whose oxygen bubbles in containers."""
    return math.ceil(sum(vessel.oxygen_l for vessel in vessels) / CYLINDER_L - 1e-9)


def _there(plan: Plan, kind: str) -> int:
    return sum(item.count for item in plan.gear if item.kind == kind and item.owned)


def _pumps(
    plan: Plan, vessels: Sequence[Vessel], means: Means, *, driven: bool
) -> Iterator[tuple[str, int, int]]:
    """Count air pumps: an outlet for every air stone, most outlets first, and one with a battery to spare."""
    used, left = _outlets_used(plan, "air-pump", sum(vessel.stones for vessel in vessels))
    ordered = -(-left // means.outlets_a_pump) if driven else 0
    yield "air-pump", used + ordered + SPARE_PUMPS, _there(plan, "air-pump")
    if left and not driven:
        walls, left = _outlets_used(plan, MAINS_PUMP, left)
        each = max((item.outlets for item in plan.gear if item.kind == MAINS_PUMP), default=MAINS_OUTLETS)
        yield MAINS_PUMP, walls - (-left // each), _there(plan, MAINS_PUMP)


def _outlets_used(plan: Plan, kind: str, stones: int) -> tuple[int, int]:
    """Count the plan's own pumps of a kind that are used, and the stones that are left without an outlet."""
    pumps, left = 0, stones
    owned = [item for item in plan.gear if item.kind == kind and item.owned]
    for item in sorted(owned, key=lambda one: -one.outlets):
        used = min(item.count, -(-left // item.outlets))
        left = max(left - used * item.outlets, 0)
        pumps += used
    return pumps, left


def ice_of(plan: Plan, systems: tuple[SystemFacts, ...], place: Place) -> int:
    """Count the bottles of ice for tanks that may arrive too warm."""
    policy = Policy(plan.policy)
    return sum(
        ice_bottles(facts.rebuilt, facts.volumes.total.likely, place, facts.handled.arrival, policy)
        for facts in systems
        if facts.handled.arrival
    )


def _aids(
    plan: Plan, systems: tuple[SystemFacts, ...], places: tuple[Place, ...]
) -> tuple[tuple[str, int], ...]:
    """Count the aids for what is lifted of each system, and the systems for which a firm has to come."""
    glass = [[lift_of(plan, kg, places) for kg in facts.lifted_kg] for facts in systems]
    stands = [[lift_of(plan, kg, places) for kg in facts.stands_kg] for facts in systems]
    firm = sum(any(lift.firm for lift in (*one, *other)) for one, other in zip(glass, stands, strict=True))
    aids = aids_of([lift for own in glass for lift in own], [lift for own in stands for lift in own])
    return (*aids, *((("glass-firm", firm),) if firm else ()))
