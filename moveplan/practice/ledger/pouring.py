"""What the tasks of a move pour: entries of the ledger, out of what is there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from moveplan.practice.drafting.draft import Draft
from moveplan.practice.ledger.entries import DRAIN, LEAST_L, PURIFIED, TAP, Entries, filled
from moveplan.quantities.containers.vessels import Use, Vessel
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.keeping.upkeep import Upkeep
from moveplan.quantities.leg.refill import CHANGED_BEFORE
from moveplan.quantities.water.old_water import drawable_l

OPEN_USES = (Use.CORALS, Use.ANIMALS, Use.WAITING, Use.ROCK, Use.MEDIA, Use.OLD_WATER)
"""Containers that are filled from the old tank; bags are filled from what those in them wait in, if they do."""


def late_bags(facts: SystemFacts) -> tuple[Vessel, ...]:
    """List the bags of a system whose animals wait in another container until they are bagged."""
    waiting = {own for vessel in facts.of_use(Use.WAITING) for own in vessel.livestock}
    animals = facts.of_use(Use.ANIMALS)
    return tuple(vessel for vessel in animals if vessel.kind == "bag" and waiting & set(vessel.livestock))


def filled_early(facts: SystemFacts, vessel: Vessel) -> bool:
    """Whether a container is in use from the drawing of clean water on; a box, with the first bag in it."""
    late = {bag.number for bag in late_bags(facts)}
    if vessel.use is not Use.BAGS:
        return vessel.number not in late
    return any(held.id not in late for held in vessel.holds)


def open_vessels(facts: SystemFacts) -> tuple[Vessel, ...]:
    """List the containers of a system that are filled when clean water is drawn."""
    late = late_bags(facts)
    return tuple(vessel for vessel in facts.of_use(*OPEN_USES) if vessel not in late)


def drawn(facts: SystemFacts) -> Entries:
    """Fill containers from the old tank, and with new water where that is too little."""
    old, entries = facts.old.drawn_l, []
    for vessel in sorted(open_vessels(facts), key=lambda one: one.use is Use.CORALS):
        own = min(vessel.water_l, max(old, 0.0))
        old -= own
        entries += [(facts.shift.out_of, vessel.account, own)]
        entries += [(facts.shift.mixed, vessel.account, vessel.water_l - own)]
    return tuple(entries)


def bagged(move: Draft, facts: SystemFacts) -> Entries:
    """Fill bags with the water that the animals have waited in, and pour the rest away."""
    waiting = facts.of_use(Use.WAITING)
    left = {vessel.account: move.balances[vessel.account] for vessel in waiting}
    entries: list[tuple[str, str, float]] = []
    for bag in late_bags(facts):
        own = [one for one in waiting if set(one.livestock) & set(bag.livestock)]
        need = bag.water_l
        for vessel in (*own, *waiting):
            part = min(left[vessel.account], need)
            entries.append((vessel.account, bag.account, part))
            left[vessel.account] -= part
            need -= part
    return (*entries, *((account, DRAIN, litres) for account, litres in left.items()))


def lowered(move: Draft, facts: SystemFacts) -> Entries:
    """Throw away what stands above the depth for catching."""
    there = move.balances[facts.shift.out_of]
    return ((facts.shift.out_of, DRAIN, max(there - facts.old.pool_l, 0.0)),)


def drained(move: Draft, facts: SystemFacts) -> Entries:
    """Throw away what is left in the old tank."""
    return move.balances.emptied((facts.shift.out_of,))


def emptied(move: Draft, vessels: Iterable[Vessel]) -> Entries:
    """Throw away what is in containers."""
    return move.balances.emptied(vessel.account for vessel in vessels)


def refilled(move: Draft, facts: SystemFacts) -> Entries:
    """Fill the tank: kept water first, then new water out of cans, or where it was mixed; damp media give theirs up."""
    into = facts.shift.into
    kept = move.balances.emptied((vessel.account for vessel in facts.of_use(Use.OLD_WATER)), into)
    cans = move.balances.emptied((vessel.account for vessel in facts.of_use(Use.NEW_WATER)), into)
    return (*kept, *(cans or poured_new(facts)), *emptied(move, facts.of_use(Use.MEDIA)))


def poured_new(facts: SystemFacts) -> Entries:
    """Pour new water into a tank from where it was mixed."""
    return ((facts.shift.mixed, facts.shift.into, facts.water.new.likely),)


def carried_over(move: Draft, facts: SystemFacts, vessels: Iterable[Vessel], fresh: str) -> Entries:
    """Carry animals over in water of the old tank, throw it away, and make up for it with water mixed for that.

    Containers that take more than can be drawn are filled up with the mixed water.
    """
    out, entries = facts.shift.out_of, list[tuple[str, str, float]]()
    left = drawable_l(facts.system, move.balances[out])
    for vessel in vessels:
        own = min(vessel.water_l, left)
        left -= own
        entries += [(out, vessel.account, own), (fresh, vessel.account, vessel.water_l - own)]
        entries += [(vessel.account, DRAIN, vessel.water_l), (fresh, out, own)]
    return tuple(entry for entry in entries if entry[2] > 0)


def taken_along(vessels: Iterable[Vessel], source: str) -> Entries:
    """Fill containers of animals that are driven by themselves, and throw their water away on arrival."""
    entries: list[tuple[str, str, float]] = []
    for vessel in (one for one in vessels if one.water_l):
        entries += [(source, vessel.account, vessel.water_l), (vessel.account, DRAIN, vessel.water_l)]
    return tuple(entries)


def canned(facts: SystemFacts) -> Entries:
    """Fill cans with new and spare water."""
    return filled(facts.of_use(Use.NEW_WATER, Use.SPARE_WATER), facts.shift.mixed)


def spare_accounts(facts: SystemFacts) -> tuple[str, ...]:
    """Accounts out of which spare water comes."""
    return (*(vessel.account for vessel in facts.of_use(Use.SPARE_WATER)), facts.shift.mixed)


def exchanged(move: Draft, facts: SystemFacts, vessels: Iterable[Vessel]) -> Entries:
    """Let animals get used to the water of the tank: bail theirs down, then let the tank's run through.

    Where the tank would fall below what may be drawn from it, spare water goes in first.
    """
    into, entries = facts.shift.into, list[tuple[str, str, float]]()
    for vessel in vessels:
        ramp = facts.ramp(vessel)
        if ramp is not None and not ramp.floats:
            entries.append((vessel.account, DRAIN, vessel.water_l - ramp.left_l))
            entries += _run_through(into, vessel.account, ramp.left_l, ramp.poured_l)
    return tuple(_kept_up(move, facts, entries))


def _kept_up(
    move: Draft, facts: SystemFacts, entries: list[tuple[str, str, float]]
) -> Iterator[tuple[str, str, float]]:
    """Pour spare water into a tank before what may be drawn from it is at its end."""
    into, total = facts.shift.into, facts.volumes.total.likely
    left = move.balances[into] - total + drawable_l(facts.rebuilt, total)
    taken = sum(litres for source, _, litres in entries if source == into)
    spare = list(topped_up(move, facts, max(taken - left, 0.0)))
    for source, target, litres in entries:
        while source == into and left < litres - LEAST_L and spare:
            out_of, _, there = spare.pop(0)
            part = min(there, litres)
            spare[:0] = [(out_of, into, there - part)] if there - part > LEAST_L else []
            yield out_of, into, part
            left += part
        left -= litres if source == into else 0.0
        yield source, target, litres


def _run_through(
    source: str, account: str, left_l: float, poured_l: float
) -> Iterator[tuple[str, str, float]]:
    """Change the water of a container for that of a tank, half of what is in it at a time."""
    while poured_l > LEAST_L:
        part = min(poured_l, max(left_l / 2, LEAST_L))
        yield account, DRAIN, part
        yield source, account, part
        poured_l -= part


def changed_on_the_way(move: Draft, numbers: Iterable[str]) -> Entries:
    """Change some of the water of containers at a stop, for spare water that travels along."""
    riding = set(numbers)
    entries: list[tuple[str, str, float]] = []
    left = {one: move.balances[one] for facts in move.facts.systems for one in spare_accounts(facts)}
    for vessel in move.vessels():
        if vessel.number not in riding or not vessel.changed_l:
            continue
        entries.append((vessel.account, DRAIN, vessel.changed_l))
        need = vessel.changed_l
        for account in left:
            part = min(left[account], need)
            if part > LEAST_L:
                entries.append((account, vessel.account, part))
                left[account] -= part
                need -= part
    return tuple(entries)


def topped_up(move: Draft, facts: SystemFacts, litres: float | None = None) -> Entries:
    """Pour spare water into the tank, up to its mark or so much: out of cans, then out of where it was mixed."""
    into = facts.shift.into
    missing = max(facts.volumes.total.likely - move.balances[into], 0.0) if litres is None else litres
    canned = move.balances.taken((vessel.account for vessel in facts.of_use(Use.SPARE_WATER)), into, missing)
    return (*canned, (facts.shift.mixed, into, missing - sum(part for _, _, part in canned)))


def changed(move: Draft, facts: SystemFacts, litres: float, source: str = "") -> Entries:
    """Change some of a tank's water for spare or freshly mixed water."""
    into = facts.shift.into
    fresh = move.balances.taken((source,) if source else spare_accounts(facts), into, litres)
    return ((into, DRAIN, sum(part for _, _, part in fresh)), *fresh)


