"""Water making: purified water, salt water, its rest and its trim."""

from __future__ import annotations

import math
from typing import Any

from moveplan.network.task import Kind, Timing
from moveplan.practice.draft import DAY, Draft, hands, usual
from moveplan.quantities.handling import together
from moveplan.science.salt import dry_mix_kg, salt_to_raise_kg, water_to_lower_kg

LATE = Timing.LATE
_USUAL_BATCH_L = 60.0
"""What is mixed at once where no storage is known; common practice, no source. [l]"""
_MOST_BATCHES = 10
"""Nobody mixes more: so much water is mixed in a larger vessel; assumed. [-]"""
_CANS_A_TRIP = 20
"""What a car carries with somebody in it; assumed. [-]"""
_BATCHES_AT_A_STRETCH = 4
"""More may be left overnight between two batches; assumed. [-]"""


def add_water(move: Draft) -> None:
    """Add the making, mixing and trimming of water."""
    move.phase("water")
    making = move.plan.water_making
    if making is not None and making.rate_l_day > 0:
        _add_making(move)
    else:
        _add_fetching(move)
    _add_mixing(move)


def water_place(move: Draft) -> str:
    """Id of the place where water is made: where it is poured in, if the tank there is filled ahead."""
    ahead = move.facts.leg.water_there or all(facts.standing for facts in move.facts.systems)
    return move.facts.new.id if ahead else move.facts.old.id


def _add_making(move: Draft) -> None:
    place = water_place(move)
    production = move.facts.times["make-water"]
    waste = move.plan.water_making.waste_ratio if move.plan.water_making else 0.0
    words: dict[str, object] = {
        "output": round(move.facts.water.purified.likely / production.likely * DAY),
        "waste": move.facts.water.purified.likely * waste,
    }
    late: dict[str, Any] = {"place": place, "crew": hands(1), "timing": LATE}
    move.add(
        "check-water-unit",
        usual(20, 30, 60, "two readings and a litre by the clock"),
        words=words,
        margin_min=5 * DAY,
        **late,
    )
    move.add(
        "start-water",
        usual(10, 15, 30, "hoses, float switch, first litre"),
        words=words,
        margin_min=4 * DAY,
        **late,
    )
    move.add("make-water", production, kind=Kind.WAIT, place=place, words=words, timing=LATE)
    move.chain("check-water-unit", "start-water", "make-water")
    if move.has("keys-early") and water_place(move) == move.final.new.id:
        move.link("keys-early", "check-water-unit")
    move.link("wash-containers", "start-water")
    move.link("agree-plan", "check-water-unit")
    if not move.suffix:
        move.link("check-water-unit", "order-missing")


def _add_fetching(move: Draft) -> None:
    cans = math.ceil(move.facts.water.purified.likely / 20)
    trips = math.ceil(cans / _CANS_A_TRIP)
    trip = usual(45 * trips, 75 * trips, 120 * trips, f"{trips} × to the shop and back")
    lugging = usual(2 * cans, 4 * cans, 7 * cans, f"{cans} cans of 20 l filled and carried")
    move.add(
        "fetch-water",
        together(trip, lugging),
        place=water_place(move),
        crew=hands(1, "lifts"),
        words={"trips": trips},
        may_pause=trips > 1,
        timing=LATE,
        margin_min=2 * DAY,
    )
    move.link("wash-containers", "fetch-water")


def _add_mixing(move: Draft) -> None:
    place = water_place(move)
    water = move.facts.water
    mixed = water.new.likely + water.spare.likely
    salinity, warm = move.salinity(), move.warmest_c()
    moisture = move.plan.water_making.salt_moisture if move.plan.water_making else 0.05
    words: dict[str, object] = {
        "mixed": mixed,
        "warm": warm,
        "salinity": salinity,
        "dilute": float(water_to_lower_kg(mixed, warm, salinity + 1, salinity)),
        "strengthen": round(
            1000 * float(dry_mix_kg(salt_to_raise_kg(mixed, warm, salinity - 1, salinity), moisture)), -1
        ),
    }
    late: dict[str, Any] = {"place": place, "timing": LATE}
    batches = _batches(move, mixed)
    move.add(
        "mix-water",
        move.handling.work("unit-mix", batches),
        crew=hands(1),
        words=words | {"batches": batches},
        may_pause=batches > _BATCHES_AT_A_STRETCH,
        margin_min=DAY,
        **late,
    )
    move.add(
        "stand-water",
        usual(12 * 60, 24 * 60, 48 * 60, "salt dissolves and gases settle"),
        kind=Kind.WAIT,
        words=words,
        **late,
    )
    move.add(
        "trim-water",
        usual(15, 30, 60, "two readings and a correction"),
        crew=hands(1),
        words=words,
        margin_min=DAY // 2,
        **late,
    )
    source = "make-water" if move.has("make-water") else "fetch-water"
    move.chain(source, "mix-water", "stand-water", "trim-water")
    move.link("wait-gear", "mix-water")


def _batches(move: Draft, mixed_l: float) -> int:
    """Count the batches: what the storage holds, or more where there is much to mix."""
    storage_l = move.plan.water_making.storage_l if move.plan.water_making else 0.0
    return min(max(1, round(mixed_l / (storage_l or _USUAL_BATCH_L))), _MOST_BATCHES)


def link_water(move: Draft) -> None:
    """Tie the water to the decision of the eve; mixed water keeps for two weeks."""
    if all(facts.standing for facts in move.facts.systems):
        _add_spare(move)
        return
    keeps = None if any(facts.standing for facts in move.facts.systems) else 14 * DAY
    move.link("trim-water", "go-or-no-go", at_most=keeps)


def _add_spare(move: Draft) -> None:
    """Mix spare water afresh, where the rest went into the tank long before the day."""
    move.phase("water")
    move.add(
        "mix-spare",
        usual(20, 30, 60, "one batch, stirred overnight"),
        place=water_place(move),
        crew=hands(1),
        timing=LATE,
        margin_min=DAY,
    )
    move.link("trim-water", "mix-spare")
    move.link("mix-spare", "go-or-no-go", gap=12 * 60)
