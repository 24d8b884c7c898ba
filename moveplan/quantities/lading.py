"""What travels in which vehicle on which trip, and the gear that it takes."""

from __future__ import annotations

import math

from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle
from moveplan.quantities.cargo import CAN_L, can_count, items_of, spare_item, tubs_needed
from moveplan.quantities.course import Leg
from moveplan.quantities.durations import SPARE_HEATERS
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.freight import Trips, fill_trips
from moveplan.quantities.travellers import means_of
from moveplan.quantities.water import Water
from moveplan.times import local_day


def trips_of(plan: Plan, leg: Leg, systems: tuple[SystemFacts, ...]) -> Trips:
    """Share everything that a leg drives out over vehicles and trips.

    Parameters
    ----------
    plan : Plan
        Its vehicles and gear. [-]
    leg : Leg
        With a way to drive. [-]
    systems : tuple of SystemFacts
        What travels. [-]
    """
    means = means_of(plan)
    per_box = max(int(means.box_l // means.bag_l), 1)
    items = [spare_item(system) for system in leg.spares]
    for facts in systems:
        items += items_of(facts.handled, facts.water, facts.packings, per_box, plan.units)
    return fill_trips(tuple(items), _free_vehicles(plan, leg))


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
    plan: Plan, systems: tuple[SystemFacts, ...], water: Water
) -> tuple[tuple[str, int, int], ...]:
    """Count what is needed of each kind of gear, and what there is.

    Parameters
    ----------
    plan : Plan
        Its gear. [-]
    systems : tuple of SystemFacts
        What travels. [-]
    water : Water
        Of all of them. [-]

    Returns
    -------
    tuple of (str, int, int)
        Kind, how many are needed, how many there are. [-]
    """

    def there(kind: str) -> int:
        return sum(item.count for item in plan.gear if item.kind == kind and item.owned)

    packings = [packing for facts in systems for packing in facts.packings.values()]
    bags = sum(packing.count for packing in packings if packing.gear == "bag")
    tubs = sum(tubs_needed(facts.handled, facts.packings) for facts in systems)
    means = means_of(plan)
    boxes = -(-bags // max(int(means.box_l // means.bag_l), 1))
    storing = sum(can_count(facts.water) for facts in systems if not facts.standing)
    if not storing:
        storing = math.ceil(water.spare.likely / CAN_L - 1e-9)
    pumps = 1 + sum(facts.tubs.coral + facts.tubs.media for facts in systems) // 2
    storage = plan.water_making.storage_l if plan.water_making else 0.0
    return (
        ("tub", tubs, there("tub")),
        ("can", storing, int(storage // CAN_L)),
        ("bag", 2 * bags, there("bag")),
        ("box", boxes, there("box")),
        ("air-pump", max(pumps, 2), there("air-pump")),
        ("heater", SPARE_HEATERS, there("heater")),
        ("wrap", sum(_wraps(facts) for facts in systems), there("wrap")),
    )


def _wraps(facts: SystemFacts) -> int:
    """Count the tubs that have to be wrapped in foam; animals that share a tub share its wrap."""
    count, seen = 0, set[str]()
    for name, packing in facts.packings.items():
        if name not in seen:
            count += packing.count if packing.wrapped else 0
            seen |= {name, *packing.shares_with}
    return count
