"""How much old water to keep: what changes with the share, and which share is worth its tubs, trips and hours."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.estimate import Estimate
from moveplan.plan.move import Plan
from moveplan.quantities.containers.means import means_of
from moveplan.quantities.containers.vessels import Use, Vessel
from moveplan.quantities.facts import Facts, SystemFacts
from moveplan.quantities.handling import Handling, together
from moveplan.quantities.leg.lading import gear_needed, trips_of
from moveplan.quantities.leg.numbered import numbered
from moveplan.quantities.leg.refill import refilled
from moveplan.quantities.policy import Policy
from moveplan.quantities.water.amounts import (
    Water,
    making_for,
    making_of,
    production_time,
    proposed_share,
    summed,
)
from moveplan.quantities.water.pouring import pouring, water_flow
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
        Of the water that there is, as it comes out: animals, damp rock and the bottom take theirs first.
    planned : bool
        Whether the plan goes by it.
    water : Water
        Kept, new and spare water, purified water and salt.
    own : float
        Share of old water in what the tank is refilled with.
    nitrate : tuple of (str, float)
        Name of each system, and its nitrate after the move. [mg/l]
    tubs, cans : int
        Tubs that hold old water only, and cans of new and spare water.
    load_kg : float
        What these tubs and cans weigh in the vehicle; 0 where nothing is driven. [kg]
    trips : int
        Trips of the whole move.
    making : Estimate or None
        Time for making the purified water; None where it is bought. [min]
    hands : Estimate
        Drawing, carrying out and in, and pouring. [min]
    gear_needed : tuple of (str, int, int)
        Kind of gear, how many are needed, how many there are.
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
        Its vehicles, gear and unit for purified water.
    facts : Facts
        A leg; without a system that is filled on its day nothing changes with the share.

    Returns
    -------
    tuple of Share
        By share, the planned one among them.
    """
    poured = _poured(facts.systems)
    if not poured or facts.leg.gives_away:
        return ()
    planned = _share(plan, facts, {}, planned=True)
    found = {round(planned.share, 2): planned}
    for share in SHOWN:
        other = _share(plan, facts, {one.system.id: share for one in poured})
        found.setdefault(round(other.share, 2), other)
    return tuple(sorted(found.values(), key=lambda one: one.share))


def _poured(systems: tuple[SystemFacts, ...]) -> tuple[SystemFacts, ...]:
    return tuple(one for one in systems if not one.standing)


def _share(plan: Plan, facts: Facts, shares: Mapping[str, float], *, planned: bool = False) -> Share:
    """Work out what other shares would mean; systems without one stay as they are."""
    systems = _with(plan, facts, shares)
    poured = _poured(systems)
    water = summed(tuple(one.water for one in systems))
    carried = [vessel for one in poured for vessel in one.of_use(*_WATER)]
    making, before = making_of(plan), sum(one.old.there_l for one in poured)
    return Share(
        share=water.kept.likely / before,
        planned=planned,
        water=water,
        own=sum(one.water.kept.likely for one in poured) / sum(one.volumes.total.likely for one in poured),
        nitrate=tuple((one.rebuilt.name, _nitrate_mg_l(one)) for one in poured),
        tubs=sum(vessel.use is Use.OLD_WATER for vessel in carried),
        cans=sum(vessel.use is not Use.OLD_WATER for vessel in carried),
        load_kg=sum(vessel.kg for vessel in carried) if facts.leg.drives else 0.0,
        trips=trips_of(plan, facts.leg, systems).count if facts.leg.drives else 0,
        making=production_time(water.purified, making, Policy(plan.policy)["production_margin"])
        if making.rate_l_day > 0
        else None,
        hands=_hands(plan, facts, poured, carried),
        gear_needed=gear_needed(plan, systems, (facts.old, facts.new), _heaters(facts)),
    )


def _heaters(facts: Facts) -> int:
    """Heaters that the leg needs: the same for every share."""
    return next(needed for kind, needed, _ in facts.gear_needed if kind == "heater")


_WATER = (Use.OLD_WATER, Use.NEW_WATER, Use.SPARE_WATER)


def _with(plan: Plan, facts: Facts, shares: Mapping[str, float]) -> tuple[SystemFacts, ...]:
    """Let systems keep other shares of their old water."""
    if not shares:
        return facts.systems
    means, making = means_of(plan), making_for(plan, facts.leg)
    changed = tuple(
        refilled(one, shares[one.system.id], "", facts.leg, making, means) if one.system.id in shares else one
        for one in facts.systems
    )
    return numbered(changed, plan, means)


def _nitrate_mg_l(facts: SystemFacts) -> float:
    """Nitrate once old and new water are mixed. [mg/l]."""
    return facts.system.nitrate_mg_l * facts.water.kept.likely / facts.volumes.total.likely


def _hands(plan: Plan, facts: Facts, poured: tuple[SystemFacts, ...], carried: list[Vessel]) -> Estimate:
    """Time for drawing, carrying and pouring by the people there are. [min]."""
    handling, parts = Handling(plan.policy), []
    for one in poured:
        flow = water_flow(plan.gear, one.volumes.total.likely, Policy(plan.policy))
        parts += [
            pouring(one.old.drawn_l, one.handled.containers, handling, flow),
            pouring(one.volumes.total.likely, one.tubs.keep, handling, flow, cans=one.handled.cans),
        ]
    if facts.leg.drives:
        cans = sum(vessel.kind == "can" for vessel in carried)
        parts += [
            handling.carry(cans, len(carried) - cans, place, facts.carriers)
            for place in (facts.old, facts.new)
        ]
    return together(*parts)


def better_shares(plan: Plan, facts: Facts) -> Mapping[str, tuple[float, str]]:
    """Find shares that are better than those that nitrate alone asks for.

    The water has to be made in time; then the fewest trips count, then tubs that would have to be got, then nitrate.

    Parameters
    ----------
    plan : Plan
        A share that it names is left alone.
    facts : Facts
        With the shares that nitrate asks for.

    Returns
    -------
    Mapping of str to (float, str)
        By system, the share and why; empty where nitrate has the last word.
    """
    free = tuple(
        one for one in _poured(facts.systems) if one.system.water_kept is None and one.shift.kept is None
    )
    if not free or facts.leg.gives_away:
        return {}
    asked = _share(plan, facts, {})
    if not (_late(plan, facts, asked) or asked.trips > 1 or asked.short):
        return {}
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
