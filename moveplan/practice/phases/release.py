"""The release, in order: hardy clean-up crew, corals, timid fish before territorial ones."""

from __future__ import annotations

from typing import Any

from moveplan.estimate import Estimate
from moveplan.network.task import Kind
from moveplan.practice.draft import Draft, hands, usual
from moveplan.practice.phases.teardown import count_of, names
from moveplan.quantities.durations import CORALS, FISH
from moveplan.quantities.facts import GroupFacts, SystemFacts
from moveplan.quantities.handling import SOURCE

RANK = {"timid": 0, "peaceful": 1, "territorial": 2, "predator": 3}
"""Order of release by temperament; common practice, no source."""


def release_order(groups: tuple[GroupFacts, ...]) -> tuple[GroupFacts, ...]:
    """Sort fish for release: timid before territorial, small before large."""
    return tuple(sorted(groups, key=lambda group: (RANK[group.livestock.temperament], group.mass_g.likely)))


def add_release(move: Draft, facts: SystemFacts) -> None:
    """Add the release of one system's animals and the watch of the evening."""
    move.phase("release")
    matched = facts.task("water-matched")
    done = [matched]
    if facts.invertebrates():
        done.append(_add_invertebrates(move, facts))
    if facts.of_group(*CORALS):
        done.append(_add_corals(move, facts))
    if facts.of_group(*FISH):
        done.append(_add_fish(move, facts, done))
    move.add(
        "watch-evening", usual(60, 60, 90, "an hour in the dark"), crew=hands(1, "cares"), **_day(move, facts)
    )
    last = facts.task("watch-evening")
    for task in done[1:] or done:
        move.link(task, last)
    move.last_watches[facts.system.id + move.suffix] = move.id(last)


def _day(move: Draft, facts: SystemFacts) -> dict[str, Any]:
    return {"system": facts, "place": move.facts.new.id, "day": move.day}


def _add_invertebrates(move: Draft, facts: SystemFacts) -> str:
    groups = facts.invertebrates()
    low, high = (max(group.kind.acclimation_min[end] for group in groups) for end in (0, 1))
    words: dict[str, object] = {"animals": names(groups), "minutes": low / 2}
    count, day = count_of(groups), _day(move, facts)
    crew = move.care_crew(count)
    dripping = Estimate(
        low / 3,
        low / 2,
        low,
        "min",
        f"half of the usual {low} to {high} min, since the waters match",
        source=SOURCE,
    )
    move.add("start-drip", usual(5, 5, 15, "a hose and a knot"), crew=hands(1, "cares"), **day)
    move.add("drip", dripping, kind=Kind.WAIT, words=words, **day)
    task = move.add(
        "release-invertebrates",
        move.handling.work("invertebrate-out", count, crew.count),
        crew=crew,
        words=words,
        **day,
    )
    move.chain(*map(facts.task, ("water-matched", "start-drip", "drip", "release-invertebrates")))
    return task


def _add_corals(move: Draft, facts: SystemFacts) -> str:
    groups = facts.of_group(*CORALS)
    words: dict[str, object] = {
        "animals": names(groups),
        "coral_count": sum(group.count for group in groups),
    }
    task = move.add(
        "place-corals",
        facts.times["corals-in"],
        crew=move.care_crew(),
        words=words,
        **_day(move, facts),
    )
    move.link(facts.task("water-matched"), task)
    return task


def _add_fish(move: Draft, facts: SystemFacts, done: list[str]) -> str:
    groups = release_order(facts.of_group(*FISH))
    day, minutes = _day(move, facts), usual(20, 25, 40, "boxes come to the temperature of the tank")
    move.add("float-fish", usual(3, 5, 10, "standing or floating the boxes"), crew=hands(1, "cares"), **day)
    before = move.add("fish-warm", minutes, kind=Kind.WAIT, words={"minutes": minutes.likely}, **day)
    move.chain(*map(facts.task, ("water-matched", "float-fish", "fish-warm")))
    tasks: list[str] = []
    for rank, company in _companies(groups):
        unpacking = "" if tasks else move.unpacking_words(groups)
        before = _add_company(move, facts, rank, company, before, unpacking)
        tasks.append(before)
    for task in done[1:]:
        move.link(task, tasks[0])
    return before


def _companies(groups: tuple[GroupFacts, ...]) -> list[tuple[str, tuple[GroupFacts, ...]]]:
    """Group fish that are let out together, in the order of release."""
    ranks = dict.fromkeys(str(group.livestock.temperament) for group in groups)
    return [(rank, tuple(one for one in groups if one.livestock.temperament == rank)) for rank in ranks]


def _add_company(
    move: Draft, facts: SystemFacts, rank: str, company: tuple[GroupFacts, ...], before: str, unpacking: str
) -> str:
    count = sum(group.count for group in company)
    task = move.add(
        "release-fish",
        usual(5 + count, 8 + 3 * count, 15 + 6 * count, "letting each swim out by itself"),
        subject=release_subject(facts, rank),
        place=move.facts.new.id,
        day=move.day,
        crew=hands(1, "cares"),
        words={"animals": names(company), "manner": move.release_words(rank), "unpacking": unpacking},
    )
    move.link(before, task)
    return task


def release_subject(facts: SystemFacts, temperament: str) -> str:
    """Tell the release of one temperament's fish from another's."""
    return f"{facts.system.id}-{temperament}"
