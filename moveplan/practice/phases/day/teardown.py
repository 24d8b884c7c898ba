"""The moving day at the old home, in trade order: clean water, corals, rock, invertebrates, fish, sand, tank."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from moveplan.estimate import Estimate
from moveplan.network.link import Relation
from moveplan.network.task import Kind
from moveplan.plan.systems import System
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import fixed, hands, usual
from moveplan.practice.drafting.touch import hard_to_catch, taken_out, under_water, with_gloves
from moveplan.practice.ledger.entries import Entries
from moveplan.practice.ledger.pour_words import listing, runs
from moveplan.practice.ledger.pouring import bagged, drawn, filled_early, lowered
from moveplan.practice.phases.day.things import add_things, link_things
from moveplan.quantities.containers.damp import media_breathe, rock_breathes
from moveplan.quantities.containers.vessels import Use, Vessel
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.handling import together
from moveplan.quantities.keeping.filter_load import ammonia_load
from moveplan.quantities.safe_time.gas_hours import OXYGEN_L_MIN
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.quantities.water.old_water import catch_depth_m
from moveplan.quantities.water.pouring import pouring, water_flow

OFF_TOO = ("dosing", "reactor", "chiller", "controller", "uv", "ozone")
"""What doses, shines on or oxidises still water, lives on flow or switches heaters; common practice, no source."""
READ_MIN = 10
"""The first readings need the heaters on so long; common practice, no source. [min]"""
SHALLOW_MIN = 15
"""Longest that fish stand in low water before somebody catches them; common practice, no source. [min]"""
SINK_L_MIN = 15.0
"""What the waste of a sink takes for long; common practice, no source. [l/min]"""


def add_teardown(move: Draft, facts: SystemFacts) -> None:
    """Add taking one system down."""
    move.phase("teardown")
    _add_morning(move, facts)
    _add_animals(move, facts)
    add_things(move, facts, _day(move, facts))
    link_things(move, facts)


def _day(move: Draft, facts: SystemFacts) -> dict[str, Any]:
    return {"system": facts, "place": move.facts.old.id, "day": move.day}


def _add_morning(move: Draft, facts: SystemFacts) -> None:
    day: dict[str, Any] = _day(move, facts)
    words: dict[str, object] = {"trapped": hard_to_catch(facts.groups)}
    move.add(
        "record-morning",
        usual(15, 20, 30, "two rows of readings"),
        crew=hands(1, "cares"),
        words=words,
        **day,
    )
    _add_drawing(move, facts, day)
    move.add("heaters-off", fixed(5, "pulling plugs"), crew=hands(1), words=off_too(facts.system), **day)
    move.add("heaters-cool", usual(15, 20, 30, "heaters cool under water"), kind=Kind.WAIT, **day)
    move.add(
        "no-way-back",
        usual(5, 5, 15, "a last round of questions"),
        kind=Kind.HOLD_POINT,
        crew=hands(1),
        **day,
    )
    setting_up = move.handling.work("draw-setup", 1)
    move.add("lay-hoses", setting_up, crew=hands(1), **day)
    start, task = Relation.STARTTOSTART, facts.task
    move.link(task("record-morning"), task("lay-hoses"), relation=start)
    move.link(task("lay-hoses"), _first_draw(move, facts))
    move.link(task("record-morning"), task("heaters-off"), relation=start, gap=READ_MIN)
    move.chain(*map(task, ("heaters-off", "heaters-cool")))
    move.link(task("heaters-off"), _first_draw(move, facts))
    if move.has_own(task("pack-media")):
        move.link(task("heaters-off"), task("pack-media"))
    move.link(task("heaters-cool"), task("draw-keep-water"), relation=Relation.FINISHTOFINISH)
    move.link(task("record-morning"), task("no-way-back"))


def _add_drawing(move: Draft, facts: SystemFacts, day: dict[str, Any]) -> None:
    """Fill the containers of the corals first, so that they are lifted while the rest is drawn."""
    media = {vessel.account for vessel in facts.of_use(Use.MEDIA)}
    entries = tuple(one for one in drawn(facts) if one[1] not in media)
    corals = {vessel.account for vessel in facts.of_use(Use.CORALS)}
    first = tuple(one for one in entries if one[1] in corals)
    rest = tuple(one for one in entries if one[1] not in corals)
    if not (first and rest):
        first, rest = (), entries
    words: dict[str, object] = {"drawn_first": bool(first)}
    if first:
        move.add("draw-first", _drawing(move, facts, first), crew=hands(1), pours=first, words=words, **day)
    lasts = _drawing(move, facts, rest)
    move.add("draw-keep-water", lasts, crew=hands(1), pours=rest, words=words, **day)
    if first:
        move.link(facts.task("draw-first"), facts.task("draw-keep-water"))
    if media:
        _add_media(move, facts, tuple(one for one in drawn(facts) if one[1] in media), day)


def _add_media(move: Draft, facts: SystemFacts, own: Entries, day: dict[str, Any]) -> None:
    """Pack the media of the filter, which breathe the air under their lid from then on."""
    breathes: dict[str, object] = {
        "breathes": _told_h(media_breathe(facts.tubs, facts.system, filtered(move, facts)))
    }
    packing = usual(10, 15, 30, "lifting media into a tub")
    move.add("pack-media", packing, crew=hands(1), words=breathes, pours=own, **day)


def _drawing(move: Draft, facts: SystemFacts, entries: Entries) -> Estimate:
    """Time to fill containers with the hoses laid and the pump set."""
    flow = water_flow(move.plan.gear, facts.volumes.total.likely, move.policy)
    litres, containers = sum(entry[2] for entry in entries), len({entry[1] for entry in entries})
    whole = pouring(litres, containers, move.handling, flow)
    return together(*(part for _, part in whole.inputs[1:]))


def _first_draw(move: Draft, facts: SystemFacts) -> str:
    """Id of the task that draws the first water: that of the corals, where there are any."""
    first = facts.task("draw-first")
    return first if move.has_own(first) else facts.task("draw-keep-water")


def filled_by(move: Draft, facts: SystemFacts, vessel: Vessel) -> str:
    """Id of the task that fills a container at the old tank."""
    if not filled_early(facts, vessel):
        return facts.task("seal-fish")
    if vessel.use is Use.MEDIA:
        return facts.task("pack-media")
    return _first_draw(move, facts) if vessel.use is Use.CORALS else facts.task("draw-keep-water")


def off_too(system: System) -> dict[str, object]:
    """Name what doses or treats water and is switched off with the heaters."""
    return {"off_too": [item.name for item in system.equipment if item.kind in OFF_TOO]}


def count_of(groups: tuple[GroupFacts, ...]) -> int:
    """How many animals there are in all."""
    return sum(group.count for group in groups)


def names(groups: tuple[GroupFacts, ...]) -> list[str]:
    """Name groups with their counts, for a text."""
    return [f"{group.count} × {group.livestock.name}" for group in groups]


def placed(facts: SystemFacts, groups: tuple[GroupFacts, ...]) -> list[str]:
    """Name groups with their counts and the containers that they go into at once, for a text."""
    return [
        f"{name} ({listing(runs(numbers))})" if numbers else name
        for name, group in zip(names(groups), groups, strict=True)
        for numbers in [[one.number for one in holding(facts, (group,)) if filled_early(facts, one)]]
    ]


def holding(facts: SystemFacts, groups: tuple[GroupFacts, ...], use: Use = Use.ANIMALS) -> tuple[Vessel, ...]:
    """List the containers in which groups travel."""
    ids = {group.livestock.id for group in groups}
    return tuple(vessel for vessel in facts.of_use(use) if set(vessel.livestock) & ids)


def _closed_words(move: Draft, facts: SystemFacts, groups: tuple[GroupFacts, ...]) -> dict[str, object]:
    """Say whether any container of groups is aired or wrapped."""
    boxes = holding(facts, groups)
    return {
        "aired": any(one.stones for one in boxes),
        "wrapped": any(one.wrapped for one in boxes),
        **_oxygen_words(move, boxes),
    }


def _oxygen_words(move: Draft, boxes: Sequence[Vessel]) -> dict[str, str]:
    """Say into which containers oxygen runs; empty where into none."""
    fed = [one.number for one in boxes if one.oxygen_l]
    return {"oxygen": move.phrase("oxygen-on", numbers=listing(runs(fed)), flow=OXYGEN_L_MIN) if fed else ""}


def _gas(words: dict[str, object]) -> tuple[str, ...]:
    """Warn of cylinders where oxygen is said to run."""
    return ("gas",) if words["oxygen"] else ()


def _add_animals(move: Draft, facts: SystemFacts) -> None:
    day: dict[str, Any] = _day(move, facts)
    corals, fish, others = facts.of_group(*CORALS), facts.of_group(*FISH), facts.invertebrates()
    words: dict[str, object]
    before = facts.task("no-way-back")
    if corals:
        words = {
            "coral_count": sum(group.count for group in corals),
            "zoanthids": any(group.kind.group == "zoanthid" for group in corals),
            **_oxygen_words(move, holding(facts, corals, Use.CORALS)),
        }
        crew = move.care_crew()
        out_min = facts.times["corals-out"]
        move.add("corals-out", out_min, crew=crew, words=words, handled=corals, dangers=_gas(words), **day)
        move.link(before, facts.task("corals-out"))
        move.link(_first_draw(move, facts), facts.task("corals-out"))
    _add_rock(move, facts, after_corals=bool(corals))
    if others:
        shrimps = bool(others[1:]) and any(group.kind.group == "shrimp" for group in others)
        words = {
            "animals": placed(facts, others),
            "wet": under_water(others),
            "shrimps": shrimps,
            **_closed_words(move, facts, others),
        }
        move.add(
            "invertebrates-out",
            facts.times["invertebrates-out"],
            crew=move.care_crew(count_of(others)),
            words=words,
            handled=others,
            dangers=_gas(words),
            **day,
        )
        move.link(facts.task("rock-out"), facts.task("invertebrates-out"))
    trapped, tipped_min = tuple(one for one in fish if taken_out(one) == "empty-trap"), 0
    if trapped:
        count = count_of(trapped)
        crew = move.box_crew(count)
        tipping = move.handling.work("trap-fish", count, crew.count)
        lifting = together(move.handling.work("job-setup", 1), tipping)
        tipped_min = max(math.ceil(lifting.high) - SHALLOW_MIN, 0)
        words = {
            "trapped": placed(facts, trapped),
            "notes": move.glove_words(with_gloves(trapped)),
            **_closed_words(move, facts, trapped),
        }
        move.add("empty-trap", lifting, crew=crew, words=words, handled=trapped, **day)
        first = ("rock-out", "invertebrates-out") if others else ("rock-out",)
        move.chain(*map(facts.task, (*first, "empty-trap", "lower-water")))
    if fish:
        free = tuple(one for one in fish if one not in trapped)
        move.add(
            "catch-fish",
            facts.times["catch"],
            crew=move.care_crew(),
            words={
                "animals": placed(facts, free),
                "notes": move.glove_words(with_gloves(free)),
                "trapped": hard_to_catch(fish),
                "bagged": all(group.packing.bagged for group in fish),
                "some_bagged": any(one.kind == "bag" and filled_early(facts, one) for one in facts.vessels),
                "wrapped": any(one.wrapped for one in holding(facts, free)),
            },
            handled=fish,
            **day,
        )
        words = {
            "packing": move.packing_words(fish, facts.vessels),
            "bags": any(one.packing.bagged for one in fish),
            "open": not all(one.packing.bagged for one in fish),
            **_closed_words(move, facts, fish),
        }
        move.add(
            "seal-fish",
            facts.times["seal"],
            crew=move.bag_crew(facts),
            words=words,
            dangers=_gas(words),
            pours=bagged(move, facts),
            **day,
        )
        move.link(facts.task("lower-water"), facts.task("catch-fish"), at_most=SHALLOW_MIN)
        move.link(facts.task("catch-fish"), facts.task("seal-fish"))
        between = ("lower", "invertebrates-out") if others else ("lower",)
        waits = SHALLOW_MIN + tipped_min + sum(math.ceil(facts.times[key].high) for key in between)
        move.link(facts.task("rock-out"), facts.task("catch-fish"), at_most=waits)
        if others:
            move.link(facts.task("invertebrates-out"), facts.task("catch-fish"))
        move.use(facts.of_use(Use.WAITING), facts.task("draw-keep-water"), facts.task("seal-fish"))


def link_catches(move: Draft) -> None:
    """Let fish that are soon caught stay in their tank until the longest catch has begun, none in a box."""
    caught = [facts for facts in move.facts.systems if move.has_own(facts.task("catch-fish"))]
    longest = max(caught, key=lambda one: one.times["catch"].likely, default=None)
    for facts in caught:
        if longest and facts is not longest:
            start = Relation.STARTTOSTART
            move.link(longest.task("catch-fish"), facts.task("catch-fish"), relation=start)


def _add_rock(move: Draft, facts: SystemFacts, *, after_corals: bool) -> None:
    day: dict[str, Any] = _day(move, facts)
    breathes: dict[str, object] = {"breathes": _told_h(rock_breathes(facts.tubs, facts.system))}
    move.add(
        "rock-out", facts.times["rock-out"], crew=move.heavers(facts.system.rock_kg), words=breathes, **day
    )
    words: dict[str, object] = {
        "depth": catch_depth_m(facts.system),
        "ground": "sand" if facts.system.sand_kg else "base",
        "fish_wait": bool(facts.of_group(*FISH)),
        "l_min": water_flow(move.plan.gear, facts.volumes.total.likely, move.policy).likely,
        "sink": SINK_L_MIN,
    }
    move.add(
        "lower-water",
        facts.times["lower"],
        crew=hands(1),
        words=words,
        pours=lowered(move, facts),
        **day,
    )
    if after_corals:
        move.link(facts.task("corals-out"), facts.task("rock-out"))
    move.link(facts.task("draw-keep-water"), facts.task("rock-out"))
    move.link(facts.task("no-way-back"), facts.task("rock-out"))
    move.link(facts.task("rock-out"), facts.task("lower-water"))


def filtered(move: Draft, facts: SystemFacts) -> float:
    """Ammonia that the filter of a system takes up in a day, as nitrogen. [mg N/day]."""
    groups = tuple((group.livestock, group.count) for group in facts.groups)
    return ammonia_load(facts.system, groups, move.policy).likely


def _told_h(lasts: Estimate) -> int:
    """Whole hours, as minutes. [min]."""
    return 60 * int(lasts.low)
