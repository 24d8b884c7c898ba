"""A new tank, from the order to the signed leak test, and the rock that is built and cured for it."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Kind, Timing
from moveplan.plan.systems import NewTank
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, WEEK, hands, usual
from moveplan.practice.ledger.entries import DRAIN, PURIFIED, TAP, Entries, filled
from moveplan.quantities.containers.vessels import SOLD_L, Held, Use, Vessel, empty_kg, sold_for
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.handling import together
from moveplan.quantities.leg.refill import curing_l, curing_salt_kg
from moveplan.quantities.water.pouring import moving_water, water_flow
from moveplan.quantities.water.volumes import brim_l

ROCK_DAYS = 5.0
"""From order to delivery of dry rock, salt and a vat to cure it in; assumed. [day]"""
REPAIR_MIN = 10 * DAY
"""Wished from the end of a leak test to the move: a seam is mended, cures and is tested again; common practice, no
source. [min]"""
DELIVERY = (0.75, 1.0, 1.6)
"""Earliest and latest over likely delivery; assumed. [-]"""


def new_tank_of(move: Draft, facts: SystemFacts) -> NewTank | None:
    """Find the new tank that a system of the plan gets; None: it keeps the old one."""
    return move.plan.system(facts.system.id).new_tank


def add_new_tank(move: Draft, facts: SystemFacts) -> None:
    """Add a new tank for one system, if it gets one.

    Parameters
    ----------
    move : Draft
        In the leg in which the system reaches its new tank.
    """
    tank = new_tank_of(move, facts)
    if tank is None:
        return
    move.phase("new_tank")
    _add_order(move, facts, tank)
    add_test(move, facts, "receive-tank")
    if tank.rock_kg:
        _add_dry_rock(move, facts, tank)
    _link_survey(move, facts)


def _here(move: Draft, facts: SystemFacts) -> dict[str, Any]:
    return {"system": facts, "place": move.final.new.id}


def _words(move: Draft, facts: SystemFacts, tank: NewTank) -> dict[str, object]:
    litres = facts.volumes.total.likely
    return {
        "tank": tank.tank,
        "litres": litres,
        "tank_mass": facts.masses.tank.likely,
        "full_mass": facts.masses.full.likely,
        "new_rock": tank.rock_kg,
        "spot_words": move.phrase("spot-same" if facts.shift.benched else "spot-own"),
    } | move.lift_words(facts)


def _add_order(move: Draft, facts: SystemFacts, tank: NewTank) -> None:
    words = _words(move, facts, tank)
    days = [factor * tank.delivery_days * DAY for factor in DELIVERY]
    move.add(
        "order-tank",
        usual(45, 90, 180, "a drawing, a quote, an order"),
        system=facts,
        crew=move.keeper(),
        words=words,
    )
    basis = f"{tank.delivery_days:g} days from order to delivery, a quarter less to three fifths more"
    move.add("wait-tank", usual(days[0], days[1], days[2], basis), system=facts, kind=Kind.WAIT, words=words)
    move.add(
        "receive-tank",
        usual(30, 60, 120, "unpacking, measuring, looking along every seam"),
        crew=move.tank_crew(facts),
        words=words,
        **_here(move, facts),
    )
    move.chain(*map(facts.task, ("order-tank", "wait-tank", "receive-tank")))


def add_test(move: Draft, facts: SystemFacts, first: str) -> None:
    """Add standing an empty tank up, and its leak test.

    Parameters
    ----------
    move : Draft
        In the leg in which it is filled.
    facts : SystemFacts
        The system whose tank it is.
    first : str
        Key of the task after which it is there.
    """
    move.phase("new_tank")
    words = move.lift_words(facts) | {"stand_apart": False}
    here = _here(move, facts)
    ahead = here | ({"timing": Timing.LATE} if facts.shift.placed or facts.shift.benched else {})
    before = ["bench-tank"] if facts.shift.benched else ["place-tank", "plumb-tank"]
    if facts.shift.benched:
        bench = usual(20, 40, 60, "a flat padded base, checked with a level")
        move.add("bench-tank", bench, crew=move.tank_crew(facts), words=words, **here)
        before += ["glue-pipes"] if facts.rebuilt.sump_l else []
    else:
        move.add("place-tank", facts.times["place"], crew=move.tank_crew(facts), words=words, **here)
    if before[1:]:
        move.add(before[1], facts.times["plumb"], crew=hands(1), **here)
        curing = usual(24 * HOUR, 36 * HOUR, 72 * HOUR, "sealant and pipe cement cure; their labels decide")
        move.add("cure-joints", curing, kind=Kind.WAIT, **here)
        before += ["cure-joints"]
    add_leak_test(move, facts, ahead)
    move.chain(*map(facts.task, (first, *before, "fill-test")))


def add_leak_test(move: Draft, facts: SystemFacts, ahead: dict[str, Any]) -> None:
    """Add filling a tank that stands empty with tap water, and the signature after a day or more.

    Parameters
    ----------
    move : Draft
        In the leg in which it is filled.
    facts : SystemFacts
        The system whose tank it is.
    ahead : dict of str to object
        Where and when.
    """
    rim_l, into = brim_l(facts.rebuilt), facts.shift.into
    flow = water_flow(move.plan.gear, rim_l, move.policy)
    filling = together(move.handling.work("draw-setup", 1), moving_water(rim_l, flow))
    words: dict[str, object] = {"litres": rim_l}
    move.add("fill-test", filling, crew=hands(1), words=words, pours=((TAP, into, rim_l),), **ahead)
    standing = usual(
        24 * HOUR, 48 * HOUR, 72 * HOUR, "a full tank stands at least a day, better two or three"
    )
    move.add("stand-full", standing, kind=Kind.WAIT, **ahead)
    move.add(
        "leak-tested",
        usual(10, 15, 30, "a dry tissue along every seam"),
        kind=Kind.HOLD_POINT,
        crew=hands(1),
        **ahead,
    )
    margin: dict[str, Any] = {"margin_min": REPAIR_MIN} if "timing" in ahead else {}
    move.add("empty-test", filling, crew=hands(1), pours=((into, DRAIN, rim_l),), **ahead, **margin)
    move.chain(*map(facts.task, ("fill-test", "stand-full", "leak-tested", "empty-test")))


def curing_vats(move: Draft, facts: SystemFacts) -> tuple[Vessel, ...]:
    """Give the bins in which new rock cures: bought for it, and large enough for rock and as much water."""
    litres, system, first = curing_l(facts), facts.system.id, 1
    for one in move.facts.systems:
        if one.system.id == system:
            break
        first += sold_for(curing_l(one))[1] if curing_l(one) else 0
    gear, count = sold_for(litres)
    held, volume_l, each_l = (Held("rock"),), SOLD_L[gear], litres / 2 / count
    return tuple(
        Vessel(f"V{first + at}", "vat", gear, Use.ROCK, system, volume_l, each_l, empty_kg(volume_l), held)
        for at in range(count)
    )


def _add_dry_rock(move: Draft, facts: SystemFacts, tank: NewTank) -> None:
    here = _here(move, facts)
    words: dict[str, object] = {
        "new_rock": tank.rock_kg,
        "corals": [
            f"{group.count} × {group.livestock.name}" for group in facts.groups if group.kind.light != "none"
        ],
    }
    vats, litres = curing_vats(move, facts), curing_l(facts) / 2
    words |= {
        "litres": litres,
        "salt": curing_salt_kg(move.plan, facts),
        "vat": vats[0].volume_l,
        "numbers": [one.number for one in vats],
    }
    days = [factor * ROCK_DAYS * DAY for factor in DELIVERY]
    move.add(
        "order-rock", usual(15, 20, 45, "one call, one parcel"), system=facts, crew=move.keeper(), words=words
    )
    move.add(
        "wait-rock",
        usual(days[0], days[1], days[2], f"{ROCK_DAYS:g} days from order to delivery"),
        kind=Kind.WAIT,
        system=facts,
        words=words,
    )
    fresh: Entries = ((TAP, PURIFIED, litres), *filled(vats, PURIFIED))
    rest: Entries = tuple((one.account, DRAIN, one.water_l) for one in vats)
    move.add(
        "start-curing",
        usual(30, 45, 90, "rinsing rock, a dark tub with pump and heater"),
        crew=move.heavers(tank.rock_kg, 1),
        words=words,
        pours=fresh,
        **here,
    )
    move.add(
        "cure-rock",
        usual(4 * WEEK, 5 * WEEK, 8 * WEEK, "dry rock gives off what has died in it for weeks, in the dark"),
        kind=Kind.WAIT,
        words=words,
        **here,
    )
    move.add(
        "test-curing",
        usual(10, 15, 20, "three readings and a water change"),
        crew=hands(1),
        words=words,
        pours=(*rest, *fresh),
        **here,
    )
    building = together(
        move.handling.work("rock-in", tank.rock_kg), usual(20, 40, 90, "trying it out on a sheet")
    )
    move.add("dry-fit", building, crew=move.heavers(tank.rock_kg), words=words, pours=rest, **here)
    move.use(vats, facts.task("start-curing"), facts.task("dry-fit"))
    move.add(
        "cure-mortar",
        usual(12 * HOUR, 24 * HOUR, 48 * HOUR, "rock mortar sets; its label decides"),
        kind=Kind.WAIT,
        **here,
    )
    move.chain(
        *map(
            facts.task,
            ("order-rock", "wait-rock", "start-curing", "cure-rock", "test-curing", "dry-fit", "cure-mortar"),
        )
    )
    move.link(facts.task("empty-test"), facts.task("dry-fit"))
    move.link("agree-plan", facts.task("order-rock"))


def _link_survey(move: Draft, facts: SystemFacts) -> None:
    order = facts.task("order-tank")
    for before in ("wait-permission", "check-new-floor", "check-new-power", "floor-approved"):
        if move.has(before):
            move.link(before, order)
    check = facts.task("check-equipment")
    if move.has(check):
        move.link(check, order)
    if move.has("keys-early"):
        move.link("keys-early", facts.task("receive-tank"))
