"""The rebuild: stand and tank, sand, rock, water, pumps, warmth, and the two hold points before animals."""

from __future__ import annotations

from typing import Any

from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import hands, usual
from moveplan.practice.ledger.pouring import emptied, refilled
from moveplan.practice.phases.day.old_tank import UNIONS
from moveplan.practice.phases.day.release import valves
from moveplan.practice.phases.day.teardown import filled_by, filtered, names
from moveplan.quantities.containers.damp import media_breathe, rock_breathes
from moveplan.quantities.containers.vessels import Use
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.freight.freight import Load
from moveplan.quantities.handling import together
from moveplan.quantities.warming import ice_bottles

FLOWS_MIN = 5
"""From the first plug to water that turns over and heaters that glow; common practice, no source. [min]"""
MIXED_MIN = FLOWS_MIN + 5
"""From the first plug to a sample that stands for the whole tank: circulation pumps turn it over every two or three
minutes; common practice, no source. [min]"""
LOOK_MIN = 20
"""From the first plug to joints and seams being felt, which ends half an hour after it; common practice, no source.
[min]"""


def add_rebuild(move: Draft, facts: SystemFacts) -> None:
    """Add rebuilding one system on the day, or joining its rock to a tank that already runs."""
    move.phase("rebuild")
    day: dict[str, Any] = {"system": facts, "place": move.facts.new.id, "day": move.day}
    if not facts.standing:
        _add_tank(move, facts, day)
    if facts.system.rock_kg or not facts.standing or facts.of_use(Use.MEDIA):
        tubs = facts.of_use(Use.ROCK) + (facts.of_use(Use.MEDIA) if facts.standing else ())
        words: dict[str, object] = {"moved_rock": facts.system.rock_kg}
        laid = emptied(move, tubs)
        kg = facts.system.rock_kg if facts.standing else facts.rebuilt.rock_kg
        move.add("rock-in", facts.times["rock-in"], crew=move.heavers(kg), words=words, pours=laid, **day)
        for tub in tubs:
            move.use((tub,), filled_by(move, facts, tub), facts.task("rock-in"))
    if not facts.standing:
        _add_water(move, facts, day)
    measuring = usual(15, 20, 30, "a row of tests, ammonia twice")
    move.add("measure-water", measuring, crew=hands(1, "cares"), **day)
    signing = usual(5, 5, 10, "temperature of tank and boxes, and a signature")
    opened = valves(facts)
    if opened:
        signing = together(signing, usual(2, 3, 5, "boxes bailed down, valves opened"))
    gate: dict[str, object] = {"valves": opened}
    move.add("water-matched", signing, kind=Kind.HOLD_POINT, crew=hands(1, "cares"), words=gate, **day)
    move.link(facts.task("measure-water"), facts.task("water-matched"))
    _link_arrival(move, facts)
    _link_air(move, facts)
    if facts.standing:
        _link_standing(move, facts)
    else:
        _link_tank(move, facts)
        _link_water(move, facts)


def _add_tank(move: Draft, facts: SystemFacts, day: dict[str, Any]) -> None:
    times = facts.times
    if not facts.shift.placed:
        crew, words = move.tank_crew(facts), move.lift_words(facts)
        apart = move.drives and crew.count > 1  # one levels the stand while the others carry in
        if apart:
            move.add("place-stand", times["stand-on"], crew=hands(1, "lifts"), **day)
        words["stand_apart"] = apart
        move.add("place-tank", times["tank-on" if apart else "place"], crew=crew, words=words, **day)
        joining = UNIONS if facts.shift.benched else times["plumb"]
        move.add("plumb-tank", joining, crew=hands(1), **day)
        move.link(facts.task("place-tank"), facts.task("plumb-tank"))
    if facts.rebuilt.sand_kg > 0:
        add_sand(move, facts, day)


def add_sand(move: Draft, facts: SystemFacts, where: dict[str, Any]) -> None:
    """Add laying sand into an empty tank."""
    kg = facts.rebuilt.sand_kg
    move.add("sand-in", facts.times["sand-in"], crew=move.heavers(kg, 1), words={"sand": kg}, **where)


def _add_water(move: Draft, facts: SystemFacts, day: dict[str, Any]) -> None:
    times = facts.times
    move.add("fill-tank", times["fill"], crew=move.fillers(facts), pours=refilled(move, facts), **day)
    for tub in facts.of_use(Use.OLD_WATER, Use.MEDIA):
        move.use((tub,), filled_by(move, facts, tub), facts.task("fill-tank"))
    if facts.cans:
        move.use(facts.of_use(Use.NEW_WATER), facts.task("fill-cans"), facts.task("fill-tank"))
    words: dict[str, object] = {"anemones": names(facts.of_group("anemone"))}
    move.add("connect-equipment", times["connect-first"], crew=hands(1), words=words, **day)
    move.add("start-equipment", usual(5, 10, 20, "plugs, one by one"), crew=hands(1), **day)
    move.add("mount-rest", times["mount-rest"], crew=hands(1), **day)
    filled_l, arrival = facts.volumes.total.likely, facts.handled.arrival
    ice = arrival and ice_bottles(facts.rebuilt, filled_l, move.facts.new, arrival, move.policy)
    move.add("warm-water", times["warm"], kind=Kind.WAIT, words={"ice": ice}, **day)
    checking = usual(5, 10, 20, "a dry tissue to every joint")
    move.add("leak-check", checking, kind=Kind.HOLD_POINT, crew=hands(1), **day)


