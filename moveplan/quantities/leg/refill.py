"""What a system is filled with: the old water that is kept, new water, spare water, and what else takes salt water."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from moveplan.estimate import exactly
from moveplan.plan.move import Plan
from moveplan.plan.supplies import WaterMaking
from moveplan.quantities.containers.means import Means
from moveplan.quantities.containers.tubs import Tubs
from moveplan.quantities.containers.vessels import sold_for
from moveplan.quantities.course import Leg
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.leg.numbered import cans_for, companies
from moveplan.quantities.safe_time.gas_hours import CHANGED
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.quantities.water.amounts import making_of, mixed_of, water_of
from moveplan.quantities.water.old_water import OldWater, share_out

CHANGED_BEFORE = 0.3
"""Share of a ripened tank's water that is changed before the animals come: a quarter to a half; common practice. [-]"""
CURING_L_A_KG = 1.5
"""Salt water in which a kilogram of dry rock cures; common practice, no source. [l/kg]"""


ROUNDED = 0.005
"""Shares that differ by less read alike. [-]"""
FIRST_CHANGE = 0.1
"""Share of a tank's water that is changed a week after the move; common practice, no source. [-]"""


def no_old_water(there_l: float) -> OldWater:
    """Leave the water of a system where it is. [l]."""
    return OldWater(there_l, there_l, 0.0, 0.0, 0.0, there_l)


def first_change_l(facts: SystemFacts) -> float:
    """Water of the first change after the move, mixed afresh for it: the spare water is for the day. [l]."""
    return FIRST_CHANGE * facts.volumes.total.likely


def curing_l(facts: SystemFacts) -> float:
    """Salt water in which new rock cures: once, and once again at its change. [l]."""
    new = facts.system.new_tank
    return 2 * CURING_L_A_KG * new.rock_kg if new else 0.0


def vats_of(systems: Iterable[SystemFacts]) -> Counter[str]:
    """Count the bins in which new rock cures, rock and as much water: by what shops sell. [-]."""
    vats = Counter[str]()
    for gear, count in (sold_for(litres) for litres in map(curing_l, systems) if litres):
        vats[gear] += count
    return vats


def curing_water(plan: Plan, facts: SystemFacts) -> tuple[float, float]:
    """Purified water and dry mix for the salt water in which new rock cures, with its change. [l], [kg]."""
    purified, salt = mixed_of(facts.rebuilt, curing_l(facts), making_of(plan))
    return purified.likely, salt.likely


def curing_salt_kg(plan: Plan, facts: SystemFacts) -> float:
    """Dry mix for curing new rock. [kg]."""
    return curing_water(plan, facts)[1]


def _more(facts: SystemFacts, leg: Leg, swapped_l: float) -> Iterator[tuple[str, float]]:
    """List what else takes salt water, so that no litre serves two of it."""
    total_l = facts.volumes.total.likely
    if leg.ripens and facts.standing:
        yield "for the change before the animals come", CHANGED_BEFORE * total_l
    if facts.old.lent_l:
        yield "for containers for which the old water is too little", facts.old.lent_l
    if swapped_l:
        yield "for changes on the way, and for what gets the animals used to the tank", swapped_l


def refilled(
    facts: SystemFacts, share: float, why: str, leg: Leg, making: WaterMaking, means: Means
) -> SystemFacts:
    """Let a system keep a share of its old water, as far as there is so much to be kept.

    Parameters
    ----------
    facts : SystemFacts
        With the containers of its animals chosen.
    share : float
        Of the old water, wished.
    why : str
        Who wishes it.
    making : WaterMaking
        How purified water comes about.
    means : Means
        Cans for new water.
    """
    total, there_l = facts.volumes.total, facts.handled.old.there_l
    sharing = companies(facts.groups)
    animals_l = sum(map(drawn_l, sharing))
    wished_l = 0.0 if facts.standing or leg.gives_away else min(share * there_l, total.likely)
    fish = any(group.kind.group in FISH for group in facts.groups)
    if leg.in_waves or leg.empty:
        old, tubs = no_old_water(there_l), facts.tubs
    else:
        old, tubs = share_out(facts.system, there_l, facts.tubs, animals_l, wished_l, fish=fish)
    basis = _kept_words(tubs, old, animals_l, share, why)
    swapped = 0.0 if leg.empty or leg.gives_away or leg.in_waves else sum(map(_swapped_l, sharing))
    fill = exactly(0.0, "l", "the tank is not filled again") if leg.gives_away else total
    reserve = 0.0 if leg.gives_away or leg.empty else means.spare_share
    spare_l = reserve * total.likely + swapped
    more = tuple(_more(replace(facts, old=old), leg, swapped))
    water = water_of(facts.rebuilt, fill, tubs.kept_l, basis, making, more, reserve)
    opened = [several[0].packing.waiting or several[0].packing for several in sharing]
    cans = cans_for(means.main("can"), water.new.likely) if facts.cans else 0
    handled = replace(
        facts.handled,
        old=old,
        containers=tubs.count + sum(packing.count for packing in opened),
        poured=tubs.keep + cans,
        cans=cans,
        bags=sum(group.packing.count for group in facts.groups if group.packing.bagged),
    )
    return replace(facts, tubs=tubs, water=water, handled=handled, share=share, old=old, spare_l=spare_l)


def _kept_words(tubs: Tubs, old: OldWater, animals_l: float, share: float, why: str) -> str:
    """Say how much old water is kept, which share that is, and what keeps it below the share that was wished."""
    comes_out = tubs.kept_l / old.there_l if old.there_l else 0.0
    told = f"{tubs.kept_l:.0f} l of {old.there_l:.0f} l in {tubs.keep} tubs, {100 * comes_out:.0f} %: {why}"
    if share - comes_out < ROUNDED:
        return told
    return (
        f"{told}; {100 * share:.0f} % was the aim, but animals travel in {animals_l:.0f} l, rock and media take "
        f"{tubs.used_l:.0f} l, and {old.pool_l:.0f} l at the bottom are stirred up and thrown away"
    )


def ramped(group: GroupFacts) -> bool:
    """Whether water of the tank runs to a group before it is let go: not into bags, to corals where theirs is off."""
    if group.ramp is None or group.ramp.floats:
        return False
    return group.kind.group not in CORALS or not group.ramp.matched


def _swapped_l(several: tuple[GroupFacts, ...]) -> float:
    """Give the new water that runs through containers: changed on the way, and to get used to the tank. [l]."""
    packing = several[0].packing
    changed = CHANGED * packing.water_l if packing.box.changed else 0.0
    ramp = several[0].ramp if ramped(several[0]) else None
    return packing.count * (changed + (ramp.poured_l if ramp else 0.0))


def drawn_l(several: tuple[GroupFacts, ...]) -> float:
    """Old water that the containers of a company take; bags are filled with what those in them have waited in. [l]."""
    packing = several[0].packing
    if packing.waiting is None:
        return packing.count * packing.water_l
    bags_l = sum(group.packing.count * group.packing.water_l for group in several)
    return max(packing.waiting.count * packing.waiting.water_l, bags_l)
