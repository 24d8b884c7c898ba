"""A holding system: set up and seeded in time, loaded within its capacity, looked after, and taken down again."""

from __future__ import annotations

from typing import Any

from moveplan.errors import Problem
from moveplan.network.link import Relation
from moveplan.network.task import Kind, Repeat, Timing
from moveplan.practice.draft import DAY, HOUR, WEEK, Draft, hands, usual
from moveplan.practice.phases.close import last_watch
from moveplan.practice.phases.ripening import AGAIN_DAYS
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.handling import together
from moveplan.quantities.holding import Holding, holding_of
from moveplan.times import local_day


def holding_for(move: Draft, facts: SystemFacts) -> Holding:
    """Hold the animals of a system against the holding system that they go into."""
    groups = tuple((group.livestock, group.count) for group in facts.groups)
    return holding_of(facts.rebuilt, facts.volumes.total, groups, move.policy)


def add_set_up(move: Draft, facts: SystemFacts) -> None:
    """Add setting a holding system up and seeding it.

    Parameters
    ----------
    move : Draft
        In the leg that brings animals into it. [-]
    facts : SystemFacts
        A system whose animals wait in it. [-]
    """
    move.phase("holding")
    words = _words(move, facts)
    here: dict[str, Any] = {"system": facts, "place": move.facts.new.id, "words": words}
    times = facts.times
    setting = together(usual(30, 60, 120, "a firm base, tank, lid, shelter"), times["connect"])
    move.add("set-up-holding", setting, crew=move.team(2), **here)
    move.add("fill-holding", times["fill"], crew=hands(1), **here)
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
    chain = ("set-up-holding", "fill-holding", "warm-holding", "seed-holding", "run-holding", "holding-ready")
    move.chain(*map(facts.task, chain))
    move.link("wait-gear", facts.task("set-up-holding"))
    move.link("trim-water", facts.task("fill-holding"), at_most=14 * DAY)
    move.link(facts.task("holding-ready"), "go-or-no-go")
    if move.has("keys-early") and move.facts.new.id == move.final.new.id:
        move.link("keys-early", facts.task("set-up-holding"))
    _judge(move, facts)


def _words(move: Draft, facts: SystemFacts) -> dict[str, object]:
    holding = holding_for(move, facts)
    return {
        "holding": holding,
        "litres": facts.volumes.total.likely,
        "change_l": holding.change * facts.volumes.total.likely,
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
        In the leg that has brought animals into it. [-]
    facts : SystemFacts
        A system whose animals wait in it. [-]
    """
    move.phase("holding")
    days = _days_waiting(move)
    here: dict[str, Any] = {
        "system": facts,
        "place": move.facts.new.id,
        "crew": hands(1, "cares"),
        "words": _words(move, facts),
    }
    looking = min(max(days - 1, 1), 10)
    move.add(
        "look-holding",
        usual(10, 15, 25, "a count and three readings"),
        repeats=_repeat(DAY, looking, 8 * HOUR),
        **here,
    )
    move.link(last_watch(move, facts), facts.task("look-holding"), gap=6 * HOUR, at_most=30 * HOUR)
    weeks = (days - 4) // 7
    if weeks >= 1:
        changing = usual(30, 45, 75, "a water change and a full row of readings")
        move.add("change-holding", changing, repeats=_repeat(WEEK, weeks, 2 * DAY), **here)
        gap = 5 * DAY
        move.link(last_watch(move, facts), facts.task("change-holding"), gap=gap, at_most=gap + 4 * DAY)


def _repeat(every_min: int, times: int, slack_min: int) -> Repeat | None:
    return Repeat(every_min, times, slack_min) if times > 1 else None


def _days_waiting(move: Draft) -> int:
    first, second = (facts.leg.days[-1] for facts in move.legs)
    zone = move.plan.zone
    return (local_day(second, zone).start - local_day(first, zone).start + HOUR) // DAY


def link_care(move: Draft, facts: SystemFacts) -> None:
    """Tie the care of those who wait to the day on which they go on.

    Parameters
    ----------
    move : Draft
        In the leg that takes animals out of it. [-]
    facts : SystemFacts
        A system whose animals have waited in it. [-]
    """
    for care in ("look-holding", "change-holding"):
        if move.has(facts.task(care)):
            move.link(facts.task(care), "go-or-no-go")


def add_take_down(move: Draft, facts: SystemFacts) -> None:
    """Add taking the holding system down, after a time in which it is the way back.

    Parameters
    ----------
    move : Draft
        In the leg that has taken the animals out of it. [-]
    facts : SystemFacts
        A system whose animals have waited in it. [-]
    """
    move.phase("holding")
    cleaning = usual(45, 90, 150, "draining, wiping, drying, putting away")
    move.add("clear-holding", cleaning, system=facts, place=move.facts.old.id, crew=hands(1), may_pause=True)
    move.link(last_watch(move, facts), facts.task("clear-holding"), gap=DAY, relation=Relation.FINISHTOSTART)
    for before in ("drain-tank", "tank-off"):
        if move.has_own(facts.task(before)):
            move.link(facts.task(before), facts.task("clear-holding"))
