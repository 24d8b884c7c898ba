"""Animals that the keeper wishes to add: in waves that the filter can follow, and a warning where it never will."""

from __future__ import annotations

from typing import Any

from moveplan.errors import Problem
from moveplan.network.task import Kind, Timing
from moveplan.plan.livestock import Livestock
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, WEEK, hands, usual
from moveplan.practice.phases.before.ripening import cycle_for
from moveplan.quantities.facts import SystemFacts
from moveplan.quantities.keeping.filter_load import ammonia_load
from moveplan.quantities.keeping.stocking import Wave, balance_of, waves_of
from moveplan.science.animals.livestock import endangers

LOOK_FOR_WEEKS = 5
"""Quarantine of a newcomer; 30 days at least, common practice, no source. [week]"""

Groups = tuple[tuple[Livestock, int], ...]
Waves = tuple[Wave, ...]


def add_wished(move: Draft, facts: SystemFacts) -> None:
    """Add stocking waves for the animals a keeper wishes to add, and say what the tank will not carry.

    Parameters
    ----------
    move : Draft
        With the animals of the system at home.
    """
    wished = tuple(
        (group, group.count)
        for group in move.plan.livestock
        if group.wished and group.system == facts.system.id
    )
    there = _there(move, facts)
    if there and facts.rebuilt.rock_kg:
        _judge_load(move, facts, (*there, *wished))
    if not wished:
        return
    _judge_company(move, there, wished)
    load = ammonia_load(facts.rebuilt, there, move.policy, feed=False).likely
    litres = facts.volumes.total.likely
    waves = waves_of(facts.rebuilt, wished, litres, 0.5 * max(load, 1.0), move.policy)
    move.newcomers.append(_add_waves(move, facts, waves, there, facts.task("settled")))


def add_stock(move: Draft, facts: SystemFacts, groups: Groups, before: str) -> str:
    """Add bringing a whole stock into a filter that has just ripened.

    Parameters
    ----------
    move : Draft
        With the cycle added.
    groups : tuple of (Livestock, int)
        Who is to come.
    before : str
        Id of the task after which the first are chosen.

    Returns
    -------
    str
        Id of the task with which the last wave has settled.
    """
    litres = facts.volumes.total.likely
    first = cycle_for(move, facts).carries.likely * litres
    return _add_waves(move, facts, waves_of(facts.rebuilt, groups, litres, first, move.policy), (), before)


def _add_waves(move: Draft, facts: SystemFacts, waves: Waves, there: Groups, before: str) -> str:
    move.phase("stocking")
    first = before
    for number in range(1, len(waves) + 1):
        before = _add_wave(move, facts, waves, number, there, before, first)
    return before


def _there(move: Draft, facts: SystemFacts) -> Groups:
    return tuple(
        (group, staying)
        for group in move.plan.livestock
        if group.system == facts.system.id
        and not group.wished
        and (staying := group.count - group.leaves - group.sick) > 0
    )


def _judge_load(move: Draft, facts: SystemFacts, groups: Groups) -> None:
    balance = balance_of(facts.rebuilt, groups, move.policy)
    if not balance.beyond:
        return
    names = {group.id: group.name for group, _ in groups}
    move.findings.append(
        Problem(
            f"the stock of {facts.rebuilt.name} would give off {balance.load.likely:.0f} mg N a day, its filter takes "
            f"up {balance.capacity.likely:.0f}: without {', '.join(names[one] for one in balance.beyond)} it would "
            "keep up",
            move.plan.where(f"livestock.{balance.beyond[0]}"),
            "leave them out, feed less, or add rock, media or a skimmer",
        )
    )


def _judge_company(move: Draft, there: Groups, wished: Groups) -> None:
    """Say it where a newcomer would hunt, or be hunted by, those who are there."""
    for new, _ in wished:
        for old, _ in there:
            for hunter, prey in ((new, old), (old, new)):
                if hunter.traits.temperament == "predator" and endangers(
                    hunter.traits, hunter.size_cm, prey.traits, prey.size_cm
                ):
                    move.unsafe.append(_no_place(move, hunter, prey, new))


def _no_place(move: Draft, hunter: Livestock, prey: Livestock, new: Livestock) -> Problem:
    return Problem(
        f"{hunter.name} cannot be placed: it would eat {prey.name}, and there is no other system for it",
        move.plan.where(f"livestock.{new.id}"),
        "give it a system of its own (system: …), find it a new keeper (leaves: …), or leave the wish out",
    )


def _add_wave(
    move: Draft, facts: SystemFacts, waves: Waves, number: int, there: Groups, before: str, ready: str
) -> str:
    wave, subject = waves[number - 1], f"{facts.system.id}.{number}"
    residents = [group.name for group, _ in there if group.temperament == "territorial"]
    words: dict[str, object] = {
        "number": number,
        "wave_count": len(waves),
        "animals": [f"{count} × {group.name}" for group, count in wave.groups],
        "residents": residents,
        "pause": wave.pause,
        "weeks": LOOK_FOR_WEEKS * WEEK,
    }
    here: dict[str, Any] = {"system": facts, "subject": subject, "place": move.final.new.id, "words": words}
    caring = hands(1, "cares")
    move.add(
        "choose-newcomers",
        usual(60, 120, 240, "a visit, a look at each, a quarantine tank"),
        crew=caring,
        **here,
    )
    watching = usual(4 * WEEK, LOOK_FOR_WEEKS * WEEK, 7 * WEEK, "quarantine: 30 days at least, 45 preferred")
    move.add("quarantine-newcomers", watching, kind=Kind.WAIT, **here)
    chain = ["choose-newcomers", "quarantine-newcomers"]
    if residents:
        move.add(
            "part-residents",
            usual(15, 30, 45, "a divider, a mirror, two rocks moved"),
            crew=caring,
            timing=Timing.LATE,
            **here,
        )
        chain.append("part-residents")
    move.add(
        "add-newcomers",
        usual(45, 60, 120, "floating, dripping, letting go, an hour's watch"),
        crew=caring,
        **here,
    )
    move.add("newcomers-pause", wave.pause, kind=Kind.WAIT, **here)
    move.add(
        "newcomers-settled",
        usual(15, 20, 30, "a row of readings and a count"),
        kind=Kind.HOLD_POINT,
        crew=caring,
        **here,
    )
    chain += ["add-newcomers", "newcomers-pause", "newcomers-settled"]
    move.chain(*(f"{key}-{subject}" for key in chain))
    first = f"choose-newcomers-{subject}" if number == 1 else f"add-newcomers-{subject}"
    move.link(before, first, gap=DAY if number == 1 else 0)
    if number > 1:
        move.link(ready, f"choose-newcomers-{subject}")
    return move.id(f"newcomers-settled-{subject}")
