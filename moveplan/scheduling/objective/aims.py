"""What makes one schedule better than another, aim by aim."""

from __future__ import annotations

from collections.abc import Mapping

from moveplan.network.link import Link, Placed
from moveplan.scheduling.objective.weeks import loads, uneven
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.model import Model

MARGINS = "wished margins of lead tasks given up (percent)"
DAYS = "days passed over before the tied days"
LATENESS = "lateness (min)"
EXPOSURE = "time under greatest gaps and until they are over, and length of tied days (min)"
MONEY = "hire and pay (hundredths)"
DATES = "days for which somebody who helps is asked"
FINISH = "finish (min from the start)"
WEEKS = "work on lead tasks beyond an even share of each week (person-minutes)"
LEAD = "lead tasks away from their margin (min)"
CHANGES = "tasks moved from the schedule before"
HANDS = "recurring care that changes hands"
_EXPOSED_UP_TO_MIN = 1440
"""Longest greatest gap that stands for something exposed, such as animals in a container: a day. [min]"""


def exposed(link: Link) -> bool:
    """Whether the time between the ends of a link is to be short: a greatest gap of at most a day that gets worse."""
    return link.max_gap_min is not None and link.max_gap_min <= _EXPOSED_UP_TO_MIN and not link.any_length


def _spots(desk: Desk) -> list[Spot]:
    return [spot for spot in desk.spots if spot is not None]


def lateness(model: Model, spots: list[Spot]) -> int:
    """Minutes by which tasks end after their soft dates, in all."""
    return sum(
        max(0, spot.finish - job.task.due)
        for job, spot in zip(model.jobs, spots, strict=True)
        if job.task.due is not None
    )


def gap_ends(problem: SchedulingProblem) -> set[str]:
    """Tasks that end a short greatest gap, such as putting animals back."""
    return {link.after for link in problem.network.links if exposed(link)}


def exposure(problem: SchedulingProblem, at: Mapping[str, Placed]) -> int:
    """Minutes between the ends of links with a greatest gap, and of tied days; of a part, what is known of it.

    A day counts twice: from its first task to its last, and from its first task to the end of its last greatest gap, so
    that of two days as long the one is better that has the animals home earlier.
    """
    total = sum(
        link.gap_between(at[link.before], at[link.after])
        for link in problem.network.links
        if exposed(link) and link.before in at and link.after in at
    )
    last = gap_ends(problem)
    for day in problem.tied_days:
        tied = [task.id for task in problem.network.tasks if task.day == day.tag and task.id in at]
        if tied:
            first = min(at[name].start for name in tied)
            total += max(at[name].finish for name in tied) - first
            total += max((at[name].finish for name in tied if name in last), default=first) - first
    return total


def exposure_of(problem: SchedulingProblem, schedule: Schedule) -> int:
    """Give the same of a finished schedule. [min].

    Parameters
    ----------
    problem : SchedulingProblem
        Its links and tied days.
    """
    return exposure(problem, {one.task: one for one in schedule.placements})


def pay(model: Model, spot: Spot) -> int:
    """Pay for one task: hundredths times minutes an hour."""
    people = model.problem.people
    return sum(
        people[at].cents_per_hour * (end - begin) for (begin, end), crew in spot.staffed() for at in crew
    )


def money(model: Model, spots: list[Spot]) -> int:
    """Hire of vehicles by the local day and pay of people by the minute, in hundredths."""
    hired: set[tuple[int, int]] = set()
    paid = 0
    for job, spot in zip(model.jobs, spots, strict=True):
        paid += pay(model, spot)
        for begin, end in spot.segments:
            for vehicle in job.vehicles:
                days = range(model.day_of(begin), model.day_of(max(begin, end - 1)) + 1)
                hired.update((vehicle, day) for day in days)
    return sum(model.problem.vehicles[at].cents_per_day for at, _ in hired) + paid // 60


def asked_for(model: Model, position: int, spot: Spot) -> set[tuple[int, int]]:
    """Give the people who are asked for a task, each with a local day for which they are."""
    asked = model.jobs[position].asked
    if all(map(asked.isdisjoint, spot.crews)):  # as of most tasks
        return set()
    return {
        (person, model.day_of(begin))
        for (begin, _), crew in spot.staffed()
        for person in crew
        if person in asked
    }


def dates(model: Model, spots: list[Spot]) -> int:
    """How many local days there are for which somebody who helps is asked, each such person counted."""
    return len({one for at, spot in enumerate(spots) for one in asked_for(model, at, spot)})


def finish(model: Model, spots: list[Spot]) -> int:
    """Minutes from the start to the last finish."""
    return max((spot.finish for spot in spots), default=model.problem.start) - model.problem.start


def lead(model: Model, spots: list[Spot]) -> int:
    """Minutes by which late tasks stand nearer to what needs them than wished, or farther, in all."""
    total = 0
    for at, job in enumerate(model.jobs):
        if not job.late:
            continue
        ends = [
            (spots[rule[1]].finish if rule[3] else spots[rule[1]].start) - rule[4]
            for rule in model.out[at]
            if rule[2] and rule[4] >= 0
        ]
        if ends:
            total += abs(min(ends) - spots[at].finish - job.task.margin_min)
    return total


def changes(model: Model, spots: list[Spot], before: Mapping[str, int]) -> int:
    """How many tasks start at another moment than in the schedule before."""
    return sum(
        before.get(job.task.id, spot.start) != spot.start for job, spot in zip(model.jobs, spots, strict=True)
    )


def hands(spots: list[Spot]) -> int:
    """How many tasks of recurring care are not done by the same people every time."""
    return sum(len(set(spot.crews)) > 1 for spot in spots)


def values(desk: Desk, before: Mapping[str, int] | None = None) -> tuple[tuple[str, int], ...]:
    """Every aim with its value, the most important first.

    Parameters
    ----------
    before : mapping of str to int, optional
        Starts in the schedule before. [min]

    Returns
    -------
    tuple of (str, int)
        Name and value.
    """
    model, spots = desk.model, _spots(desk)
    rows: list[tuple[str, int]] = []
    if any(job.task.due is not None for job in model.jobs):
        rows.append((LATENESS, lateness(model, spots)))
    care = [(HANDS, hands(spots))] if any(job.task.repeats and job.pool for job in model.jobs) else []
    if model.only_finish:
        return (*rows, (FINISH, finish(model, spots)), *care)
    at = {job.task.id: spot for job, spot in zip(model.jobs, spots, strict=True)}
    rows += [(EXPOSURE, exposure(model.problem, at)), *care, (MONEY, money(model, spots))]
    if any(person.helps for person in model.problem.people):
        rows.append((DATES, dates(model, spots)))
    rows.append((FINISH, finish(model, spots)))
    if loads(model):
        rows.append((WEEKS, uneven(model, spots)))
    rows.append((LEAD, lead(model, spots)))
    return (*rows, (CHANGES, changes(model, spots, before))) if before else tuple(rows)


def better(one: tuple[tuple[str, int], ...], other: tuple[tuple[str, int], ...]) -> bool:
    """Whether the first set of values is better than the second."""
    return [value for _, value in one] < [value for _, value in other]
