"""After a move in a day: the filter dips, comes back, and a hold point says that it carries its old stock again."""

from __future__ import annotations

import math
from typing import Any

from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.practice.drafting.chains import Chains
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, hands, usual
from moveplan.practice.phases.after.close import last_watch
from moveplan.practice.phases.before.ripening import cycle_for
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.keeping.cycle import Dip, dip_after
from moveplan.quantities.keeping.filter_load import ammonia_load
from moveplan.quantities.keeping.gates import nitrogen_gates

KIT_STEP = 0.25
"""What a home test kit for ammonia or nitrite can tell apart; common practice, no source. [mg/l as N]"""
SURE_DAYS = 2
"""Days of good readings in a row before a filter is trusted; common practice, no source. [day]"""


def dip_of(move: Draft, facts: SystemFacts) -> Dip | None:
    """Follow the filter of a system whose rock and media were out of the water for some hours.

    Parameters
    ----------
    move : Draft
        With all tasks of the leg.

    Returns
    -------
    Dip or None
        None where nothing loads the filter, or where animals come in waves.
    """
    groups = tuple((group.livestock, group.count) for group in facts.groups)
    rock = all(move.has_own(facts.task(key)) for key in ("rock-out", "rock-in"))
    if not groups or move.facts.leg.in_waves or not rock:
        return None
    litres = facts.volumes.total.likely
    load = ammonia_load(facts.rebuilt, groups, move.policy, feed=False).likely / litres
    if load <= 0:
        return None
    return dip_after(
        round(load, 3),
        facts.rebuilt.temperature_c,
        _out_h(move, facts),
        nitrogen_gates(move.plan, facts.system.id),
        _ready(move, facts, load),
    )


def _out_h(move: Draft, facts: SystemFacts) -> float:
    """Hours from the first rock out to the last rock in, by the likely durations between them. [h]."""
    first, last = move.id(facts.task("rock-out")), move.id(facts.task("rock-in"))
    return round(Chains(move.tasks, move.links).likely_min(first, last) / 60, 1)


def _ready(move: Draft, facts: SystemFacts, load: float) -> float:
    """Share of the load that the filter that waits in a ripened tank already carries."""
    if not move.has_own(facts.task("cycle-done")):
        return 0.0
    if move.plan.system(facts.system.id).new_tank is None:
        return 0.0
    return round(cycle_for(move, facts).carries.likely / load, 2)


def crest_words(dip: Dip | None) -> dict[str, object]:
    """Give the crest of ammonia; None where nothing dips."""
    return {"ammonia_crest": None if dip is None else _legible(dip.ammonia.high)}


def _legible(value: float) -> float:
    """Round up to what a test kit can tell apart. [mg/l as N]."""
    return KIT_STEP * math.ceil(value / KIT_STEP)


def _expected(move: Draft, dip: Dip) -> str:
    """Say what is to be expected of ammonia and nitrite."""
    crests = (("ammonia", dip.ammonia), ("nitrite", dip.nitrite))
    return move.phrase(
        "dip-above" if dip.days.high > 0 else "dip-below",
        crests=[(what, round(crest.likely, 2), round(crest.high, 2)) for what, crest in crests],
        days=math.ceil(dip.days.likely),
        latest=math.ceil(dip.days.high),
    )


def add_recovery(move: Draft, facts: SystemFacts, dip: Dip | None) -> None:
    """Add the days in which the filter comes back, and the hold point after them.

    Parameters
    ----------
    move : Draft
        With the aftercare of the system added.
    dip : Dip or None
        What the growth model says; None: nothing to wait for.
    """
    if facts.system.id in move.last_settled:
        move.link(move.last_settled[facts.system.id], facts.task("settled"))
    if dip is None:
        return
    move.phase("aftercare")
    here: dict[str, Any] = {"system": facts, "place": move.facts.new.id}
    words: dict[str, object] = {
        "expected": _expected(move, dip),
        "sure": SURE_DAYS,
    }
    low, likely, high = (SURE_DAYS + days for days in (dip.days.low, dip.days.likely, dip.days.high))
    waiting = usual(
        DAY * low,
        DAY * likely,
        DAY * high,
        f"{math.ceil(dip.days.likely)} days until ammonia and nitrite are down, then {SURE_DAYS} of good readings; "
        f"{dip.days.basis}",
    )
    move.add("filter-recovers", waiting, kind=Kind.WAIT, words=words, **here)
    move.add(
        "carries-stock",
        usual(10, 15, 25, "the rows since the move, and one more"),
        kind=Kind.HOLD_POINT,
        crew=hands(1, "cares"),
        words=words,
        **here,
    )
    task = facts.task
    move.link(last_watch(move, facts), task("filter-recovers"))
    move.link(task("filter-recovers"), task("carries-stock"))
    move.link(task("daily-look"), task("carries-stock"), relation=Relation.STARTTOSTART, gap=DAY)
    move.link(task("carries-stock"), task("settled"))
