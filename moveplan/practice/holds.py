"""Gear that is in use from one task to another: containers from filling to emptying."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from moveplan.network.link import Hold
from moveplan.practice.draft import Draft
from moveplan.scheduling.problem import Gear

NOT_HELD = ("can", "vat")
"""Containers of which there are as many as water storage takes, or one of its own: nobody waits for one."""


def gear_of(move: Draft) -> tuple[Gear, ...]:
    """Give the gear that is held, as many as will be there on the day.

    Parameters
    ----------
    move : Draft
        Its facts say how many are needed. [-]
    """
    return tuple(
        Gear(gear, name, count, move.plan.where(f"gear.{gear}") if own else "")
        for gear, (name, count, own) in _there(move).items()
    )


def _there(move: Draft) -> Mapping[str, tuple[str, int, bool]]:
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


def holds_of(move: Draft) -> tuple[Hold, ...]:
    """List the gear that is held in all legs.

    Parameters
    ----------
    move : Draft
        With all tasks. [-]
    """
    counts = Counter(
        (use.vessel.gear, use.from_task, use.until_task)
        for use in move.uses
        if use.vessel.kind not in NOT_HELD and use.from_task != use.until_task
    )
    return tuple(Hold(gear, count, first, last) for (gear, first, last), count in counts.items())
