"""Ways out that cost a word in the plan: who helps may handle animals too, and may begin early and stay late.

They are tried before anything else is asked of anybody, and named first; and salt water that cannot be mixed in time
may be bought as it is. Where they cannot lift all, carriers are asked for, who are paid.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from itertools import count

from moveplan.changed.change import Change, hours_words, span_words, with_people
from moveplan.changed.trials import Foreseen, Trials, settled_by
from moveplan.cost.book import PAY, tariff
from moveplan.errors import WayOut
from moveplan.hours import HoursRule
from moveplan.outputs.outlook import Outlook
from moveplan.plan.move import Plan
from moveplan.plan.people import Helper
from moveplan.practice.project import Project
from moveplan.quantities.freight.lifting import MOST_CARRIERS
from moveplan.quantities.water.amounts import making_of
from moveplan.stages.reading import Settings
from moveplan.times import MINUTES_A_DAY

SOONER_MIN = 60
"""Everybody begins so much earlier, and stays to the end of the day; assumed to be the most that is asked. [min]"""

EVENINGS = HoursRule("FREQ=DAILY", 18 * 60, 21 * 60)
"""When carriers come before the day, to walk the way of the tank; assumed. [min after midnight]"""
AIDS = ("lifters", "straps", "dolly")
"""What heavy things are carried with. [-]"""


def by_own_hands(outlook: Outlook, settings: Settings, foresee: Foreseen) -> tuple[WayOut, ...]:
    """Find what the people of the plan could do beside what it says of them, where that mends all."""
    plan = outlook.project.plan
    if outlook.verdict.follows or not outlook.problems or plan.purpose == "own-tasks":
        return ()
    trials = Trials(outlook, settings, foresee)
    changes = [*_changes(plan), *(() if outlook.schedule.placements else _bought_water(outlook.project))]
    for change, what in (*changes, *_carriers(outlook.project)):
        seen = trials.seen(change.apply(plan))
        if isinstance(seen, Outlook) and seen.verdict.follows and not (change.who and _by_firm(seen.project)):
            done = f"{_paid(seen, change.who)}{settled_by(seen)}"
            return (WayOut(what, done, writes=change.writes),)
    return ()


def _carriers(project: Project) -> Iterator[tuple[Change, str]]:
    """Have one, two or three carriers come for the day, paid by the hour, where those there are cannot lift all."""
    plan = project.plan
    if not project.impossible or not plan.people:
        return
    pay, hours = tariff(plan, "carrier").amount, plan.people[0].moving_day_hours[:1]
    come = f"{{mon-sun: {span_words(EVENINGS.from_minute, EVENINGS.to_minute)}}}"
    day = "".join(f", moving-day: {span_words(one.from_minute, one.to_minute)}" for one in hours)
    known, hired, writes = (
        {one.id for one in plan.people},
        tuple[Helper, ...](),
        tuple[tuple[str, str], ...](),
    )
    for number in range(1, MOST_CARRIERS - min(plan.lifters, MOST_CARRIERS) + 1):
        name = next(one for one in (f"carrier-{at}" for at in count(number)) if one not in known)
        known.add(name)
        shown = name.capitalize().replace("-", " ")
        hired += (Helper(name, shown, True, False, False, (EVENINGS,), hours, (), False, pay, ""),)
        entry = f"{{lifts: yes, drives: no, cares: no, hours: {come}{day}, cost: {pay:.2f} per hour}}"
        writes += ((f"people.{name}", entry),)
        words = "a carrier comes" if number == 1 else f"{('two', 'three')[number - 2]} carriers come"
        what = f"{words} for the day, with lifters"
        yield (
            Change(writes, partial(_with, hired), who=tuple(one.id for one in hired)),
            what,
        )


def _by_firm(project: Project) -> bool:
    """Whether the carriers are too few for the tank, and a firm would have to come as well."""
    return any(kind == "glass-firm" for kind, _, _ in project.gear_needed)


def _with(hired: tuple[Helper, ...], plan: Plan) -> Plan:
    return replace(plan, people=(*plan.people, *hired))


def _paid(seen: Outlook, who: tuple[str, ...]) -> str:
    """Say what those who come and what they lift with cost; nothing where nobody comes."""
    items = (*(f"{PAY}{one}-" for one in who), *AIDS)
    lines = [line for line in (seen.cost.lines if who and seen.cost else ()) if line.item.startswith(items)]
    if not lines:
        return ""
    amount = sum(line.amount for line in lines)
    return f"{amount:.0f} {seen.project.plan.currency} with lifters and straps; "


def _changes(plan: Plan) -> Iterator[tuple[Change, str]]:
    """Give changes, each in words; the one that asks least of people comes first."""
    able = {one.id: replace(one, cares=True) for one in plan.people if one.lifts and not one.cares}
    longer = {one.id: _longer(one) for one in plan.people if one != _longer(one)}
    if able:
        yield _change(able, "cares"), "those who can handle animals do so"
    if longer:
        yield _change(longer, "moving-day"), "those who have the time begin earlier and stay longer"
    if able and longer:
        both = longer | {name: _longer(one) for name, one in able.items()}
        writes = (*_writes(able, "cares"), *_writes(longer, "moving-day"))
        yield (
            Change(writes, lambda old: with_people(old, both)),
            "those who can handle animals do so, and those who have the time begin earlier and stay longer",
        )


def _bought_water(project: Project) -> Iterator[tuple[Change, str]]:
    """Have salt water mixed by a shop, where some is mixed at home: that takes days before the move."""
    making = making_of(project.plan)
    if project.mixings and not making.ready_mixed:
        bought = replace(making, ready_mixed=True)
        yield (
            Change(
                (("water-making.ready-mixed", "yes"),),
                lambda old: replace(old, water_making=bought),
            ),
            "a shop mixes the salt water, if it has so much",
        )


def _change(people: dict[str, Helper], key: str) -> Change:
    return Change(_writes(people, key), lambda old: with_people(old, people))


def _writes(people: dict[str, Helper], key: str) -> tuple[tuple[str, str], ...]:
    return tuple(
        (f"people.{one.id}.{key}", "yes" if key == "cares" else hours_words(one)) for one in people.values()
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
