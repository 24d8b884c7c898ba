"""Tanks that nothing lives in: emptied ahead of the day, carried as glass, stood up again when everything is home."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Timing
from moveplan.plan.systems import System
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import hands, usual
from moveplan.quantities.leg.cargo import spare_item


def add_spares(move: Draft) -> None:
    """Add every spare tank of the leg.

    Parameters
    ----------
    move : Draft
        With its loads, and the decision of the eve.
    """
    move.phase("spares")
    for system in move.facts.leg.spares:
        if not move.has(f"drain-spare-{system.id}"):
            _drain(move, system)
        if move.facts.new.id == system.moves_to:
            _stand_up(move, system)


def link_spares(move: Draft, accounts: str) -> None:
    """Let the last bill wait for what got a knock on the way.

    Parameters
    ----------
    move : Draft
        With all tasks of the leg.
    accounts : str
        Id of the task that settles all bills.
    """
    for system in move.facts.leg.spares:
        if move.has_own(f"stand-up-spare-{system.id}"):
            move.link(f"stand-up-spare-{system.id}", accounts)


def _about(system: System) -> dict[str, Any]:
    return {"subject": system.id, "words": {"spare": system}, "crew": hands(1)}


def _drain(move: Draft, system: System) -> None:
    task = move.add(
        "drain-spare",
        usual(20, 40, 75, "a small tank bailed, wiped and padded, its equipment into a box"),
        place=move.facts.old.id,
        timing=Timing.LATE,
        **_about(system),
    )
    move.link("brief-crew", task)
    move.link(task, "go-or-no-go")


def _stand_up(move: Draft, system: System) -> None:
    task = move.add(
        "stand-up-spare",
        usual(15, 30, 60, "stand levelled, tank on its mat, equipment laid beside it"),
        place=move.facts.new.id,
        **_about(system),
    )
    for load in move.facts.trips.loads:
        carried = f"unload-tank-{move.trip_subject(load)}"
        if spare_item(system) in load.items and move.has_own(carried):
            move.link(carried, task)
    for facts in move.facts.systems:
        if move.has(facts.task("watch-evening")):
            move.link(facts.task("watch-evening"), task)
