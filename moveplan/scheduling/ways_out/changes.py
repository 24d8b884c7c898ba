"""What could be otherwise in a plan that cannot be done: each kind of change, by some amount, and its cost in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from moveplan.errors import WayOut
from moveplan.network.words import listed, named, said
from moveplan.scheduling.impossible.demands_words import Demand, said_of_link
from moveplan.scheduling.impossible.loosen import tag_names, with_link, with_task
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.state.clock import by, clock, stretch
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.ways_out import longer_day, other_day
from moveplan.scheduling.ways_out.free_hours import (
    daytime,
    hours_of,
    long_day,
    longer_hours,
    people_lacking,
    waking,
)
from moveplan.scheduling.ways_out.other_day import days_said

_MOST_MINUTES = 20 * 1440
"""Longest shift or gap that is offered: 20 days; a longer one is another plan. Chosen. [min]"""
_HELPER = "one-more-person"
_LAST_LIKED = 10**9
"""Place in the order of liking behind everybody of the plan. [-]"""


@dataclass(frozen=True, slots=True)
class Way:
    """One thing that could be otherwise, by some amount.

    Parameters
    ----------
    amounts : tuple of int
        Amounts to try, the least first.
    changed : callable
        Gives a problem changed by an amount.
    told : callable
        Says the way in words, from the amount and the schedule that it makes possible.
    """

    amounts: tuple[int, ...]
    changed: Callable[[SchedulingProblem, int], SchedulingProblem]
    told: Callable[[int, Desk], WayOut]


def written(where: str, value: str) -> tuple[tuple[str, str], ...]:
    """Say what to write on the line that something comes from; nothing where the line names no key.

    >>> written("plan.yaml:7 vehicles.van.hire", "{from: 2027-02-20 08:00, until: 2027-02-20 18:00}")
    (('vehicles.van.hire', '{from: 2027-02-20 08:00, until: 2027-02-20 18:00}'),)
    """
    key = where.partition(" ")[2]
    return ((key, value),) if "." in key else ()


def joined(ways: Sequence[WayOut]) -> WayOut:
    """Make one way of several that only work together."""
    return WayOut(
        listed([way.text for way in ways]),
        "; ".join(way.price for way in ways if way.price),
        all(way.tried for way in ways),
        tuple(pair for way in ways for pair in way.writes),
    )


def _doubling(first: int, last: int) -> tuple[int, ...]:
    amounts = [max(1, first)]
    while amounts[-1] < last:
        amounts.append(amounts[-1] * 2)
    return tuple(amounts)


def longer_gap(problem: SchedulingProblem, index: int) -> Way:
    """Allow more than the greatest gap of a link."""
    link = problem.network.links[index]
    most = link.max_gap_min or 0

    def told(amount: int, _: Desk) -> WayOut:
        between = said_of_link(problem.network, link, most=True).rsplit(" at most", 1)[0]
        return WayOut(f"allow {said(most + amount)} {between}")

    first = 1 if problem.grid_min == 1 and not problem.people else 15
    return Way(
        _doubling(first, _MOST_MINUTES),
        lambda given, amount: with_link(
            given, index, replace(given.network.links[index], max_gap_min=most + amount)
        ),
        told,
    )


def later_finish(problem: SchedulingProblem, index: int) -> Way:
    """Let a task finish later than it must."""
    task = problem.network.tasks[index]
    date = task.finish_by or problem.horizon
    return Way(
        _doubling(15, min(_MOST_MINUTES, max(0, problem.horizon - date))),
        lambda given, amount: with_task(
            given,
            index,
            replace(given.network.tasks[index], finish_by=min(date + amount, problem.horizon)),
        ),
        lambda amount, _: WayOut(
            f"let {named(task)} finish {by(problem, min(date + amount, problem.horizon))}, {said(amount)} later"
        ),
    )


def earlier_start(problem: SchedulingProblem, index: int) -> Way:
    """Let a task start earlier than it may."""
    task = problem.network.tasks[index]
    date = task.not_before or problem.start
    return Way(
        _doubling(15, min(_MOST_MINUTES, max(0, date - problem.start))),
        lambda given, amount: with_task(
            given,
            index,
            replace(given.network.tasks[index], not_before=max(problem.start, date - amount)),
        ),
        lambda amount, _: WayOut(
            f"let {named(task)} start {said(min(amount, date - problem.start))} earlier"
        ),
    )


def another_day(problem: SchedulingProblem, tag: str) -> Way:
    """Let a tied day be another day."""
    return Way(
        other_day.amounts_of(problem, tag),
        lambda given, amount: other_day.moved(given, tag, amount),
        lambda amount, desk: other_day.told(problem, tag, amount, desk),
    )


def more_hours(problem: SchedulingProblem, tag: str) -> Way:
    """Let everybody begin a tied day earlier, or go on for longer."""
    return Way(
        longer_day.amounts_of(problem, tag),
        lambda given, amount: longer_day.lengthened(given, tag, amount),
        lambda _, desk: longer_day.told(problem, tag, desk),
    )


def another_person(problem: SchedulingProblem) -> Way:
    """Add people who can do everything: up to three on the tied days, or as many as lack; else one or two every day."""
    skills = sorted({skill for person in problem.people for skill in person.skills})
    homes = [person.home for person in problem.people]
    numbers = sorted({max(number, people_lacking(problem)) for number in (1, 2, 3)})
    kinds = [(number, free) for number in numbers for free in (waking, long_day) if problem.tied_days]
    kinds += [(number, daytime) for number in numbers[:2]]

    def changed(given: SchedulingProblem, amount: int) -> SchedulingProblem:
        number, free = kinds[amount]
        more = tuple(
            Person(
                f"{_HELPER}-{one}", "one more person", free(given), tuple(skills),
                homes[0] if homes else "", _LAST_LIKED,
            )
            for one in range(number)
        )  # fmt: skip
        return replace(given, people=(*given.people, *more))

    def told(amount: int, desk: Desk) -> WayOut:
        number = kinds[amount][0]
        who = "one more person" if number == 1 else f"{number} more people"
        when, work = hours_of(desk, desk.people[len(problem.people) :])
        return WayOut(f"get {who} {when}".rstrip(), work)

    needed = any(task.crew for task in problem.network.tasks)
    return Way(tuple(range(len(kinds))) if needed else (), changed, told)


def longer_hire(problem: SchedulingProblem, index: int) -> Way:
    """Let a vehicle be used for longer: on its days, later, earlier or both; on more days; at any time."""
    vehicle = problem.vehicles[index]
    hours = longer_hours(problem, vehicle.available)

    def changed(given: SchedulingProblem, amount: int) -> SchedulingProblem:
        other = replace(vehicle, available=(hours[amount],))
        return replace(given, vehicles=(*given.vehicles[:index], other, *given.vehicles[index + 1 :]))

    def told(_: int, desk: Desk) -> WayOut:
        used = [b for b in desk.vehicles[index].bookings if b[1] > b[0]]
        name = vehicle.name or vehicle.id
        if not used:
            return WayOut(f"hire {name} for other hours")
        begin, end = used[0][0], max(booking[1] for booking in used)
        hire = f"{{from: {clock(problem, begin)}, until: {clock(problem, end)}}}"
        writes = written(vehicle.where, hire) if problem.zone else ()
        return WayOut(f"have {name} {stretch(problem, begin, end)}", _price(desk, index), writes=writes)

    return Way(tuple(range(len(hours))), changed, told)


def _price(desk: Desk, index: int) -> str:
    """Say on how many days a vehicle is used, and for how much."""
    cents = desk.model.problem.vehicles[index].cents_per_day
    days = {desk.model.day_of(booking[0]) for booking in desk.vehicles[index].bookings}
    if not cents or not desk.model.problem.days:
        return ""
    return f"{days_said(len(days))} of hire at {cents / 100:.2f} a day, {len(days) * cents / 100:.2f} in all"


def more_gear(problem: SchedulingProblem, index: int) -> Way:
    """Provide more of one kind of gear."""
    gear = problem.gear[index]
    needs = [count for task in problem.network.tasks for name, count in task.gear if name == gear.id]
    needs += [hold.count for hold in problem.network.holds if hold.gear == gear.id]
    most = max(0, sum(needs) - gear.count)

    def changed(given: SchedulingProblem, amount: int) -> SchedulingProblem:
        other = replace(gear, count=gear.count + amount)
        return replace(given, gear=(*given.gear[:index], other, *given.gear[index + 1 :]))

    amounts = tuple(sorted({min(amount, most) for amount in _doubling(1, most)})) if most else ()
    return Way(amounts, changed, lambda amount, _: WayOut(f"provide {amount} more {gear.name or gear.id}"))


def ways_for(problem: SchedulingProblem, demands: Sequence[Demand]) -> Iterator[Way]:
    """Give a way for each demand that could be otherwise; least gaps are what the work needs and stay."""
    seen: set[tuple[str, int]] = set()
    tags = tag_names(problem)
    for demand in demands:
        kind = "people" if demand.kind in ("hours", "one-at-a-time") else demand.kind
        key = (kind, 0 if kind == "people" else demand.index)
        if key in seen:
            continue
        seen.add(key)
        if kind == "people":
            yield from (more_hours(problem, row.tag) for row in problem.tied_days)
            yield another_person(problem)
        elif kind == "day":
            yield another_day(problem, tags[demand.index])
        elif kind in _BY_INDEX:
            yield _BY_INDEX[kind](problem, demand.index)


_BY_INDEX: dict[str, Callable[[SchedulingProblem, int], Way]] = {
    "most": longer_gap,
    "finish-by": later_finish,
    "not-before": earlier_start,
    "vehicle": longer_hire,
    "gear": more_gear,
}
