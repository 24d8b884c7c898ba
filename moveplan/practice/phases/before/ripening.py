"""A tank made ready before the animals come: sand, water, warmth, and bacteria until ammonia and nitrite are down."""

from __future__ import annotations

from typing import Any

from moveplan.network.link import Relation
from moveplan.network.task import Kind, Repeat, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, hands, usual
from moveplan.practice.ledger.entries import PURIFIED
from moveplan.practice.ledger.pouring import change_before_l, changed, poured_new, topped
from moveplan.practice.phases.before.mixed_afresh import add_making, overnight_min
from moveplan.practice.phases.before.water import keeping_min, link_pouring
from moveplan.practice.phases.day.rebuild import add_sand
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.handling import together
from moveplan.quantities.keeping.cycle import DOSE_MG_N_L, Cycle, cycle_of
from moveplan.quantities.keeping.gates import nitrogen_gates

TEST_EVERY_DAYS = 3
"""Days between two readings of a cycle; common practice, no source. [day]"""
AGAIN_DAYS = TEST_EVERY_DAYS + 1
"""Days before an animal needs a filter that it is asked for its readings, so that a no can be followed by a second
asking; common practice, no source. [day]"""
SECOND_READING = DAY
"""Between the two readings of ammonia that open a new filter; common practice, no source. [min]"""
CHLORIDE_G = 3.82
"""Ammonium chloride for a gram of nitrogen: 53.49 over 14.007 g/mol; IUPAC atomic weights. [g/g]"""
SEED_SHARE = {"bare": 0.0, "light": 0.02, "rock": 0.25, "rock-and-media": 0.33}
"""Share of the old rock that goes ahead, by way of seeding; common practice, no source. [-]"""


def seeding_of(move: Draft, facts: SystemFacts) -> str:
    """Find what seeds the new tank of a system."""
    if move.facts.leg.empty:
        return "light"
    tank = move.plan.system(facts.system.id).new_tank
    return tank.seeding if tank else "rock"


def cycle_for(move: Draft, facts: SystemFacts) -> Cycle:
    """Follow the cycle of a system's new tank."""
    gates = nitrogen_gates(move.plan, facts.system.id)
    return cycle_of(seeding_of(move, facts), facts.rebuilt.temperature_c, gates)


def add_filling(move: Draft, facts: SystemFacts) -> None:
    """Add filling and starting a tank before the animals come.

    Parameters
    ----------
    move : Draft
        In the leg whose animals it is for.
    facts : SystemFacts
        A system whose tank stands ready when they come.
    """
    move.phase("ripening")
    here: dict[str, Any] = {"system": facts, "place": move.facts.new.id}
    times, pieces = facts.times, sum(item.count for item in facts.rebuilt.equipment)
    words: dict[str, object] = {"q_pieces": max(pieces, 3), "litres": facts.volumes.total.likely}
    chain = []
    if facts.rebuilt.sand_kg > 0:
        add_sand(move, facts, here)
        chain.append("sand-in")
    pours = poured_new(facts)
    move.add("fill-ahead", times["fill"], crew=hands(1), words=words, may_pause=True, pours=pours, **here)
    starting = together(times["connect"], usual(5, 10, 20, "plugs, one by one"))
    move.add("start-ahead", starting, crew=move.fitters(pieces), words=words, **here)
    move.add("warm-ahead", times["warm"], kind=Kind.WAIT, words=words, **here)
    move.chain(*map(facts.task, (*chain, "fill-ahead", "start-ahead", "warm-ahead")))
    _link_filling(move, facts, facts.task(chain[0] if chain else "fill-ahead"))


def _link_filling(move: Draft, facts: SystemFacts, first: str) -> None:
    befores = ("plumb-tank",) if facts.shift.benched else ("cure-mortar", "empty-test")
    for before in befores:
        if move.has(facts.task(before)):
            move.link(facts.task(before), first)
            break
    link_pouring(move, facts.task("fill-ahead"))
    if move.has(facts.task("rinse-sand")) and move.has(facts.task("sand-in")):
        move.link(facts.task("rinse-sand"), facts.task("sand-in"))


