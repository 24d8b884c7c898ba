"""What is left of a tank when its animals are out: lamps, pumps, the last water, sand, and the tank itself."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from moveplan.network.link import Relation
from moveplan.plan.systems import Equipment
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import hands
from moveplan.practice.ledger.pouring import drained
from moveplan.quantities.durations import flow_and_warmth
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.trade_groups import CORALS


def add_things(move: Draft, facts: SystemFacts, day: dict[str, Any]) -> None:
    """Add what comes after the animals: lamps, pumps, the last water, sand, and the tank off its stand.

    Parameters
    ----------
    day : dict of str to object
        Fields of a task of the moving day at the old home.
    """
    later = day | {"day": ""} if facts.standing and not facts.shift.carries else day
    equipment = facts.system.equipment
    flowing = flow_and_warmth(equipment)
    others = tuple(item for item in equipment if item not in flowing)
    pieces = sum(item.count for item in flowing)
    if others or not equipment:
        words: dict[str, object] = {"equipment": counted(others) or ["1 × lamp"]}
        move.add("strip-lamps", facts.times["strip-lamps"], crew=hands(1), words=words, **day)
    words = {"equipment": counted(flowing) or ["pump and heater"], "q_pieces": pieces or 2}
    move.add("strip-equipment", facts.times["strip-pumps"], crew=move.fitters(pieces), words=words, **day)
    if not move.suffix:  # a holding system stays where it stands, and is drained when it is taken down
        move.add("drain-tank", facts.times["drain"], crew=hands(1), pours=drained(move, facts), **later)
    if facts.system.sand_kg > 0:
        sand_out(move, facts, **later)
    if not move.suffix and (facts.shift.carries or not move.drives):
        words = {"carried": bool(facts.shift.carries)} | move.lift_words(facts, old=True)
        move.add("tank-off", facts.times["tank-off"], crew=hands(1), words=words, **later)


def counted(equipment: Sequence[Equipment]) -> list[str]:
    """Name equipment with how many there are of each."""
    return [f"{item.count} × {item.name}" for item in equipment]


def sand_out(move: Draft, facts: SystemFacts, **fields: Any) -> None:
    """Add taking the sand out of a tank that is drained."""
    sand: dict[str, object] = {"sand_words": move.sand_words(facts)}
    crew = move.heavers(facts.system.sand_kg)
    move.add("sand-out", facts.times["sand-out"], crew=crew, words=sand, **fields)


def link_things(move: Draft, facts: SystemFacts) -> None:
    """Say what has to be over before each of them."""
    task = facts.task
    for before, after in (
        ("draw-keep-water", "strip-equipment"),
        ("corals-out", "strip-equipment"),
        ("lower-water", "strip-equipment"),
        ("no-way-back", "strip-equipment"),
        ("heaters-cool", "strip-equipment"),
        ("strip-lamps", "corals-out" if facts.of_group(*CORALS) else "rock-out"),
        ("strip-lamps", "tank-off"),
        ("strip-equipment", "tank-off"),
        ("pack-media", "drain-tank"),
        ("invertebrates-out", "drain-tank"),
        ("lower-water", "drain-tank"),
        ("catch-fish", "drain-tank"),
        ("drain-tank", "sand-out"),
        ("sand-out", "tank-off"),
        ("drain-tank", "tank-off"),
    ):
        if move.has_own(task(before)) and move.has_own(task(after)):
            move.link(task(before), task(after))
    if move.has_own(task("strip-lamps")):
        move.link(task("record-morning"), task("strip-lamps"), relation=Relation.STARTTOSTART)
