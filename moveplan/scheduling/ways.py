"""Ways out of a plan that cannot be done, each tried before it is offered."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from moveplan.network.words import said
from moveplan.scheduling.capacity import check_capacity
from moveplan.scheduling.checks import check_all
from moveplan.scheduling.demands_words import Demand, said_of_link
from moveplan.scheduling.desk import Desk
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.frame import frame_of
from moveplan.scheduling.loosen import tag_names, with_link, with_task
from moveplan.scheduling.model import model_of
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.search import search
from moveplan.times import Interval

_SECONDS_A_TRY = 0.05
_MOST_TRIES = 24
_MOST_MINUTES = 20 * 1440
_HELPER = "another-pair-of-hands"


@dataclass(frozen=True, slots=True)
class Way:
    """One thing that could be otherwise, by some amount.

    Parameters
    ----------
    amounts : tuple of int
        Amounts to try, the least first. [-]
    changed : callable
        Gives the problem changed by an amount. [-]
    told : callable
        Says the way in words, from the amount and the schedule that it makes possible. [-]
    """

    amounts: tuple[int, ...]
    changed: Callable[[int], SchedulingProblem]
    told: Callable[[int, Desk], str]


def _doubling(first: int, last: int) -> tuple[int, ...]:
    amounts = [max(1, first)]
    while amounts[-1] < last:
        amounts.append(amounts[-1] * 2)
    return tuple(amounts)


def longer_gap(problem: SchedulingProblem, index: int) -> Way:
    """Allow more than the greatest gap of a link."""
    link = problem.network.links[index]
    most = link.max_gap_min or 0

    def told(amount: int, _: Desk) -> str:
        return f"allow {said(most + amount)} {said_of_link(link, most=True).rsplit(' at most', 1)[0]}"

    first = 1 if problem.grid_min == 1 and not problem.people else 15
    return Way(
        _doubling(first, _MOST_MINUTES),
        lambda amount: with_link(problem, index, replace(link, max_gap_min=most + amount)),
        told,
    )


def later_finish(problem: SchedulingProblem, index: int) -> Way:
    """Let a task finish later than it must."""
    task = problem.network.tasks[index]
    by = task.finish_by or problem.horizon
    return Way(
        _doubling(15, _MOST_MINUTES),
        lambda amount: with_task(problem, index, replace(task, finish_by=min(by + amount, problem.horizon))),
        lambda amount, _: f"let {task.id} finish {said(amount)} later",
    )


def earlier_start(problem: SchedulingProblem, index: int) -> Way:
    """Let a task start earlier than it may."""
    task = problem.network.tasks[index]
    date = task.not_before or problem.start
    return Way(
        _doubling(15, _MOST_MINUTES),
        lambda amount: with_task(problem, index, replace(task, not_before=max(problem.start, date - amount))),
        lambda amount, _: f"let {task.id} start {said(amount)} earlier",
    )


def _days(number: int) -> str:
    return f"{number} day{'s' if number != 1 else ''}"


def another_day(problem: SchedulingProblem, tag: str) -> Way:
    """Let a tied day be any day."""
    tied = [row for row in problem.tied_days if row.tag == tag]
    others = tuple(row for row in problem.tied_days if row.tag != tag)
    stated = tied[0].days if tied else ()

    def changed(_: int) -> SchedulingProblem:
        return replace(problem, tied_days=(*others, *(replace(row, days=problem.days) for row in tied)))

    def told(_: int, desk: Desk) -> str:
        starts = [
            spot.start
            for job, spot in zip(desk.model.jobs, desk.spots, strict=True)
            if job.task.day == tag and spot is not None
        ]
        day = desk.model.day_of(min(starts))
        first, last = desk.model.day_of(stated[0].start), desk.model.day_of(stated[-1].start)
        if first <= day <= last:
            return f"take a {tag} day between those allowed, {_days(day - first)} after the first"
        if day > last:
            return f"take a {tag} day {_days(day - last)} after the last one allowed"
        return f"take a {tag} day {_days(first - day)} before the first one allowed"

    return Way((1,) if stated and problem.days else (), changed, told)


def another_person(problem: SchedulingProblem) -> Way:
    """Add somebody who is always free and can do everything."""
    skills = sorted({skill for person in problem.people for skill in person.skills})
    homes = [person.home for person in problem.people]

    def changed(amount: int) -> SchedulingProblem:
        always = (Interval(problem.start, problem.horizon),)
        more = tuple(
            Person(
                f"{_HELPER}-{number}",
                "another pair of hands",
                always,
                tuple(skills),
                homes[0] if homes else "",
            )
            for number in range(amount)
        )
        return replace(problem, people=(*problem.people, *more))

    def told(amount: int, desk: Desk) -> str:
        minutes = sum(track.booked for track in desk.people[len(problem.people) :])
        who = "another pair of hands" if amount == 1 else f"{amount} more people"
        return f"get {who}, for {said(minutes)} at most"

    return Way((1, 2) if any(task.crew for task in problem.network.tasks) else (), changed, told)


def longer_hire(problem: SchedulingProblem, index: int) -> Way:
    """Let a vehicle be used at any time."""
    vehicle = problem.vehicles[index]
    always = (Interval(problem.start, problem.horizon),)

    def changed(_: int) -> SchedulingProblem:
        other = replace(vehicle, available=always)
        vehicles = (*problem.vehicles[:index], other, *problem.vehicles[index + 1 :])
        return replace(problem, vehicles=vehicles)

    return Way((1,), changed, lambda _, __: f"hire {vehicle.name or vehicle.id} for other or longer hours")


def more_gear(problem: SchedulingProblem, index: int) -> Way:
    """Provide more of one kind of gear."""
    gear = problem.gear[index]
    needs = [count for task in problem.network.tasks for name, count in task.gear if name == gear.id]
    needs += [hold.count for hold in problem.network.holds if hold.gear == gear.id]
    most = max(0, sum(needs) - gear.count)

    def changed(amount: int) -> SchedulingProblem:
        other = replace(gear, count=gear.count + amount)
        return replace(problem, gear=(*problem.gear[:index], other, *problem.gear[index + 1 :]))

    amounts = tuple(amount for amount in _doubling(1, most) if amount <= most) if most else ()
    return Way(amounts, changed, lambda amount, _: f"provide {amount} more {gear.name or gear.id}")


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


def tried(problem: SchedulingProblem, demands: Sequence[Demand], effort: Effort) -> list[str]:
    """Try the ways out of a contradiction with the serial engine, and say those that work.

    Parameters
    ----------
    problem : SchedulingProblem
        The problem as it stands. [-]
    demands : sequence of Demand
        Those that contradict each other. [-]
    effort : Effort
        Seed, and who may interrupt. [-]

    Returns
    -------
    list of str
        What to do, each alone enough. [-]
    """
    found: list[str] = []
    left = _MOST_TRIES
    for way in ways_for(problem, demands):
        low = 0
        for step, amount in enumerate(way.amounts):
            if left <= 0 or (effort.interrupted is not None and effort.interrupted()):
                return found
            left -= 1
            desk = possible(way.changed(amount), effort)
            if desk is not None:
                best, desk = _least(way, low, amount, desk, effort) if step else (amount, desk)
                found.append(way.told(best, desk))
                break
            low = amount
    return found


def _least(way: Way, low: int, high: int, desk: Desk, effort: Effort) -> tuple[int, Desk]:
    """Narrow an amount that works down towards one that does not."""
    for _ in range(3):
        middle = (low + high) // 2
        if middle in (low, high):
            break
        other = possible(way.changed(middle), effort)
        if other is None:
            low = middle
        else:
            high, desk = middle, other
    return high, desk


def possible(problem: SchedulingProblem, effort: Effort) -> Desk | None:
    """Give a schedule if the serial engine finds one quickly."""
    if check_all(problem):
        return None
    model = model_of(problem)
    if check_capacity(model):
        return None
    short = Effort(_SECONDS_A_TRY, effort.seed, "serial", effort.interrupted)
    return search(frame_of(model), short, Meter(short), first_only=True).desk
