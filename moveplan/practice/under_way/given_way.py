"""What gave way on a late day, told with by how much, what it costs and whom to talk to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal

from moveplan.errors import Problem
from moveplan.hours import merged, without
from moveplan.practice.project import Project
from moveplan.practice.under_way.late_day import DAY_MIN, Late
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import Interval, to_local
from moveplan.units import show_duration

MOST_NAMED = 4
"""How many tasks are named that have fewer hands than planned. [-]"""


def given_way(late: Late, strict: SchedulingProblem, found: Schedule, project: Project) -> Iterator[Problem]:
    """Tell what gave way, with whom to talk to.

    Parameters
    ----------
    late : Late
        What the engine took.
    strict : SchedulingProblem
        What is left to do with every limit.
    project : Project
        For titles.
    """
    titles = {task.id: task.title for task in project.network.tasks}

    def when(moment: int) -> str:
        return f"{to_local(moment, project.plan.zone):%a %H:%M}"

    hours = {one.id: one.available for one in project.scheduling.people}
    for person in strict.people:
        over = beyond(person.id, person.available, found.placements)
        if over:
            said = ", ".join(passed(over, hours.get(person.id, ()), when))
            yield Problem(
                f"{person.name} {said}: {_more(person.id, over, project)}",
                person.where,
                "ask now, or call somebody who takes over",
            )
    for vehicle in strict.vehicles:
        over = beyond(vehicle.id, vehicle.available, found.placements)
        if over:
            longer = _hire(vehicle.id, over[-1].finish, project)
            longer = (
                longer or f", {show_duration(sum(one.minutes for one in over))} when it was not to be there"
            )
            yield Problem(
                f"{vehicle.name} is needed until {when(over[-1].finish)}{longer}",
                vehicle.where,
                "call the hirer now and ask for the price",
            )
    placed = {one.task: one for one in found.placements}
    for task in strict.network.tasks:
        stands = placed.get(task.id)
        if stands is not None and task.finish_by is not None and stands.finish > task.finish_by:
            text = f"“{titles[task.id]}” ends {when(stands.finish)}, and was to end by {when(task.finish_by)}"
            yield Problem(text, task.where, "tell whoever waits for it")
    yield from _short_of_hands(late, titles)


def _short_of_hands(late: Late, titles: Mapping[str, str]) -> Iterator[Problem]:
    named = [
        f"“{titles[name]}” with {there} of {planned}" for name, planned, there in late.short[:MOST_NAMED]
    ]
    more = len(late.short) - MOST_NAMED
    if named:
        yield Problem(
            f"fewer hands than planned: {', '.join(named)}{f' and {more} more' if more > 0 else ''}",
            "",
            "lift nothing alone that two were to lift: wait, or ask for help on the spot",
        )


def beyond(whose: str, hours: tuple[Interval, ...], placements: Iterable[Placement]) -> tuple[Interval, ...]:
    """Find when somebody or something is used outside some hours, in the order of time, UTC. [min].

    Parameters
    ----------
    whose : str
        Id of the person or vehicle.
    hours : tuple of Interval
        When they are there. [min]
    placements : iterable of Placement
        What is to be done.
    """
    used = [piece for one in placements if whose in (*one.people, *one.vehicles) for piece in one.segments]
    return tuple(over for over in without(merged(used), hours) if over.minutes)


def passed(
    over: tuple[Interval, ...], hours: tuple[Interval, ...], when: Callable[[int], str]
) -> Iterator[str]:
    """Say when somebody's hours end or begin, and from or until when they work all the same: each such stretch once.

    Parameters
    ----------
    over : tuple of Interval
        When they work outside of them, UTC. [min]
    hours : tuple of Interval
        Theirs, UTC. [min]
    when : callable
        How a moment is written.
    """
    gaps: dict[tuple[int | None, int | None], list[Interval]] = {}
    for one in over:
        end = max((hour.finish for hour in hours if hour.finish <= one.start), default=None)
        begin = min((hour.start for hour in hours if hour.start >= one.finish), default=None)
        gaps.setdefault((end, begin), []).append(one)
    for (end, begin), pieces in gaps.items():
        first, last = pieces[0].start, pieces[-1].finish
        if end is not None and (begin is None or first - end <= begin - last):
            yield f"has hours until {when(end)} and works until {when(last)}"
        elif begin is not None:
            yield f"has hours from {when(begin)} and works from {when(first)}"
        else:
            yield f"has no hours and works from {when(first)} until {when(last)}"


def _more(person: str, over: tuple[Interval, ...], project: Project) -> str:
    """Say how much more somebody works, and what it costs where they are paid."""
    minutes = sum(one.minutes for one in over)
    paid = next((one.cost_per_hour for one in project.plan.people if one.id == person), Decimal(0))
    price = f", {_money(paid * minutes / 60, project)}" if paid else ""
    return f"{show_duration(minutes)} more{price}"


def _hire(vehicle: str, until: int, project: Project) -> str:
    """Say how much longer a vehicle is needed than it is hired, and what days of hire cost."""
    hired = next((one for one in project.plan.vehicles if one.id == vehicle), None)
    if hired is None or hired.hire_until is None or hired.hire_until >= until:
        return ""
    late = until - hired.hire_until
    days = -(-late // DAY_MIN)
    price = f": up to {_money(hired.cost_per_day * days, project)} for {days} more days of hire"
    price = price.replace(" for 1 more days", " for one more day")
    until_then = f"{to_local(hired.hire_until, project.plan.zone):%a %H:%M}"
    return f" and hired until {until_then}, {show_duration(late)} longer{price if hired.cost_per_day else ''}"


def _money(amount: Decimal, project: Project) -> str:
    return f"{amount.quantize(Decimal('0.01'))} {project.plan.currency}"
