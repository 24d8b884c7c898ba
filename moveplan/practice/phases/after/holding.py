"""A holding system: set up and seeded in time, loaded within its capacity, looked after, and taken down again."""

from __future__ import annotations

import math
from datetime import timedelta
from typing import Any

from babel.dates import format_date

from moveplan.errors import Problem
from moveplan.hours import free_time
from moveplan.network.link import Relation
from moveplan.network.task import Kind, Repeat, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, HOUR, WEEK, hands, usual
from moveplan.practice.ledger.entries import DRAIN, PURIFIED
from moveplan.practice.ledger.pouring import changes, drained, mixed_batch, poured_new, topped
from moveplan.practice.phases.after.close import last_watch
from moveplan.practice.phases.before.fasting import note_first_feed
from moveplan.practice.phases.before.new_tank import add_leak_test
from moveplan.practice.phases.before.ripening import AGAIN_DAYS
from moveplan.practice.phases.before.water import fetching, link_pouring
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.handling import together
from moveplan.quantities.keeping.holding import Holding, holding_of
from moveplan.quantities.keeping.upkeep import Upkeep
from moveplan.quantities.leg.mixing import USUAL_BATCH_L
from moveplan.quantities.leg.numbered import CAN_L
from moveplan.quantities.water.amounts import making_of

AHEAD_DAYS = 2
"""Water for changes every day is mixed so many days before the last batch is used up; assumed. [day]"""


def holding_for(move: Draft, facts: SystemFacts) -> Holding:
    """Hold the animals of a system against the holding system that they go into."""
    groups = tuple((group.livestock, group.count) for group in facts.groups)
    return holding_of(facts.rebuilt, facts.volumes.total, groups, move.policy)


def add_set_up(move: Draft, facts: SystemFacts) -> None:
    """Add setting a holding system up and seeding it.

    Parameters
    ----------
    move : Draft
        In the leg that brings animals into it.
    facts : SystemFacts
        A system whose animals wait in it.
    """
    move.phase("holding")
    words = _words(move, facts)
    here: dict[str, Any] = {"system": facts, "place": move.facts.new.id, "words": words}
    times = facts.times
    setting = together(usual(30, 60, 120, "a firm base, tank, lid, shelter"), times["connect"])
    move.add("set-up-holding", setting, crew=move.tank_crew(facts), **here)
    add_leak_test(move, facts, {"system": facts, "place": move.facts.new.id})
    move.add("fill-holding", times["fill"], crew=hands(1), pours=poured_new(facts), **here)
    move.add("warm-holding", times["warm"], kind=Kind.WAIT, **here)
    move.add(
        "seed-holding",
        usual(15, 30, 60, "a sponge or a bag of media moved over wet"),
        crew=hands(1, "cares"),
        **here,
    )
    settling = usual(3 * DAY, 7 * DAY, 14 * DAY, "a seeded filter finds its feet")
    move.add("run-holding", settling, kind=Kind.WAIT, **here)
    move.add(
        "holding-ready",
        usual(15, 20, 30, "a row of readings"),
        kind=Kind.HOLD_POINT,
        crew=hands(1, "cares"),
        timing=Timing.LATE,
        margin_min=AGAIN_DAYS * DAY,
        **here,
    )
    move.chain(*map(facts.task, ("set-up-holding", "fill-test")))
    chain = ("empty-test", "fill-holding", "warm-holding", "seed-holding", "run-holding", "holding-ready")
    move.chain(*map(facts.task, chain))
    move.link("wait-gear", facts.task("set-up-holding"))
    link_pouring(move, facts.task("fill-holding"))
    move.link(facts.task("holding-ready"), "go-or-no-go")
    if move.has("keys-early") and move.facts.new.id == move.final.new.id:
        move.link("keys-early", facts.task("set-up-holding"))
    _judge(move, facts)


