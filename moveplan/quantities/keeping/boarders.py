"""Animals that wait at a boarding place: their bags there and back, and whether the place is open and large enough."""

from __future__ import annotations

from moveplan.plan.move import Plan
from moveplan.plan.people import Boarding
from moveplan.plan.systems import System
from moveplan.quantities.containers.choice import pack
from moveplan.quantities.containers.journeys import journeys_of
from moveplan.quantities.containers.means import means_of
from moveplan.quantities.containers.stock import Stock
from moveplan.quantities.containers.travellers import Travellers
from moveplan.quantities.containers.vessels import Vessel
from moveplan.quantities.facts import GroupFacts
from moveplan.quantities.freight.road import drive_of
from moveplan.quantities.keeping.holding import fish_water_l
from moveplan.quantities.leg.numbered import numbered_groups
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.boxes import Surroundings, surroundings_of
from moveplan.quantities.safe_time.metabolism import mass_g
from moveplan.quantities.safe_time.verdicts import judge_of
from moveplan.quantities.trade_groups import CORALS, FISH

Boarders = tuple[tuple[Boarding, tuple[GroupFacts, ...]], ...]
"""Boarding places, each with the groups that wait there."""


def boarders_of(plan: Plan, origin: str) -> Boarders:
    """List boarding places with the groups that wait there.

    Parameters
    ----------
    plan : Plan
        Its animals and boarding places.
    origin : str
        Id of the place from which they are brought.
    """
    rows = ((place, _groups(plan, place, origin)) for place in plan.boarding)
    return tuple((place, groups) for place, groups in rows if groups)


def _groups(plan: Plan, boarding: Boarding, origin: str) -> tuple[GroupFacts, ...]:
    """List the groups that wait at a boarding place, with their containers for the way."""
    policy, means = Policy(plan.policy), means_of(plan)
    groups = tuple(
        Travellers(group, group.traits, staying)
        for group in plan.livestock
        if group.boarded == boarding.id
        and not group.wished
        and (staying := group.count - group.leaves - group.sick) > 0
    )
    if not groups:
        return ()
    drive = drive_of(plan, origin, boarding.place, policy)
    ways = journeys_of(1.0, drive.likely / 60 + 0.5, 1.5, 0.5, 1.3)
    packings = pack(
        groups,
        lambda _: ways,
        _around(plan, boarding, origin, plan.system(groups[0].livestock.system)),
        Stock(means, 2.0),
        judge_of(policy),
    )
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


def _around(plan: Plan, boarding: Boarding, origin: str, system: System) -> Surroundings:
    places = (plan.place(origin), plan.place(boarding.place))
    return surroundings_of(plan, places, system, means_of(plan).battery_h)


def boarding_vessels(plan: Plan, groups: tuple[GroupFacts, ...]) -> tuple[Vessel, ...]:
    """Give the groups of a boarding place their containers for the way.

    Parameters
    ----------
    plan : Plan
        Its gear.
    groups : tuple of GroupFacts
        Who waits there.
    """
    by_system: dict[str, list[GroupFacts]] = {}
    for group in groups:
        by_system.setdefault(group.livestock.system, []).append(group)
    return numbered_groups(by_system, plan, means_of(plan))


def too_much_for(plan: Plan, boarding: Boarding, groups: tuple[GroupFacts, ...]) -> float:
    """Litres that the fish need beyond what a boarding place offers; 0 where it is enough. [l]."""
    need = fish_water_l(tuple((group.livestock, group.count) for group in groups), Policy(plan.policy))
    return max(need.likely - boarding.volume_l, 0.0) if boarding.volume_l else 0.0


def not_taken(boarding: Boarding, groups: tuple[GroupFacts, ...]) -> dict[str, str]:
    """Sort those out whom a boarding place does not take: what each is, by the id of its group."""
    sorts = {group.livestock.id: _sort(group.kind.group) for group in groups}
    return {own: sort for own, sort in sorts.items() if sort not in boarding.takes}


def _sort(group: str) -> str:
    return "corals" if group in CORALS else "fish" if group in FISH else "invertebrates"
