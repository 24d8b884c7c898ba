"""Water making: purified water, salt water, its rest and its trim."""

from __future__ import annotations

import math
from typing import Any

from moveplan.estimate import Estimate
from moveplan.network.task import Kind, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, hands, usual
from moveplan.practice.ledger.entries import TAP, Entries
from moveplan.practice.ledger.pouring import mixed_first, purified, some_standing
from moveplan.quantities.handling import together
from moveplan.quantities.leg.legs import water_words
from moveplan.quantities.leg.mixing import Mixing, in_bins
from moveplan.quantities.leg.mixing import water_place as place_of_water
from moveplan.quantities.leg.numbered import CAN_L
from moveplan.quantities.water.amounts import making_of
from moveplan.science.water.salt import dry_mix_kg, salt_to_raise_kg, water_to_lower_kg
from moveplan.times import local_day

LATE = Timing.LATE
SPARED_FOR, CHANGED_AFTER = 2 * DAY, 8 * DAY
"""From the eve to the end of the day that spare water is for, and to the first change of a holding system with it; as
is usual. [min]"""
MIXING_DAYS = 4
"""Days in which water is mixed, stands and is trimmed by people with other work; assumed. [day]"""
_CANS_A_TRIP = 20
"""What a car carries with somebody in it; assumed. [-]"""


def add_water(move: Draft) -> None:
    """Add the making, mixing and trimming of water, or its fetching where a shop mixes it."""
    move.phase("water")
    if move.ready_mixed(move.facts):
        _add_ready_mixed(move)
        return
    supply = move.facts.supply
    made_l, bought_l = (supply.made_l, supply.bought_l) if supply else (0.0, move.facts.water.purified.likely)
    if made_l > 0:
        _add_making(move, made_l)
    if bought_l > 0 or made_l <= 0:
        _add_fetching(move, bought_l)
    _add_mixing(move)
    leg = move.facts.leg
    if leg.drives and leg.water_there and not some_standing(move):
        why = water_words(move.plan, tuple(shift.before for shift in leg.shifts))
        move.assume("water-making", f"water is made at {move.facts.new.name}", why)


def water_place(move: Draft) -> str:
    """Id of the place where the water of the leg is made."""
    return place_of_water(move.facts.leg, move.facts.systems)


def _add_making(move: Draft, made_l: float) -> None:
    place = water_place(move)
    production = move.facts.times["make-water"]
    waste = move.plan.water_making.waste_ratio if move.plan.water_making else 0.0
    words: dict[str, object] = {
        "output": round(made_l / production.likely * DAY),
        "waste": made_l * waste,
        "made": made_l,
        "bins": [one.number for one in move.known_bins or move.bins.vessels],
    }
    late: dict[str, Any] = {"place": place, "crew": hands(1), "timing": LATE}
    first = move.legs[0]
    checked = move.suffix and place_of_water(first.leg, first.systems) == place
    if not checked:
        move.add(
            "check-water-unit",
            usual(20, 30, 60, "two readings and some water by the clock"),
            words=words,
            margin_min=5 * DAY,
            **late,
        )
    move.add(
        "start-water",
        usual(10, 15, 30, "hoses, float switch, first water"),
        words=words,
        margin_min=4 * DAY,
        **late,
    )
    move.add(
        "make-water",
        production,
        kind=Kind.WAIT,
        place=place,
        words=words,
        timing=LATE,
        pours=purified(move, made_l),
        **fresh_enough(move, purified_keeping_min(move)),
    )
    move.chain(*(() if checked else ("check-water-unit",)), "start-water", "make-water")
    if not checked and move.has("keys-early") and water_place(move) == move.final.new.id:
        move.link("keys-early", "check-water-unit")
    move.link("wash-containers", "start-water")
    if not checked:
        move.link("agree-plan", "check-water-unit")
    if not move.suffix:
        move.link("check-water-unit", "order-missing")


def _add_fetching(move: Draft, bought_l: float) -> None:
    cans = math.ceil(bought_l / CAN_L)
    trips = math.ceil(cans / _CANS_A_TRIP)
    trip = usual(45 * trips, 75 * trips, 120 * trips, f"{trips} × to the shop and back")
    lugging = usual(2 * cans, 4 * cans, 7 * cans, f"{cans} cans of {CAN_L:g} l filled and carried")
    move.add(
        "fetch-water",
        together(trip, lugging),
        place=water_place(move),
        crew=hands(1, "lifts"),
        words={"bought": bought_l, "trips": trips, "can": CAN_L, "cans": min(cans, _CANS_A_TRIP)},
        may_pause=trips > 1,
        timing=LATE,
        margin_min=2 * DAY,
        pours=purified(move, bought_l),
        **fresh_enough(move, purified_keeping_min(move)),
    )
    move.link("wash-containers", "fetch-water")


