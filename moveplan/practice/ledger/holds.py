"""Gear that is in use from one task to another: containers from filling to emptying, heaters while they warm water."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from moveplan.network.link import Hold
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.ledger.entries import Running
from moveplan.quantities.heaters import PUMP, by_gear, mixing_pump, spare_heaters
from moveplan.scheduling.problem import Gear

NOT_HELD = ("can", "vat")
"""Containers of which there are as many as water storage takes, or one of its own: nobody waits for one."""


def gear_of(move: Draft, running: Iterable[Running]) -> tuple[Gear, ...]:
    """Give the gear that is held, as many as will be there on the day.

    Parameters
    ----------
    move : Draft
        Its facts say how many are needed.
    running : iterable of Running
        What draws power, some of it by spare heaters.
    """
    held = {gear for row in running for gear in row.held}
    rows = _there(move) | _heaters_there(move, held) | _pumps_there(move, held)
    return tuple(
        Gear(gear, name, count, move.plan.where(f"gear.{gear}") if own else "")
        for gear, (name, count, own) in rows.items()
    )


def _there(move: Draft) -> dict[str, tuple[str, int, bool]]:
    """Name of each kind of gear that is held, how many there will be, and whether the plan has it."""
    items = {item.id: item for item in move.plan.gear}
    needed = {kind: (count, there) for kind, count, there in move.gear_needed()}
    rows: dict[str, tuple[str, int, bool]] = {}
    for use in move.uses:
        vessel = use.vessel
        if vessel.kind in NOT_HELD or vessel.gear in rows:
            continue
        item = items.get(vessel.gear)
        missing = max(needed[vessel.kind][0] - needed[vessel.kind][1], 0)
        if item is None:
            rows[vessel.gear] = (move.gear_word(vessel.kind), missing, False)
        else:
            main = move.main_gear(vessel.kind) == item.id
            rows[vessel.gear] = (item.name, item.count + (missing if main else 0), True)
    return rows


def _pumps_there(move: Draft, held: set[str]) -> dict[str, tuple[str, int, bool]]:
    """Name of the pumps of which one mixes water, how many there will be, and whether the plan has them."""
    pump = mixing_pump(move.plan)
    own = next((item.name for item in move.plan.gear if item.id == pump), "")
    return {pump: (own or move.gear_word(PUMP), move.gear_count(PUMP), bool(own))} if pump in held else {}


def _heaters_there(move: Draft, held: set[str]) -> dict[str, tuple[str, int, bool]]:
    """Name of each kind of spare heater that is held, how many there will be, and whether the plan has it."""
    items = {item.id: item for item in move.plan.gear}
    more = max(move.gear_count("heater") - len(spare_heaters(move.plan)), 0)
    return {
        gear: (items[gear].name if gear in items else move.gear_word("heater"), count, gear in items)
        for gear, count in by_gear(spare_heaters(move.plan, more))
        if gear in held
    }


def holds_of(move: Draft, running: Iterable[Running]) -> tuple[Hold, ...]:
    """List the gear that is held in all legs.

    Parameters
    ----------
    move : Draft
        With all tasks.
    running : iterable of Running
        What draws power: spare heaters are held from when they are covered to when the water is warm, and beside
        those in a bin the pump that mixes it.
    """
    counts = Counter(
        (use.vessel.gear, use.from_task, use.until_task)
        for use in move.uses
        if use.vessel.kind not in NOT_HELD and use.from_task != use.until_task
    )
    for row in running:
        for gear, count in Counter(row.held).items():
            counts[gear, row.from_task, row.until_task] += count
    return tuple(Hold(gear, count, first, last) for (gear, first, last), count in counts.items())