def _link_arrival(move: Draft, facts: SystemFacts) -> None:
    """Let the rebuild wait for what is carried in, or, within one home, for what comes out of the old tank."""
    task = facts.task
    place, rock = _placed_first(move, facts), task("rock-in")
    rock = rock if move.has_own(rock) else task("fill-tank")
    for load in move.facts.trips.loads:
        subject = move.trip_subject(load)
        rest = rock if _carries_rock(move, load) else task("fill-tank")
        for before, after in ((f"unload-tank-{subject}", place), (f"unload-rest-{subject}", rest)):
            carried = after != place or not facts.shift.placed
            if carried and move.has_own(before) and move.has_own(after):
                move.link(before, after)
        if move.has_own(f"unload-animals-{subject}"):
            move.link(f"unload-animals-{subject}", task("water-matched"))
    if move.drives:
        return
    waits = [
        ("old-tank-out", "place-stand"),
        ("old-tank-out", "place-tank"),
        ("strip-equipment", "connect-equipment"),
        ("strip-lamps", "mount-rest"),
        ("seal-fish", "water-matched"),
    ]
    for first, last in waits:
        if move.has_own(task(first)) and move.has_own(task(last)):
            move.link(task(first), task(last))


def _placed_first(move: Draft, facts: SystemFacts) -> str:
    """Id of the task with which the tank begins to be set up: its stand, where that is apart."""
    stand = facts.task("place-stand")
    return stand if move.has_own(stand) else facts.task("place-tank")


def _carries_rock(move: Draft, load: Load) -> bool:
    """Whether a load brings rock; where nothing else comes with it, everything waits for it alike."""
    rock = {vessel.number for facts in move.facts.systems for vessel in facts.of_use(Use.ROCK)}
    return any(item.number in rock for item in load.items) or not rock


def _link_air(move: Draft, facts: SystemFacts) -> None:
    """Rock and media are back in the tank before the air under their lids is used up."""
    task, tubs = facts.task, facts.tubs
    media_in = "rock-in" if facts.standing else "fill-tank"
    for out, into, lasts in (
        ("rock-out", "rock-in", rock_breathes(tubs, facts.system)),
        ("pack-media", media_in, media_breathe(tubs, facts.system, filtered(move, facts))),
    ):
        if tubs.count and move.has_own(task(out)) and move.has_own(task(into)):
            move.link(task(out), task(into), at_most=60 * int(lasts.low), any_length=True)


def _link_standing(move: Draft, facts: SystemFacts) -> None:
    task = facts.task
    stirred = task("rock-in") if move.has_own(task("rock-in")) else task("no-way-back")
    move.link(stirred, task("measure-water"))
    for ready in ("settle-water", "change-before"):
        if move.has_own(task(ready)):
            move.link(task(ready), "go-or-no-go")


def _link_tank(move: Draft, facts: SystemFacts) -> None:
    task = facts.task
    chain = [key for key in ("place-stand", "place-tank", "sand-in", "rock-in") if move.has_own(task(key))]
    move.chain(*map(task, chain))
    if move.has_own(task("plumb-tank")):
        move.link(task("plumb-tank"), task("fill-tank"))
        move.link(task("plumb-tank"), task("connect-equipment"))
    if facts.shift.placed or facts.shift.benched:
        before = "cure-mortar" if move.has(task("cure-mortar")) else "empty-test"
        move.link(task(before), "go-or-no-go")
        for load in move.facts.trips.loads:
            subject = move.trip_subject(load)
            if move.has_own(f"unload-tank-{subject}"):
                move.link(f"unload-tank-{subject}", task("connect-equipment"))


def _link_water(move: Draft, facts: SystemFacts) -> None:
    task = facts.task
    move.chain(*map(task, ("rock-in", "fill-tank", "start-equipment")))
    for before in ("warm-water", "start-equipment"):
        move.link(task(before), task("water-matched"))
    move.link(task("connect-equipment"), task("start-equipment"))
    for after, gap in (("warm-water", FLOWS_MIN), ("measure-water", MIXED_MIN), ("leak-check", LOOK_MIN)):
        move.link(task("start-equipment"), task(after), relation=Relation.STARTTOSTART, gap=gap)
    move.link(task("leak-check"), task("water-matched"))
    move.link(task("connect-equipment"), task("mount-rest"))