def _add_mixing(move: Draft) -> None:
    pours = mixed_first(move)
    words = trim_words(move, sum(litres for _, _, litres in pours))
    late: dict[str, Any] = {"place": water_place(move), "timing": LATE}
    batches, mixing = _add_batches(move, pours), move.policy["mixing_hours"]
    move.add(
        "stand-water",
        usual(30 * mixing, 60 * mixing, 120 * mixing, "salt dissolves and gases settle"),
        kind=Kind.WAIT,
        words=words,
        margin_min=round(60 * mixing),
        **late,
    )
    add_trimming(move, words)
    sources = [one for one in ("make-water", "fetch-water") if move.has_own(one)]
    open_day = some_standing(move) or len(move.facts.leg.days) != 1
    for source in sources:
        move.link(source, batches[0])
        if open_day:  # no date says how long it may have stood
            keeps = purified_keeping_min(move) - HOUR
            move.link(
                source, batches[-2], gap=None, at_most=keeps, any_length=True, key=f"{source} > fill-bin"
            )
    for before, after in zip(batches[1::2], (*batches[2::2], "stand-water"), strict=True):
        move.link(before, after)
    move.link("stand-water", "trim-water")
    move.heat(move.first_mixing, water_place(move), batches[0], move.id("stand-water"))
    move.link("wait-gear", batches[1])


def trim_words(move: Draft, mixed: float) -> dict[str, object]:
    """Say how so much salt water is brought to the salinity of the tank."""
    salinity, warm = move.salinity(), move.warmest_c()
    moisture = making_of(move.plan).salt_moisture
    salt_kg = salt_to_raise_kg(mixed, warm, salinity - 1, salinity)
    return {
        "mixed": mixed,
        "dilute": float(water_to_lower_kg(mixed, warm, salinity + 1, salinity)),
        "strengthen": round(1000 * float(dry_mix_kg(salt_kg, moisture)), -1),
        "salinity": salinity,
    }


def add_trimming(move: Draft, words: dict[str, object]) -> None:
    """Add the readings by which the new water is brought to the tank's salinity."""
    move.add(
        "trim-water",
        usual(15, 30, 60, "two readings and a correction"),
        crew=hands(1),
        words=words,
        margin_min=DAY // 2,
        place=water_place(move),
        timing=LATE,
    )


def _add_ready_mixed(move: Draft) -> None:
    """Add fetching salt water from a shop that mixes it; it stands as warm as the room until it is warmed."""
    pours = tuple((TAP, target, litres) for _, target, litres in mixed_first(move))
    mixed = sum(litres for _, _, litres in pours)
    move.first_mixing = move.mixing(0.0, first=True)
    cans = math.ceil(mixed / CAN_L)
    trips = max(math.ceil(cans / _CANS_A_TRIP), 1)
    words: dict[str, object] = {
        "cans": min(cans, _CANS_A_TRIP),
        "can": CAN_L,
        "trips": trips,
        "mixed": mixed,
        "warm": move.warmest_c(),
        "salinity": move.salinity(),
    }
    move.first_mixed = move.add(
        "fetch-salt-water",
        together(*[fetching(min(cans, _CANS_A_TRIP))] * trips),
        place=water_place(move),
        crew=hands(1, "lifts"),
        words=words,
        may_pause=trips > 1,
        timing=LATE,
        margin_min=2 * DAY,
        pours=pours,
        **fresh_enough(move),
    )
    add_trimming(move, trim_words(move, mixed))
    move.link("wash-containers", move.first_mixed)
    move.link("wait-gear", move.first_mixed)
    move.link(move.first_mixed, "trim-water")


def fetching(cans: int) -> Estimate:
    """Time to fetch so many cans of water in one drive. [min]."""
    lugging = usual(2 * cans, 4 * cans, 7 * cans, f"{cans} cans of {CAN_L:g} l filled and carried")
    return together(usual(45, 75, 120, "to the shop and back"), lugging)


