"""Ways out that cost a word in the plan: who helps may handle animals too, and may begin early and stay late.

They are tried before anything is bought or anybody is asked to come, and named first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from moveplan.changed.change import span_words, with_people
from moveplan.outputs.outlook import Outlook
from moveplan.plan.move import Plan
from moveplan.plan.people import Helper
from moveplan.reading import Settings
from moveplan.scheduling.state.clock import by
from moveplan.times import MINUTES_A_DAY
from moveplan.trials import Change, Foreseen, Trials, told

MOST = 4
"""So many are tried. [-]"""
SOONER_MIN = 60
"""Everybody begins so much earlier, and stays to the end of the day; assumed to be the most that is asked. [min]"""


def with_own_hands(outlook: Outlook, settings: Settings, foresee: Foreseen) -> Outlook:
    """Say first what the people of the plan could do beside what it says of them, where that mends all."""
    plan = outlook.project.plan
    if outlook.verdict.follows or not outlook.problems or plan.purpose == "own-tasks":
        return outlook
    trials = Trials(outlook, settings, foresee, left=MOST)
    for change, asks in _changes(plan):
        seen = trials.seen(change.apply(plan))
        if isinstance(seen, Outlook) and seen.verdict.follows:
            settled = seen.schedule.of(dict(seen.project.network.milestones)["settled"]).finish
            first, *others = outlook.problems
            remedy = f"{told(change.writes)}, {asks} (tried: settled {by(seen.project.scheduling, settled)})"
            said = "; or ".join(filter(None, (remedy, first.remedy)))
            return replace(outlook, problems=(replace(first, remedy=said), *others))
    return outlook


def _changes(plan: Plan) -> Iterator[tuple[Change, str]]:
    """Give changes, each with what it asks of people; the one that asks least comes first."""
    able = {one.id: replace(one, cares=True) for one in plan.people if one.lifts and not one.cares}
    longer = {one.id: _longer(one) for one in plan.people if one != _longer(one)}
    if able:
        yield _change(able, "cares"), "if they can handle animals"
    if longer:
        yield _change(longer, "moving-day"), "if they have the time"
    if able and longer:
        both = longer | {name: _longer(one) for name, one in able.items()}
        writes = (*_writes(able, "cares"), *_writes(longer, "moving-day"))
        yield (
            Change(writes, lambda old: with_people(old, both)),
            "if they can handle animals and have the time",
        )


def _change(people: dict[str, Helper], key: str) -> Change:
    return Change(_writes(people, key), lambda old: with_people(old, people))


def _writes(people: dict[str, Helper], key: str) -> tuple[tuple[str, str], ...]:
    return tuple(
        (f"people.{one.id}.{key}", "yes" if key == "cares" else _span(one)) for one in people.values()
    )


def _longer(person: Helper) -> Helper:
    """Let somebody begin earlier and stay to the end of the moving day, where their hours are one stretch."""
    if len(person.moving_day_hours) != 1:
        return person
    rule = person.moving_day_hours[0]
    longer = replace(
        rule,
        from_minute=max(0, rule.from_minute - SOONER_MIN),
        to_minute=max(rule.to_minute, MINUTES_A_DAY),
    )
    return replace(person, moving_day_hours=(longer,))


def _span(person: Helper) -> str:
    rule = person.moving_day_hours[0]
    return span_words(rule.from_minute, rule.to_minute)