def add_cycle(move: Draft, facts: SystemFacts) -> None:
    """Add seeding, dosing, waiting and testing, and the hold point that ends the cycle.

    Parameters
    ----------
    move : Draft
        In the leg whose animals it is for.
    facts : SystemFacts
        A system whose new tank stands filled and warm.
    """
    move.phase("ripening")
    cycle = cycle_for(move, facts)
    words = _cycle_words(move, facts, cycle)
    here: dict[str, Any] = {"system": facts, "place": move.facts.new.id, "words": words}
    fetching = [usual(30, 60, 120, "choosing rock and media, carrying them over wet")]
    if move.drives:
        fetching.append(move.facts.drive)
    move.add("seed-tank", together(*fetching), crew=hands(1, "cares"), **here)
    move.add(
        "dose-ammonia",
        usual(10, 15, 30, "weighing, dissolving, a reading an hour later"),
        crew=hands(1, "cares"),
        **here,
    )
    away = topped(facts, evaporated_l(move, facts, cycle.time.likely))
    move.add("ripen", cycle.time, kind=Kind.WAIT, pours=away, **here)
    times = max(round(cycle.time.likely / DAY / TEST_EVERY_DAYS) - 1, 1)
    move.add(
        "test-cycle",
        usual(10, 15, 25, "ammonia, nitrite, nitrate, alkalinity"),
        crew=hands(1, "cares"),
        repeats=Repeat(TEST_EVERY_DAYS * DAY, times, DAY) if times > 1 else None,
        **here,
    )
    move.add(
        "cycle-done",
        usual(15, 20, 30, "a last row of readings"),
        kind=Kind.HOLD_POINT,
        crew=hands(1, "cares"),
        timing=Timing.LATE,
        margin_min=AGAIN_DAYS * DAY,
        **here,
    )
    litres = change_before_l(facts)
    mixing = move.mixing(litres, here["place"])
    own = here | {"words": words | {"mixing": mixing}, "timing": Timing.LATE}
    made = add_making(move, "make-change", ((facts.rebuilt, litres),), **own)
    mixed = move.add(
        "mix-change",
        move.handling.work("unit-mix", mixing.batches),
        crew=hands(1),
        pours=((PURIFIED, facts.shift.mixed, litres),),
        **own,
    )
    move.add(
        "change-before",
        usual(45, 75, 120, "a quarter to a half of the water"),
        crew=hands(1),
        timing=Timing.LATE,
        pours=changed(move, facts, litres, facts.shift.mixed),
        **here,
    )
    move.heat(mixing, here["place"], mixed, move.id(facts.task("change-before")))
    move.chain(*map(facts.task, ("warm-ahead", "seed-tank", "dose-ammonia", "ripen")))
    move.link(facts.task("ripen"), facts.task("cycle-done"), gap=SECOND_READING)
    move.link(facts.task("cycle-done"), made, key="cycle-done > make-change")
    move.link(made, mixed, at_most=DAY, key="make-afresh > mix-afresh")
    keeps = keeping_min(move)
    move.link(mixed, facts.task("change-before"), gap=overnight_min(mixing), at_most=keeps)
    move.link(facts.task("dose-ammonia"), facts.task("test-cycle"), gap=DAY, at_most=5 * DAY)
    move.link(facts.task("test-cycle"), facts.task("cycle-done"))
    move.link("agree-plan", facts.task("seed-tank"), relation=Relation.FINISHTOSTART)


def evaporated_l(move: Draft, facts: SystemFacts, minutes: float) -> float:
    """Water that evaporates from a running tank, and is topped up with purified water. [l]."""
    return move.policy["evaporation_daily"] * facts.volumes.total.likely * minutes / DAY


def _cycle_words(move: Draft, facts: SystemFacts, cycle: Cycle) -> dict[str, object]:
    litres, dose = facts.volumes.total.likely, DOSE_MG_N_L
    return {
        "litres": litres,
        "dose": dose,
        "chloride_g": round(CHLORIDE_G * dose * litres / 1000, 1),
        "cycle": cycle,
        "seed_words": move.phrase(
            "seed-restart" if move.facts.leg.empty else f"seed-{cycle.seeding}",
            kg=SEED_SHARE[cycle.seeding] * facts.system.rock_kg,
        ),
        "again": round(0.25 * CHLORIDE_G * dose * litres / 1000, 1),
        "moved": f"{facts.system.name}",
    }


def add_settling(move: Draft, facts: SystemFacts) -> None:
    """Add a short wait in place of a cycle, where the ripe rock comes in with the animals.

    Parameters
    ----------
    move : Draft
        In the leg whose animals it is for.
    facts : SystemFacts
        A system whose tank stands filled and warm.
    """
    move.phase("ripening")
    here: dict[str, Any] = {"system": facts, "place": move.facts.new.id}
    move.add(
        "settle-water",
        usual(12 * HOUR, 24 * HOUR, 48 * HOUR, "dust sinks, gases settle"),
        kind=Kind.WAIT,
        **here,
    )
    move.link(facts.task("warm-ahead"), facts.task("settle-water"))
