"""Gear: order, wash, label, test, pack."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Kind, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, WEEK, hands, usual
from moveplan.practice.drafting.touch import hard_to_catch
from moveplan.practice.phases.before.water import water_place
from moveplan.quantities.keeping.boarders import boarding_vessels
from moveplan.quantities.leg.lading import ice_of
from moveplan.quantities.leg.refill import vats_of

AGAIN_DAYS = 7
"""Days between two legs from which on each has a week of its own before it; assumed. [day]"""
OWN_WEEK_MIN = 8 * DAY
"""What belongs to the week before a moving day is done at most so long before its eve; common practice, no source.
[min]"""


def add_gear(move: Draft) -> None:
    """Add everything about gear that the first leg needs."""
    move.phase("gear")
    move.add(
        "order-missing",
        usual(30, 45, 90, "orders at two or three shops"),
        crew=move.keeper(),
        timing=Timing.LATE,
        margin_min=2 * WEEK,
        words=_orders(move),
    )
    move.add("wait-gear", usual(2 * DAY, 5 * DAY, 14 * DAY, "parcels under way"), kind=Kind.WAIT)
    _add_own(move)
    move.link("order-missing", "wait-gear")
    move.link("wait-gear", "wash-containers")
    if not apart(move):
        _add_rinsing(move)


def apart(move: Draft) -> bool:
    """Whether so many days lie between two legs that each is made ready in its own week."""
    return move.days_waiting() > AGAIN_DAYS and not move.final.leg.empty


def add_again(move: Draft) -> None:
    """Add making the gear ready once more where a leg comes weeks after the one before it."""
    if not move.suffix or not apart(move):
        return
    move.phase("gear")
    free = list(move.last_watches.values())
    _add_own(move)
    _add_rinsing(move)
    for task in ("wash-containers", "test-air"):
        for watch in free:
            move.link(watch, task, gap=DAY, key="watch-evening > wash-gear")


def _late(move: Draft) -> dict[str, Any]:
    return {"place": move.facts.old.id, "crew": hands(1), "timing": Timing.LATE, "margin_min": 3 * DAY}


def _add_own(move: Draft) -> None:
    """Add washing, labelling and trying what the leg uses, and its kit."""
    late, numbered = _late(move), move.numbered()
    washed = sum(vessel.kind != "bag" for vessel in numbered)
    move.add(
        "wash-containers",
        move.handling.work("wash", washed),
        may_pause=True,
        words={"containers": washed, "again": move.suffix},
        **late,
    )
    pumps = max(move.gear_count("air-pump"), 1)
    words: dict[str, object] = {"air_pumps": pumps} | move.battery_words()
    move.add("test-air", usual(20, 30, 45, "setting up, looking in twice"), words=words, **late)
    if not move.suffix:
        heat: dict[str, object] = {"heater_power": move.heater_power_w(), "warm": move.warmest_c()}
        move.add("test-heaters", usual(20, 30, 60, "warming a bucket under watch"), words=heat, **late)
    move.add(
        "pack-kit",
        usual(30, 45, 60, "packing one box by a list"),
        words={
            "vet": move.vet(),
            "spare_l": sum(one.spare_l for one in move.facts.systems),
            "reserve": move.reserve_salt(),
            "ice": ice_of(move.plan, move.facts.systems, move.facts.new),
            "unit_there": water_place(move) == move.facts.new.id,
        },
        **late,
    )
    tests = ("test-air",) if move.suffix else ("test-air", "test-heaters")
    for test in () if move.suffix else tests:
        move.link("wait-gear", test)
    for test in tests:
        move.link(test, "pack-kit")
    labels: dict[str, object] = {"label_plan": move.label_plan()}
    sticking = move.handling.work("label", len(numbered))
    move.add("print-labels", sticking, words=labels, **late | {"margin_min": 2 * DAY})
    move.link("wash-containers", "print-labels")


def _add_rinsing(move: Draft) -> None:
    for facts in () if move.final.leg.gives_away else move.final.systems:
        if "sand-rinse" in facts.times:
            move.add(
                "rinse-sand",
                facts.times["sand-rinse"],
                system=facts,
                may_pause=True,
                words={"sand": facts.rebuilt.sand_kg},
                **_late(move) | {"margin_min": 2 * DAY},
            )
            move.link("wait-gear", facts.task("rinse-sand"))


def _orders(move: Draft) -> dict[str, object]:
    """List what is missing; a vat for new rock is ordered with the rock."""
    gone = move.final.leg.gives_away
    sand = (
        0.0
        if gone
        else sum(facts.rebuilt.sand_kg for facts in move.final.systems if "sand-rinse" in facts.times)
    )
    vats = vats_of(move.final.systems)
    short = {kind: needed - there - vats[kind] for kind, needed, there in move.gear_needed()}
    missing = [f"{count} × {move.gear_word(kind)}" for kind, count in short.items() if count > 0]
    return {
        "missing": missing,
        "sand_to_buy": sand,
        "salt": 0.0 if gone else move.final_salt_kg(),
        "reserve": move.reserve_salt(),
        "held": bool(move.upkeep()),
        "ready_l": sum(facts.water.mixed_l for facts in move.legs if move.ready_mixed(facts)),
        "trapped": hard_to_catch(
            group
            for groups in (
                *(groups for _, groups in move.boarders),
                *(one.groups for one in move.legs[0].systems),
            )
            for group in groups
        ),
        **move.small_parts(one for _, groups in move.boarders for one in boarding_vessels(move.plan, groups)),
    }


def link_gear(move: Draft) -> None:
    """Tie the gear of a leg to what waits for it."""
    rinsed = [facts.task("rinse-sand") for facts in move.final.systems if not facts.standing]
    if move.has_own("print-labels"):
        move.link("print-labels", "brief-crew")
    ready = ("pack-kit", *rinsed)
    for task in filter(move.has_own, () if move.suffix else ready):
        move.link(task, "go-or-no-go")
    again = ("wash-containers", "print-labels", "test-air", *ready)
    for task in filter(move.has_own, again if move.suffix else ()):
        move.link(task, "go-or-no-go", at_most=OWN_WEEK_MIN, any_length=True, key="again > go-or-no-go")
