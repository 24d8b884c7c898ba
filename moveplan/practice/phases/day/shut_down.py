"""Shut down and restart: every animal finds a keeper, the tank is cleaned and stored, and set up again later."""

from __future__ import annotations

from typing import Any

from moveplan.network.task import Kind, Timing
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import DAY, WEEK, hands, usual
from moveplan.practice.drafting.touch import taken_out
from moveplan.practice.ledger.pouring import emptied, open_vessels
from moveplan.practice.phases.after.stocking import add_stock
from moveplan.practice.phases.before.new_tank import add_test
from moveplan.practice.phases.day.teardown import filled_by, names
from moveplan.quantities.containers.vessels import Use
from moveplan.quantities.facts import SystemFacts
from moveplan.times import local_day


def add_keepers(move: Draft, facts: SystemFacts) -> None:
    """Add finding a keeper for every animal, and handing them over on the day.

    Parameters
    ----------
    move : Draft
        With the animals taken out of their tank.
    facts : SystemFacts
        The system that is shut down.
    """
    move.phase("shut_down")
    words: dict[str, object] = {"animals": names(facts.groups), "vet": move.vet()}
    move.add(
        "find-keepers",
        usual(180, 300, 600, "offers, calls, visits, for every animal"),
        system=facts,
        crew=move.keeper(),
        may_pause=True,
        timing=Timing.LATE,
        margin_min=3 * WEEK,
        words=words,
    )
    move.link(facts.task("list-livestock"), facts.task("find-keepers"))
    move.link(facts.task("find-keepers"), "go-or-no-go")
    vessels = (*open_vessels(facts), *facts.of_use(Use.ANIMALS))
    task = move.add(
        "hand-over-all",
        usual(45, 90, 180, "keepers come one after the other"),
        system=facts,
        place=move.facts.old.id,
        day=move.day,
        crew=hands(1, "cares"),
        words=words,
        pours=emptied(move, dict.fromkeys(vessels)),
    )
    for vessel in dict.fromkeys((*vessels, *facts.of_use(Use.BAGS))):
        if vessel.use is not Use.WAITING:
            move.use((vessel,), filled_by(move, facts, vessel), task)
    for before in ("corals-out", "invertebrates-out", "seal-fish", "pack-media"):
        if move.has_own(facts.task(before)):
            move.link(facts.task(before), task)
    for group in facts.groups:
        move.ends[group.livestock.id] = (facts.task(taken_out(group)), task)
    move.last_watches[facts.system.id] = task


def add_storing(move: Draft, facts: SystemFacts) -> None:
    """Add cleaning the empty tank, and storing or selling it.

    Parameters
    ----------
    move : Draft
        With the tank empty.
    facts : SystemFacts
        The system that is shut down.
    """
    move.phase("shut_down")
    here: dict[str, Any] = {"system": facts, "place": move.facts.old.id}
    words = move.lift_words(facts, old=True) | {
        "old_mass": facts.before.tank.likely,
        "old_rock": facts.before.rock.likely,
        "zoanthids": any(kind.group == "zoanthid" for kind in move.kinds_in(facts)),
        "again": len(move.legs) > 1,
    }
    drying = usual(90, 150, 300, "salt and lime off, rock rinsed and laid out to dry")
    move.add("clean-all", drying, crew=hands(1), may_pause=True, words=words, **here)
    crew = move.tank_crew(facts, old=True)
    move.add(
        "store-tank", usual(30, 60, 120, "padding, carrying, a dry corner"), crew=crew, words=words, **here
    )
    move.link(facts.task("tank-off"), facts.task("clean-all"))
    move.link(facts.task("hand-over-all"), facts.task("clean-all"))
    move.link(facts.task("clean-all"), facts.task("store-tank"))
    move.link(facts.task("store-tank"), "look-back")


def add_restart(move: Draft, facts: SystemFacts) -> None:
    """Add setting the stored tank up again, up to a filled tank that holds.

    Parameters
    ----------
    move : Draft
        In the second leg.
    facts : SystemFacts
        The system as it will stand again.
    """
    move.phase("shut_down")
    day = local_day(move.facts.leg.days[0], move.plan.zone).start
    words: dict[str, object] = {"animals": [f"{one.count} × {one.name}" for one in move.plan.livestock]}
    move.add(
        "decide-restart",
        usual(20, 30, 60, "a talk, a look at spot and purse"),
        system=facts,
        kind=Kind.HOLD_POINT,
        place=move.facts.new.id,
        crew=move.keeper(),
        not_before=day,
        words=words,
        where=move.plan.where("dates.restart-day"),
    )
    crew = move.tank_crew(facts)
    fetching = usual(45, 90, 150, "out of its corner, seams and edges looked over")
    move.add(
        "unpack-tank",
        fetching,
        system=facts,
        place=move.facts.new.id,
        crew=crew,
        words=move.lift_words(facts) | {"tank_mass": facts.masses.tank.likely},
    )
    move.chain(facts.task("decide-restart"), facts.task("unpack-tank"))
    move.link("store-tank-" + facts.system.id, facts.task("decide-restart"), gap=DAY)
    for water in ("check-water-unit", "fetch-water"):
        if move.has_own(water):
            move.link(facts.task("decide-restart"), water)
    add_test(move, facts, "unpack-tank")


def add_restock(move: Draft, facts: SystemFacts) -> None:
    """Add bringing the stock back in waves, once the restarted filter has ripened.

    Parameters
    ----------
    move : Draft
        In the second leg, with the cycle added.
    facts : SystemFacts
        The system as it stands again.
    """
    groups = tuple((group, group.count) for group in move.plan.livestock if group.system == facts.system.id)
    if groups:
        last = add_stock(move, facts, groups, facts.task("change-before"))
        move.link(last, "look-back")
