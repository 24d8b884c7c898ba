"""Gear: order, wash, label, test, pack."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Kind, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, WEEK, hands, usual
from moveplan.practice.drafting.touch import hard_to_catch
from moveplan.quantities.keeping.boarders import boarding_vessels
from moveplan.quantities.leg.refill import vats_of


def add_gear(move: Draft) -> None:
    """Add everything about gear."""
    move.phase("gear")
    old = move.facts.old.id
    numbered = move.numbered()
    washed = sum(vessel.kind != "bag" for vessel in numbered)
    move.add(
        "order-missing",
        usual(30, 45, 90, "orders at two or three shops"),
        crew=move.keeper(),
        timing=Timing.LATE,
        margin_min=2 * WEEK,
        words=_orders(move),
    )
    move.add("wait-gear", usual(2 * DAY, 5 * DAY, 14 * DAY, "parcels under way"), kind=Kind.WAIT)
    move.add(
        "wash-containers",
        move.handling.work("wash", washed),
        place=old,
        crew=hands(1),
        may_pause=True,
        timing=Timing.LATE,
        margin_min=3 * DAY,
        words={"containers": washed},
    )
    _add_tests(move, old)
    move.add(
        "print-labels",
        move.handling.work("label", len(numbered)),
        place=old,
        crew=hands(1),
        timing=Timing.LATE,
        margin_min=2 * DAY,
        words={"label_plan": move.label_plan()},
    )
    move.chain("order-missing", "wait-gear", "wash-containers", "print-labels")
    for facts in () if move.final.leg.gives_away else move.final.systems:
        if "sand-rinse" in facts.times:
            move.add(
                "rinse-sand",
                facts.times["sand-rinse"],
                system=facts,
                place=old,
                crew=hands(1),
                may_pause=True,
                timing=Timing.LATE,
                margin_min=2 * DAY,
                words={"sand": facts.rebuilt.sand_kg},
            )
            move.link("wait-gear", facts.task("rinse-sand"))


def _add_tests(move: Draft, old: str) -> None:
    late: dict[str, Any] = {"place": old, "crew": hands(1), "timing": Timing.LATE, "margin_min": 3 * DAY}
    pumps = max(move.gear_count("air-pump"), 1)
    words: dict[str, object] = {"air_pumps": pumps} | move.battery_words()
    move.add("test-air", usual(20, 30, 45, "setting up, looking in twice"), words=words, **late)
    heat: dict[str, object] = {"heater_power": move.heater_power_w(), "warm": move.warmest_c()}
    move.add("test-heaters", usual(20, 30, 60, "warming a bucket under watch"), words=heat, **late)
    packing = usual(30, 45, 60, "packing one box by a list")
    move.add(
        "pack-kit",
        packing,
        words={
            "vet": move.vet(),
            "spare_l": sum(one.spare_l for one in move.facts.systems),
            "reserve": move.reserve_salt(),
            "ice": move.gear_count("ice-bottle"),
        },
        **late,
    )
    move.link("wait-gear", "test-air")
    move.link("wait-gear", "test-heaters")
    move.link("test-air", "pack-kit")
    move.link("test-heaters", "pack-kit")


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
    """Tie the gear to what waits for it."""
    move.link("print-labels", "brief-crew")
    move.link("pack-kit", "go-or-no-go")
    for facts in move.final.systems:
        if move.has(facts.task("rinse-sand")) and not facts.standing:
            move.link(facts.task("rinse-sand"), "go-or-no-go")
