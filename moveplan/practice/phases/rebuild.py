"""The rebuild: stand and tank, sand, rock, water, pumps, warmth, and the two hold points before animals."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Kind
from moveplan.practice.draft import HOUR, MOVING_DAY, Draft, hands, usual
from moveplan.quantities.facts import SystemFacts


def add_rebuild(move: Draft, facts: SystemFacts) -> None:
    """Add rebuilding one system at the new place."""
    move.phase("rebuild")
    day: dict[str, Any] = {"system": facts, "place": move.facts.new.id, "day": MOVING_DAY}
    times = facts.times
    move.add("place-tank", times["tank-on"], crew=move.tank_crew(facts), words=move.lift_words(facts), **day)
    move.add("plumb-tank", times["plumb"], crew=hands(1), **day)
    if facts.rebuilt.sand_kg > 0:
        move.add("sand-in", times["sand-in"], crew=hands(1), words={"sand": facts.rebuilt.sand_kg}, **day)
    move.add("rock-in", times["rock-in"], crew=move.team(2), **day)
    move.add("fill-tank", times["fill"], crew=hands(1), **day)
    pieces = sum(item.count for item in facts.rebuilt.equipment)
    words: dict[str, object] = {"q_pieces": max(pieces, 3)}
    move.add("connect-equipment", times["connect"], crew=hands(1), words=words, **day)
    move.add("start-equipment", usual(5, 10, 20, "plugs, one by one"), crew=hands(1), words=words, **day)
    move.add("warm-water", times["warm"], kind=Kind.WAIT, **day)
    move.add(
        "leak-check",
        usual(10, 15, 30, "a dry tissue to every joint"),
        kind=Kind.HOLD_POINT,
        crew=hands(1),
        **day,
    )
    move.add(
        "water-matched",
        usual(10, 15, 30, "readings of tank and boxes"),
        kind=Kind.HOLD_POINT,
        crew=hands(1, "cares"),
        **day,
    )
    _link(move, facts)


def _link(move: Draft, facts: SystemFacts) -> None:
    task = facts.task
    for load in move.facts.trips.loads:
        subject = move.trip_subject(load)
        if move.has(f"unload-tank-{subject}"):
            move.link(f"unload-tank-{subject}", task("place-tank"))
        if move.has(f"unload-rest-{subject}"):
            move.link(f"unload-rest-{subject}", task("rock-in"))
    rock_after = "sand-in" if move.has(task("sand-in")) else "place-tank"
    if rock_after == "sand-in":
        move.link(task("place-tank"), task("sand-in"))
    move.link(task(rock_after), task("rock-in"))
    move.link(task("place-tank"), task("plumb-tank"))
    move.link(task("plumb-tank"), task("fill-tank"))
    move.link(task("plumb-tank"), task("connect-equipment"))
    move.link(task("connect-equipment"), task("start-equipment"))
    move.chain(*map(task, ("rock-in", "fill-tank", "start-equipment", "warm-water", "water-matched")))
    move.link(task("start-equipment"), task("leak-check"), gap=HOUR)
    move.link(task("leak-check"), task("water-matched"))