def left_over(move: Draft, facts: SystemFacts, used: Entries = ()) -> Entries:
    """Throw away what a task leaves of the spare water."""
    taken = {source: part for source, _, part in used}
    rest = ((one, move.balances[one] - taken.get(one, 0.0)) for one in spare_accounts(facts))
    return tuple((one, DRAIN, litres) for one, litres in rest if litres > LEAST_L)


def changes(facts: SystemFacts, litres: float) -> Entries:
    """Change some of a tank's water for what is mixed for it."""
    return ((facts.shift.into, DRAIN, litres), (facts.shift.mixed, facts.shift.into, litres))


def topped(facts: SystemFacts, litres: float, made_l: float | None = None) -> Entries:
    """Replace what has evaporated with purified water: so much of it made for that now, else all."""
    into, made_l = facts.shift.into, litres if made_l is None else made_l
    return ((into, DRAIN, litres), (TAP, PURIFIED, made_l), (PURIFIED, into, litres))


def mixed_batch(facts: SystemFacts, upkeep: Upkeep) -> Entries:
    """Make purified water, fill the spare water of a holding system up for its next changes, and store its top-up."""
    made, mixed = upkeep.batch_purified_l, upkeep.batch_l
    lost = ((PURIFIED, DRAIN, max(made - mixed, 0.0)),)
    return ((TAP, PURIFIED, made + upkeep.batch_topping_l), (PURIFIED, facts.shift.mixed, mixed), *lost)