def _words(move: Draft, facts: SystemFacts) -> dict[str, object]:
    holding = holding_for(move, facts)
    return {
        "holding": holding,
        "litres": facts.volumes.total.likely,
        "fifth": 0.2 * facts.volumes.total.likely,
        "animals": [f"{group.count} × {group.livestock.name}" for group in facts.groups],
        "jumpers": [group.livestock.name for group in facts.groups if "jumps" in group.kind.container],
        "vet": move.vet(),
    }


def _judge(move: Draft, facts: SystemFacts) -> None:
    """Say it where the holding system is too small, or holds enemies."""
    holding = holding_for(move, facts)
    names = {group.livestock.id: group.livestock.name for group in facts.groups}
    where = _where(move, facts)
    if holding.too_many:
        move.unsafe.append(_overcrowded(facts, holding, [names[one] for one in holding.too_many], where))
    for one, other in holding.enemies:
        move.unsafe.append(
            Problem(
                f"{names[one]} cannot wait in {facts.rebuilt.name} with {names[other]}, which it may eat, sting or "
                "bully to death in a narrow tank",
                move.plan.where(f"livestock.{one}"),
                "board one of the two (boarded: …), or find it a new keeper (leaves: …)",
            )
        )


def _where(move: Draft, facts: SystemFacts) -> str:
    for system in move.plan.systems:
        if system.role == "holding" and system.name == facts.rebuilt.name:
            return move.plan.where(f"systems.{system.id}")
    return move.plan.where(f"systems.{facts.system.id}")


def _overcrowded(facts: SystemFacts, holding: Holding, gone: list[str], where: str) -> Problem:
    fish = holding.needed.likely > holding.volume.likely
    need = (
        f"its fish need {holding.needed.likely:.0f} l, it holds {holding.volume.likely:.0f} l"
        if fish
        else f"its corals need {holding.rack_needed:.2f} m² of rack, it has {holding.rack:.2f} m²"
    )
    return Problem(
        f"{facts.rebuilt.name} would be overcrowded: {need}; {', '.join(gone)} would have to go",
        where,
        "board them, find new keepers, or write a larger holding system",
    )


def add_care(move: Draft, facts: SystemFacts) -> None:
    """Add the daily and weekly care of animals that wait.

    Parameters
    ----------
    move : Draft
        In the leg that has brought animals into it.
    facts : SystemFacts
        A system whose animals wait in it.
    """
    move.phase("holding")
    upkeep = next(one for one in move.upkeep() if one.system == facts.system.id)
    here: dict[str, Any] = {
        "system": facts,
        "place": move.facts.new.id,
        "words": _words(move, facts) | {"upkeep": upkeep},
    }
    caring, watch = hands(1, "cares"), last_watch(move, facts)
    _say_unwatched(move, facts)
    looking = usual(10, 15, 25, "a count, three readings, a small meal, topping up")
    if upkeep.daily_l:
        looking = together(looking, usual(10, 15, 25, "a change of water"))
    repeat = _repeat(DAY, upkeep.looks, 8 * HOUR)
    if upkeep.mixings:
        _add_mixing(move, facts, upkeep, here)
    looked = topped(facts, upkeep.top_up_l_day, 0.0) + changes(facts, upkeep.daily_l)
    move.add("look-holding", looking, crew=caring, repeats=repeat, pours=looked, **here)
    move.link(watch, facts.task("look-holding"), gap=12 * HOUR, at_most=30 * HOUR)
    note_first_feed(move, facts, facts.task("look-holding"))
    if upkeep.changes:
        changing = usual(30, 45, 75, "a water change and a full row of readings")
        repeat = _repeat(WEEK, upkeep.changes, 2 * DAY)
        swap = changes(facts, upkeep.change_l)
        move.add("change-holding", changing, crew=caring, repeats=repeat, pours=swap, **here)
        move.link(watch, facts.task("change-holding"), gap=5 * DAY, at_most=9 * DAY)
        _link_mixing(move, facts, upkeep)