def _add_batches(move: Draft, pours: Entries) -> list[str]:
    """Add warming and mixing, batch after batch; their tasks in order."""
    mixed = sum(litres for _, _, litres in pours)
    mixing = move.first_mixing = move.mixing(mixed, first=True)
    words: dict[str, object] = {
        "mixing": mixing,
        "mixed": mixed,
        "parts": [litres / mixing.batches for _, _, litres in pours],
        "salt_kg": salt_kg(move, pours) / mixing.batches,
        "warm": move.warmest_c(),
        "salinity": move.salinity(),
    }
    late: dict[str, Any] = {"place": water_place(move), "timing": LATE}
    fresh = fresh_enough(move)
    part = tuple((source, target, litres / mixing.batches) for source, target, litres in pours)
    tasks = []
    for number in range(1, mixing.batches + 1):
        subject = str(number) if mixing.batches > 1 else ""
        own = words | {"number": number}
        named: dict[str, Any] = {"subject": subject, "words": own} | late
        filling = usual(5, 10, 20, "a bin, heaters, a pump")
        begun = move.add("fill-bin", filling, crew=hands(1), pours=part, **named)
        hung = in_bins(mixing, move.bins.stood(begun), move.policy)
        named["words"] = own | {"hung": hung} | turns_told(move, hung)
        warm = move.add("warm-new", hung.time, kind=Kind.WAIT, **named)
        one = move.handling.work("unit-mix", 1)
        crew: dict[str, Any] = {"crew": hands(1), "margin_min": 2 * HOUR} | late | fresh
        bins = [(row.source, row.target, row.litres) for row in move.pours if row.task == begun]
        mix = move.add("mix-water", one, subject=subject, words=own | {"bins": bins}, **crew)
        move.link(begun, warm, at_most=0)
        move.link(warm, mix, at_most=2 * DAY)
        tasks += [begun, mix]
    if move.has("test-heaters"):
        move.link("test-heaters", tasks[0])
    move.first_mixed = tasks[1]
    return tasks


def turns_told(move: Draft, mixing: Mixing) -> dict[str, object]:
    """Say which heaters hang in which bins, and whether some are moved on."""
    moves = any(one.bins[1:] for one in mixing.turns)
    return {"turns": move.phrase("in-turn", turns=mixing.turns, moves=moves), "moves": moves}


def salt_kg(move: Draft, pours: Entries) -> float:
    """Dry mix in what is poured into the accounts of new water: its share of what the bill counts. [kg]."""
    waters = {facts.shift.mixed: facts.water for facts in move.facts.systems}
    return sum(
        waters[target].salt.likely * litres / waters[target].mixed_l for _, target, litres in pours if litres
    )


def keeping_min(move: Draft) -> int:
    """How long mixed salt water keeps. [min]."""
    return round(move.policy["mixed_water_keeps"] * DAY)


def purified_keeping_min(move: Draft) -> int:
    """How long purified water keeps. [min]."""
    return round(move.policy["purified_water_keeps"] * DAY)


def link_water(move: Draft) -> None:
    """Tie the water to the decision of the eve; mixed water keeps only so long."""
    if some_standing(move):
        return
    move.link("trim-water", "go-or-no-go")
    if len(move.facts.leg.days) != 1:
        move.link(move.first_mixed, "go-or-no-go", at_most=eve_keeping_min(move))


def fresh_enough(move: Draft, keeping: int | None = None) -> dict[str, Any]:
    """Say from when on water may be mixed that keeps until the first change; where the day is open, a gap says so.

    A date leaves the margins of what is done ahead alone; a greatest gap would hang the mixing on the moving day.

    Parameters
    ----------
    keeping : int or None
        How long before the day it may stand there; None: as long as mixed water. [min]
    """
    days = move.facts.leg.days
    if some_standing(move) or len(days) != 1:
        return {}
    moment = local_day(days[0], move.plan.zone).start - (
        eve_keeping_min(move) if keeping is None else keeping
    )
    return (
        {"not_before": moment, "where": move.plan.where("dates.move-day")} if moment > move.plan.now else {}
    )


def eve_keeping_min(move: Draft) -> int:
    """How long before the eve the first batch may be mixed, for spare water to be good as long as it is wanted. [min].

    Where water keeps for less than mixing and that take together, it keeps until the day itself at least.
    """
    wanted = CHANGED_AFTER if move.facts.leg.waits else SPARED_FOR
    return max(keeping_min(move) - wanted, min(keeping_min(move) - DAY, _mixing_min(move.mixings[-1])))


def _mixing_min(mixing: Mixing) -> int:
    """How long mixing all batches takes people with other work. [min]."""
    return MIXING_DAYS * DAY + 2 * mixing.batches * round(mixing.time.high)


def link_pouring(move: Draft, fill: str) -> None:
    """Fill a tank ahead of the day once its water is trimmed, and while that keeps; or as soon as all is mixed."""
    move.link("trim-water", fill)
    move.link(move.first_mixed, fill, at_most=keeping_min(move), key="mix-water > fill")
