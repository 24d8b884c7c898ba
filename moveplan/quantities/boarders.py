"""Animals that wait at a boarding place: their bags there and back, and whether the place is open and large enough."""

from __future__ import annotations

from moveplan.estimate import Estimate
from moveplan.plan.move import Plan
from moveplan.plan.people import Boarding
from moveplan.quantities.boxes import Surroundings
from moveplan.quantities.containers import pack
from moveplan.quantities.durations import CORALS
from moveplan.quantities.facts import GroupFacts
from moveplan.quantities.holding import fish_water_l
from moveplan.quantities.metabolism import mass_g
from moveplan.quantities.policy import Policy
from moveplan.quantities.road import drive_of
from moveplan.quantities.travellers import Travellers, means_of
from moveplan.science.livestock import kinds

HANDLING_H = 3.0
"""From catching to handing over, the drive left out; assumed. [h]"""


def boarders_of(plan: Plan, boarding: Boarding, origin: str) -> tuple[GroupFacts, ...]:
    """List the groups that wait at a boarding place, with their containers for the way.

    Parameters
    ----------
    plan : Plan
        Its animals and containers. [-]
    boarding : Boarding
        Where they wait. [-]
    origin : str
        Id of the place from which they are brought. [-]
    """
    table, policy = kinds(), Policy(plan.policy)
    groups = tuple(
        Travellers(group, table[group.kind], staying)
        for group in plan.livestock
        if group.boarded == boarding.id
        and not group.wished
        and (staying := group.count - group.leaves - group.sick) > 0
    )
    if not groups:
        return ()
    drive = drive_of(plan, origin, boarding.place, policy)
    packings = pack(groups, CORALS, 1, _around(plan, groups, drive), means_of(plan), policy)
    return tuple(
        GroupFacts(
            group.livestock,
            group.kind,
            group.count,
            mass_g(group.livestock, group.kind),
            packings[group.livestock.id],
        )
        for group in groups
    )


def _around(plan: Plan, groups: tuple[Travellers, ...], drive: Estimate) -> Surroundings:
    system = plan.system(groups[0].livestock.system)
    air_c = min((vehicle.air_temperature_c for vehicle in plan.vehicles), default=15.0)
    battery_h = max((item.battery_h for item in plan.gear if item.kind == "air-pump"), default=24.0)
    return Surroundings(
        temperature_c=system.temperature_c,
        salinity_psu=system.salinity_psu,
        room_c=plan.place(system.place).room_temperature_c,
        vehicle_c=air_c,
        cold_h=drive.high / 60 + 0.5,
        needed_h=1.2 * (drive.likely / 60 + HANDLING_H) + 2.0,
        battery_h=battery_h or 24.0,
    )


def too_much_for(plan: Plan, boarding: Boarding, groups: tuple[GroupFacts, ...]) -> float:
    """Litres that the fish need beyond what a boarding place offers; 0 where it is enough. [l]."""
    need = fish_water_l(tuple((group.livestock, group.count) for group in groups), Policy(plan.policy))
    return max(need.likely - boarding.volume_l, 0.0) if boarding.volume_l else 0.0
