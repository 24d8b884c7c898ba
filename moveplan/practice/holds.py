"""Gear that is in use from one task to another: tubs from filling to emptying, bags from closing to opening."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.network.link import Hold
from moveplan.practice.draft import Draft
from moveplan.quantities.facts import SystemFacts
from moveplan.scheduling.problem import Gear

HELD = ("tub", "bag", "box")
"""Kinds of gear that are held from one task to another."""


def gear_of(move: Draft) -> tuple[Gear, ...]:
    """Give the gear that is held, as many as will be there on the day.

    Parameters
    ----------
    move : Draft
        Its facts say how many are needed. [-]
    """
    rows: list[Gear] = []
    for kind in HELD:
        owned = [item for item in move.plan.gear if item.kind == kind]
        count = move.gear_count(kind)
        if owned:
            rows.append(Gear(owned[0].id, owned[0].name, count, move.plan.where(f"gear.{owned[0].id}")))
        elif count:
            rows.append(Gear(kind, move.gear_word(kind), count))
    return tuple(rows)


def _ids(move: Draft) -> dict[str, str]:
    return {kind: next((item.id for item in move.plan.gear if item.kind == kind), kind) for kind in HELD}


def holds_of(move: Draft) -> tuple[Hold, ...]:
    """List the gear that each system of the leg holds.

    Parameters
    ----------
    move : Draft
        With all tasks. [-]
    """
    ids = _ids(move)
    return tuple(
        Hold(ids[kind], count, move.id(first), move.id(last))
        for facts in move.facts.systems
        for kind, count, first, last in _held(facts)
        if count and move.has_own(first) and move.has_own(last)
    )


def _held(facts: SystemFacts) -> Iterator[tuple[str, int, str, str]]:
    task, tubs = facts.task, facts.tubs
    yield "tub", tubs.keep, task("draw-keep-water"), task("fill-tank")
    yield "tub", tubs.coral, task("corals-out"), task("place-corals")
    yield "tub", tubs.rock, task("rock-out"), task("rock-in")
    yield "tub", tubs.media, task("pack-media"), task("rock-in" if facts.standing else "fill-tank")
    bags = sum(group.packing.count for group in facts.groups if group.packing.gear == "bag")
    yield "bag", bags, task("seal-fish"), task("watch-evening")
