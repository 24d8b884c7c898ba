"""The moving day at the old home, in trade order: clean water, corals, rock, invertebrates, fish, sand, tank."""

from __future__ import annotations

from typing import Any

from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.practice.draft import Draft, fixed, hands, usual
from moveplan.quantities.durations import CATCH_DEPTH_M, CORALS, FISH
from moveplan.quantities.facts import GroupFacts, SystemFacts


def add_teardown(move: Draft, facts: SystemFacts) -> None:
    """Add taking one system down."""
    move.phase("teardown")
    _add_morning(move, facts)
    _add_animals(move, facts)
    _add_things(move, facts)
    _link_things(move, facts)


def _day(move: Draft, facts: SystemFacts) -> dict[str, Any]:
    return {"system": facts, "place": move.facts.old.id, "day": move.day}


def _add_morning(move: Draft, facts: SystemFacts) -> None:
    day: dict[str, Any] = _day(move, facts)
    move.add("record-morning", usual(15, 20, 30, "two rows of readings"), crew=hands(1, "cares"), **day)
    move.add("draw-keep-water", facts.times["draw"], crew=hands(1), **day)
    move.add("heaters-off", fixed(5, "pulling plugs"), crew=hands(1), **day)
    move.add("heaters-cool", usual(15, 20, 30, "heaters cool under water"), kind=Kind.WAIT, **day)
    move.add(
        "no-way-back",
        usual(5, 5, 15, "a last round of questions"),
        kind=Kind.HOLD_POINT,
        crew=hands(1),
        **day,
    )
    start, read = Relation.STARTTOSTART, 10
    move.link(facts.task("record-morning"), facts.task("heaters-off"), relation=start, gap=read)
    move.chain(*map(facts.task, ("heaters-off", "heaters-cool", "draw-keep-water", "no-way-back")))
    move.link(facts.task("record-morning"), facts.task("draw-keep-water"))


def count_of(groups: tuple[GroupFacts, ...]) -> int:
    """How many animals there are in all."""
    return sum(group.count for group in groups)


def names(groups: tuple[GroupFacts, ...]) -> list[str]:
    """Name groups with their counts, for a text."""
    return [f"{group.count} × {group.livestock.name}" for group in groups]


def _add_animals(move: Draft, facts: SystemFacts) -> None:
    day: dict[str, Any] = _day(move, facts)
    corals, fish, others = facts.of_group(*CORALS), facts.of_group(*FISH), facts.invertebrates()
    caring = hands(1, "cares")
    before = facts.task("no-way-back")
    if corals:
        words: dict[str, object] = {"coral_count": sum(group.count for group in corals)}
        move.add("corals-out", facts.times["corals-out"], crew=move.care_crew(), words=words, **day)
        move.link(before, facts.task("corals-out"))
        move.link(facts.task("draw-keep-water"), facts.task("corals-out"))
    _add_rock(move, facts, after_corals=bool(corals))
    if others:
        move.add(
            "invertebrates-out",
            facts.times["invertebrates-out"],
            crew=move.care_crew(count_of(others)),
            words={"animals": names(others)},
            **day,
        )
        move.link(facts.task("rock-out"), facts.task("invertebrates-out"))
        move.link(facts.task("invertebrates-out"), facts.task("lower-water"))
    if fish:
        move.add(
            "catch-fish",
            facts.times["catch"],
            crew=move.team(2, "cares"),
            words={"animals": names(fish)},
            **day,
        )
        packing = [move.packing_words(group) for group in fish]
        move.add("seal-fish", facts.times["seal"], crew=caring, words={"packing": packing}, **day)
        move.chain(*map(facts.task, ("lower-water", "catch-fish", "seal-fish")))


def _add_rock(move: Draft, facts: SystemFacts, *, after_corals: bool) -> None:
    day: dict[str, Any] = _day(move, facts)
    move.add("rock-out", facts.times["rock-out"], crew=move.team(2, "lifts"), **day)
    move.add("lower-water", facts.times["lower"], crew=hands(1), words={"depth": CATCH_DEPTH_M}, **day)
    move.link(facts.task("corals-out" if after_corals else "draw-keep-water"), facts.task("rock-out"))
    move.link(facts.task("no-way-back"), facts.task("rock-out"))
    move.link(facts.task("rock-out"), facts.task("lower-water"))


def _add_things(move: Draft, facts: SystemFacts) -> None:
    day: dict[str, Any] = _day(move, facts)
    later = day | {"day": ""} if facts.standing and not facts.shift.carries else day
    pieces = sum(item.count for item in facts.system.equipment)
    equipment = [f"{item.count} × {item.name}" for item in facts.system.equipment] or [
        "pump, heater and lamp"
    ]
    words: dict[str, object] = {"equipment": equipment, "q_pieces": max(pieces, 3)}
    move.add("pack-media", usual(10, 15, 30, "lifting media into a tub"), crew=hands(1), **day)
    move.add("strip-equipment", facts.times["strip"], crew=move.fitters(pieces), words=words, **day)
    move.add("drain-tank", facts.times["drain"], crew=hands(1), **later)
    if facts.system.sand_kg > 0:
        sand: dict[str, object] = {"sand_words": move.sand_words(facts)}
        move.add("sand-out", facts.times["sand-out"], crew=move.team(2, "lifts"), words=sand, **later)
    if facts.shift.carries or not move.drives:
        words = {"carried": bool(facts.shift.carries)} | move.lift_words(facts, old=True)
        crew = move.tank_crew(facts, old=True)
        move.add("tank-off", facts.times["tank-off"], crew=crew, words=words, **later)


def _link_things(move: Draft, facts: SystemFacts) -> None:
    task = facts.task
    for before, after in (
        ("rock-out", "pack-media"),
        ("lower-water", "strip-equipment"),
        ("heaters-cool", "strip-equipment"),
        ("strip-equipment", "drain-tank"),
        ("pack-media", "drain-tank"),
        ("catch-fish", "drain-tank"),
        ("drain-tank", "sand-out"),
        ("sand-out", "tank-off"),
        ("drain-tank", "tank-off"),
    ):
        if move.has_own(task(before)) and move.has_own(task(after)):
            move.link(task(before), task(after))
