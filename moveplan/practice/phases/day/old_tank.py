"""The old tank: out of the way, kept as something to fall back on, then taken down, cleaned, sold or thrown away."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Kind
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, WEEK, hands, usual
from moveplan.practice.ledger.pouring import drained
from moveplan.practice.phases.after.close import last_watch
from moveplan.practice.phases.day.teardown import off_too
from moveplan.practice.phases.day.things import counted, sand_out
from moveplan.quantities.facts import SystemFacts

RESTED_MIN = DAY // 2
"""From the last watch to work with acid and an old tank: a night lies between; common practice, no source. [min]"""

UNIONS = usual(5, 10, 20, "unions, hand-tight")
"""Joining the pipes of a tank that were glued for its leak test; common practice, no source. [min]"""


def add_out_of_the_way(move: Draft, facts: SystemFacts) -> None:
    """Add carrying the old tank out, where the new one takes its spot.

    Parameters
    ----------
    move : Draft
        With the old tank ready to carry.
    """
    move.phase("old_tank")
    move.add(
        "old-tank-out",
        usual(15, 30, 60, "out of the room, the spot wiped and looked at"),
        system=facts,
        place=move.facts.old.id,
        crew=move.tank_crew(facts, old=True),
        day="" if facts.standing else move.day,
        words=move.lift_words(facts, old=True),
    )
    move.link(facts.task("tank-off"), facts.task("old-tank-out"))


def add_spot(move: Draft, facts: SystemFacts) -> None:
    """Add standing the new tank where the old one stood, while the animals wait elsewhere.

    Parameters
    ----------
    move : Draft
        With the old tank out of the way.
    facts : SystemFacts
        The system, in the leg that brings its animals back.
    """
    move.phase("new_tank")
    here: dict[str, Any] = {"system": facts, "place": move.facts.new.id}
    crew, words = move.tank_crew(facts), move.lift_words(facts) | {"stand_apart": False}
    move.add("place-tank", facts.times["place"], crew=crew, words=words, **here)
    move.add("plumb-tank", UNIONS, crew=hands(1), **here)
    move.link(facts.task("old-tank-out"), facts.task("place-tank"))
    move.link(facts.task("empty-test"), facts.task("place-tank"))
    move.chain(*map(facts.task, ("place-tank", "plumb-tank")))


def add_fallback(move: Draft, facts: SystemFacts) -> None:
    """Add keeping the old tank running until the new one has proven itself, and taking it down.

    Parameters
    ----------
    move : Draft
        After the last wave.
    facts : SystemFacts
        A system whose old tank still runs.
    """
    move.phase("old_tank")
    here: dict[str, Any] = {"system": facts, "place": move.facts.old.id}
    waiting = usual(WEEK, 2 * WEEK, 3 * WEEK, "the first weeks show whether the new tank carries")
    move.add("keep-fallback", waiting, kind=Kind.WAIT, **here)
    pulling = usual(5, 5, 10, "pulling plugs")
    move.add("heaters-off", pulling, crew=hands(1), words=off_too(facts.system), **here)
    move.add("heaters-cool", usual(15, 20, 30, "heaters cool under water"), kind=Kind.WAIT, **here)
    words = _equipment_words(facts)
    crew = move.fitters(sum(item.count for item in facts.system.equipment))
    move.add("strip-equipment", facts.times["strip"], crew=crew, words=words, **here)
    move.add("drain-tank", facts.times["drain"], crew=hands(1), pours=drained(move, facts), **here)
    move.chain(
        *map(facts.task, ("keep-fallback", "heaters-off", "heaters-cool", "strip-equipment", "drain-tank"))
    )
    last = "drain-tank"
    if facts.system.sand_kg:
        sand_out(move, facts, **here)
        move.link(facts.task("drain-tank"), facts.task("sand-out"))
        last = "sand-out"
    lifted = {"carried": False} | move.lift_words(facts, old=True)
    crew = move.tank_crew(facts, old=True)
    move.add("tank-off", facts.times["tank-off"], crew=crew, words=lifted, **here)
    move.link(facts.task(last), facts.task("tank-off"))
    move.link(last_watch(move, facts), facts.task("keep-fallback"))
    move.link(facts.task("keep-fallback"), facts.task("settled"))


def _equipment_words(facts: SystemFacts) -> dict[str, object]:
    equipment = counted(facts.system.equipment)
    pieces = sum(item.count for item in facts.system.equipment)
    return {"equipment": equipment or ["pump, heater and lamp"], "q_pieces": max(pieces, 3)}


def add_disposal(move: Draft, facts: SystemFacts) -> None:
    """Add cleaning the old tank and selling it or throwing it away.

    Parameters
    ----------
    move : Draft
        With the old tank empty.
    facts : SystemFacts
        A system that has got a new tank.
    """
    move.phase("old_tank")
    here: dict[str, Any] = {"system": facts, "place": move.facts.old.id}
    words = move.lift_words(facts, old=True) | {"old_mass": facts.before.tank.likely}
    move.add(
        "clean-old",
        usual(60, 120, 240, "salt and lime off panes and pipes"),
        crew=hands(1),
        may_pause=True,
        **here,
    )
    crew = move.tank_crew(facts, old=True)
    move.add(
        "sell-old", usual(60, 120, 240, "an advert, a visit, carrying it out"), crew=crew, words=words, **here
    )
    move.link(facts.task("clean-old"), facts.task("sell-old"))
    for before in ("old-tank-out", "tank-off", "sand-out", "drain-tank"):
        if move.has_own(facts.task(before)):
            move.link(facts.task(before), facts.task("clean-old"))
            break
    if not move.has_own(facts.task("keep-fallback")):
        move.link(last_watch(move, facts), facts.task("clean-old"), gap=RESTED_MIN)