def _say_unwatched(move: Draft, facts: SystemFacts) -> None:
    """Name the weekdays on which nobody who cares for animals has an hour for those who wait."""
    plan, first = move.plan, move.legs[0].leg.days[-1]
    waited = [first + timedelta(days=number) for number in range(1, move.days_waiting())]
    carers = [one for one in plan.people if one.cares]
    bare = [
        day
        for day in waited
        if not any(free_time(one.hours, one.absences, day, day, plan.zone) for one in carers)
    ]
    if bare:
        named = list(dict.fromkeys(format_date(day, "EEEE", locale=plan.locale) for day in bare))
        move.hints.append(move.phrase("nobody-looks", count=len(bare), days=named, name=facts.rebuilt.name))


def _add_mixing(move: Draft, facts: SystemFacts, upkeep: Upkeep, here: dict[str, Any]) -> None:
    """Add the making of the salt water for changes, a batch a week."""
    mixing = move.handling.work("unit-mix", math.ceil(upkeep.batch_l / USUAL_BATCH_L))
    cans = math.ceil((upkeep.batch_purified_l + upkeep.batch_topping_l) / CAN_L)
    makes = making_of(move.plan).rate_l_day > 0
    water = usual(10, 15, 30, "hoses, a storage that fills") if makes else fetching(cans)
    move.add(
        "mix-change-water",
        together(water, mixing),
        crew=hands(1) if makes else hands(1, "lifts"),
        repeats=_repeat(upkeep.days_a_batch * DAY, upkeep.mixings, 8 * HOUR if upkeep.daily_l else DAY),
        pours=mixed_batch(facts, upkeep),
        **here | {"words": here["words"] | {"makes": makes, "cans": cans}},
    )
    begins = (upkeep.days_a_batch - AHEAD_DAYS) * DAY if upkeep.daily_l else 0
    soon, gap = begins + (DAY if upkeep.daily_l else 5 * DAY), begins + 12 * HOUR
    move.link(last_watch(move, facts), facts.task("mix-change-water"), gap=gap, at_most=soon)


def _link_mixing(move: Draft, facts: SystemFacts, upkeep: Upkeep) -> None:
    """Let each batch stand for a night before its change, however far both may be moved, and not grow old."""
    if upkeep.daily_l:
        return
    before, after = facts.task("mix-change-water"), facts.task("change-holding")
    rests = 3 * DAY + 12 * HOUR
    move.link(before, after, relation=Relation.STARTTOSTART, gap=rests, at_most=rests + 3 * DAY)


def _repeat(every_min: int, times: int, slack_min: int) -> Repeat | None:
    return Repeat(every_min, times, slack_min) if times > 1 else None


def link_care(move: Draft, facts: SystemFacts) -> None:
    """Tie the care of those who wait to the day on which they go on.

    Parameters
    ----------
    move : Draft
        In the leg that takes animals out of it.
    facts : SystemFacts
        A system whose animals have waited in it.
    """
    for care in ("look-holding", "mix-change-water", "change-holding"):
        if move.has(facts.task(care)):
            move.link(facts.task(care), "go-or-no-go")


def add_take_down(move: Draft, facts: SystemFacts) -> None:
    """Add taking the holding system down, which stays where it stands.

    It stays ready through the first night, so that they can go back: see the links of the first look.

    Parameters
    ----------
    move : Draft
        In the leg that has taken the animals out of it.
    facts : SystemFacts
        A system whose animals have waited in it.
    """
    move.phase("holding")
    cleaning = usual(45, 90, 150, "draining, wiping, drying, putting away")
    rest = move.balances.emptied((f"new:{facts.shift.out_of.partition(':')[2]}",))
    upkeep = next(one for one in move.upkeep() if one.system == facts.system.id)
    rest += ((PURIFIED, DRAIN, upkeep.topping_left_l),)
    here: dict[str, Any] = {"system": facts, "place": move.facts.old.id, "crew": hands(1)}
    move.add("clear-holding", cleaning, may_pause=True, pours=(*drained(move, facts), *rest), **here)