def purified(move: Draft, litres: float) -> Entries:
    """Make or buy so much of the purified water; its share of flushing and spilling goes down the drain."""
    whole = move.facts.water.purified.likely
    lost = max(whole - move.facts.water.mixed_l, 0.0) * litres / whole if whole else 0.0
    return ((TAP, PURIFIED, litres), (PURIFIED, DRAIN, lost))


def mixed_first(move: Draft) -> Entries:
    """Mix what is poured into tanks, cans and containers on the day, or into tanks that are filled long before."""
    if some_standing(move):
        rows = [(facts, facts.water.new.likely) for facts in move.facts.systems if facts.standing]
    else:
        rows = [(facts, facts.water.new.likely + day_l(facts)) for facts in move.facts.systems]
    return tuple((PURIFIED, facts.shift.mixed, litres) for facts, litres in rows)


def mixed_spare(move: Draft) -> Entries:
    """Mix water for the day afresh, where other water went into a tank long before."""
    rows = ((one, 0.0 if one.standing else one.water.new.likely) for one in move.facts.systems)
    return tuple((PURIFIED, one.shift.mixed, new_l + day_l(one)) for one, new_l in rows)


def day_l(facts: SystemFacts) -> float:
    """Count salt water for the day: spare, and for containers for which the old water is too little. [l]."""
    return facts.spare_l + facts.old.lent_l


def some_standing(move: Draft) -> bool:
    """Whether a tank of the leg is filled long before the animals come: what is for the day is mixed by itself."""
    return any(facts.standing for facts in move.facts.systems)


def change_before_l(facts: SystemFacts) -> float:
    """Water that is changed in a ripened tank before the animals come. [l]."""
    return CHANGED_BEFORE * facts.volumes.total.likely
