"""How much old water to keep: what changes with the share, and which share is worth its tubs, trips and hours."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from moveplan.estimate import Estimate
from moveplan.plan.move import Plan
from moveplan.quantities.cargo import CAN_KG, can_count
from moveplan.quantities.facts import Facts, SystemFacts
from moveplan.quantities.handling import Handling, together
from moveplan.quantities.lading import gear_needed, trips_of
from moveplan.quantities.pouring import drawing, filling, water_flow
from moveplan.quantities.tubs import TUB_EMPTY_SHARE, WATER_KG_L, keeping
from moveplan.quantities.water import (
    ROOM,
    Water,
    making_of,
    production_time,
    proposed_share,
    summed,
    water_of,
)
from moveplan.times import MINUTES_A_DAY, local_day

SHOWN = (0.0, 0.25, 0.5, 0.8)
"""Shares that are shown beside the planned one. [-]"""
TRIED = (0.1, 0.25, 0.4, 0.5, 0.6, 0.8)
"""Shares that are weighed against the one that nitrate asks for. [-]"""
FAR = 0.25
"""Furthest that missing tubs alone may move the share from the one that nitrate asks for; assumed. [-]"""
RESERVE_DAYS = 7
"""Days before the move by which the water should be made; common practice, no source. [day]"""
SOURCE = (
    "nitrate by mass balance, new water without any; water and salt by mass balance with TEOS-10 density; hand work: "
    "common practice, no source"
)


@dataclass(frozen=True, slots=True)
class Share:
    """What follows from keeping one share of the old water.

    Parameters
    ----------
    share : float
        Of the water that there is. [-]
    planned : bool
        Whether the plan goes by it. [-]
    water : Water
        Kept, new and spare water, purified water and salt. [-]
    own : float
        Share of old water in what the tank is refilled with. [-]
    nitrate : tuple of (str, float)
        Name of each system, and its nitrate after the move. [mg/l]
    tubs, cans : int
        Tubs that hold old water only, and cans of new and spare water. [-]
    load_kg : float
        What these tubs and cans weigh in the vehicle; 0 where nothing is driven. [kg]
    trips : int
        Trips of the whole move. [-]
    making : Estimate or None
        Time for making the purified water; None where it is bought. [min]
    hands : Estimate
        Drawing, carrying out and in, and pouring. [min]
    gear_needed : tuple of (str, int, int)
        Kind of gear, how many are needed, how many there are. [-]
    """

    share: float
    planned: bool
    water: Water
    own: float
    nitrate: tuple[tuple[str, float], ...]
    tubs: int
    cans: int
    load_kg: float
    trips: int
    making: Estimate | None
    hands: Estimate
    gear_needed: tuple[tuple[str, int, int], ...]

    @property
    def short(self) -> int:
        """Tubs that would have to be got, where there are some."""
        return sum(
            max(needed - there, 0) for kind, needed, there in self.gear_needed if kind == "tub" and there
        )


def shares_of(plan: Plan, facts: Facts) -> tuple[Share, ...]:
    """Show what changes with the share of old water that is kept.

    Parameters
    ----------
    plan : Plan
        Its vehicles, gear and unit for purified water. [-]
    facts : Facts
        A leg; without a system that is filled on its day nothing changes with the share. [-]

    Returns
    -------
    tuple of Share
        By share, the planned one among them. [-]
    """
    poured = _poured(facts.systems)
    if not poured or facts.leg.gives_away:
        return ()
    planned = _share(plan, facts, {}, planned=True)
    others = [
        _share(plan, facts, {one.system.id: share for one in poured})
        for share in SHOWN
        if round(share - planned.share, 2)
    ]
    return tuple(sorted((planned, *others), key=lambda one: one.share))


def _poured(systems: tuple[SystemFacts, ...]) -> tuple[SystemFacts, ...]:
    return tuple(one for one in systems if not one.standing)


def _share(plan: Plan, facts: Facts, shares: Mapping[str, float], *, planned: bool = False) -> Share:
    """Work out what other shares would mean; systems without one stay as they are."""
    systems = tuple(
        _kept(plan, one, shares[one.system.id]) if one.system.id in shares else one for one in facts.systems
    )
    poured = _poured(systems)
    water = summed(tuple(one.water for one in systems))
    tubs = sum(one.tubs.keep for one in poured)
    cans = sum(can_count(one.water) for one in poured)
    carried = 0 if facts.leg.water_there else cans
    making, before = making_of(plan), sum(one.old_water_l for one in poured)
    return Share(
        share=sum(one.share * one.old_water_l for one in poured) / before,
        planned=planned,
        water=water,
        own=sum(one.water.kept.likely for one in poured) / sum(one.volumes.total.likely for one in poured),
        nitrate=tuple((one.rebuilt.name, _nitrate_mg_l(one)) for one in poured),
        tubs=tubs,
        cans=cans,
        load_kg=_load_kg(poured, carried) if facts.leg.drives else 0.0,
        trips=trips_of(plan, facts.leg, systems).count if facts.leg.drives else 0,
        making=production_time(water.purified, making) if making.rate_l_day > 0 else None,
        hands=_hands(plan, facts, poured, tubs + carried),
        gear_needed=gear_needed(plan, systems, water),
    )


def _kept(plan: Plan, facts: SystemFacts, share: float) -> SystemFacts:
    wished = share * facts.old_water_l
    tubs = keeping(facts.tubs, wished)
    kept_l = min(tubs.kept_l, wished * ROOM, facts.volumes.total.likely)
    water = water_of(facts.rebuilt, facts.volumes.total, kept_l, "", making_of(plan))
    handled = replace(facts.handled, tubs=tubs)
    return replace(facts, tubs=tubs, water=water, handled=handled, share=share)


def _nitrate_mg_l(facts: SystemFacts) -> float:
    """Nitrate once old and new water are mixed. [mg/l]."""
    return facts.system.nitrate_mg_l * facts.water.kept.likely / facts.volumes.total.likely


def _load_kg(poured: tuple[SystemFacts, ...], cans: int) -> float:
    tubs = sum(
        one.tubs.keep * (TUB_EMPTY_SHARE * one.tubs.volume_l + WATER_KG_L * one.tubs.water_l)
        for one in poured
    )
    return tubs + cans * CAN_KG


def _hands(plan: Plan, facts: Facts, poured: tuple[SystemFacts, ...], carried: int) -> Estimate:
    """Time for drawing, carrying and pouring by the people there are. [min]."""
    handling, parts = Handling(plan.policy), []
    for one in poured:
        flow = water_flow(plan.gear, one.volumes.total.likely)
        parts += [
            drawing(one.tubs, handling, flow),
            filling(one.volumes.total.likely, one.tubs, handling, flow),
        ]
    if facts.leg.drives:
        parts += [handling.carry(carried, place, facts.carriers) for place in (facts.old, facts.new)]
    return together(*parts)


def better_shares(plan: Plan, facts: Facts) -> Mapping[str, tuple[float, str]]:
    """Find shares that are better than those that nitrate alone asks for.

    The water has to be made in time; then the fewest trips count, then tubs that would have to be got, then nitrate.

    Parameters
    ----------
    plan : Plan
        A share that it names is left alone. [-]
    facts : Facts
        With the shares that nitrate asks for. [-]

    Returns
    -------
    Mapping of str to (float, str)
        By system, the share and why; empty where nitrate has the last word. [-]
    """
    free = tuple(
        one for one in _poured(facts.systems) if one.system.water_kept is None and one.shift.kept is None
    )
    if not free or facts.leg.gives_away:
        return {}
    asked = _share(plan, facts, {})
    variants = [({}, asked), *((shares, _share(plan, facts, shares)) for shares in _variants(free))]
    shares, best = min(variants, key=lambda one: _weight(plan, facts, one[1], asked))
    reason = _reason(plan, facts, asked, best)
    return {
        one.system.id: (shares[one.system.id], f"{proposed_share(one.system)[1]}, but {reason}")
        for one in free
        if shares and shares[one.system.id] != one.share
    }


def _variants(free: tuple[SystemFacts, ...]) -> list[Mapping[str, float]]:
    """List shares that are worth trying: at most, or at least, so much of each system."""
    return [
        {one.system.id: choose(one.share, share) for one in free} for share in TRIED for choose in (min, max)
    ]


def _weight(plan: Plan, facts: Facts, one: Share, asked: Share) -> tuple[bool, int, bool, int, float]:
    away = round(abs(one.share - asked.share), 6)
    return (_late(plan, facts, one), one.trips, away > FAR, one.short, away)


def _late(plan: Plan, facts: Facts, one: Share) -> bool:
    """Whether the water could not be made before the move, with a week to spare."""
    if one.making is None or not facts.leg.days:
        return False
    ready = local_day(facts.leg.days[0], plan.zone).start - RESERVE_DAYS * MINUTES_A_DAY
    return plan.now + one.making.high > ready


def _reason(plan: Plan, facts: Facts, asked: Share, best: Share) -> str:
    more = "more" if best.share < asked.share else "less"
    if _late(plan, facts, asked) and not _late(plan, facts, best):
        return f"with {more} the new water could not be made in time"
    if best.trips < asked.trips:
        return f"{more} would take {asked.trips} trips in place of {best.trips}"
    missing = asked.short - best.short
    those = "tub that is" if missing == 1 else "tubs that are"
    return f"{more} would take {missing} {those} not there"
