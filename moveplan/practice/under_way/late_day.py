"""A day that runs late once the animals are in their containers: every limit that people set gives way, told on top.

Past the point of no return there is no way back, so there must be a way on.  Hours, hire, the end of the day, dates
and greatest gaps give way for so long, and who has fallen out is out of every crew; the animals' limits are told with
what else is broken, and nothing else is asked of the engine.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace

from moveplan.hours import without
from moveplan.journal.now.failure import Failed
from moveplan.network.link import Link
from moveplan.network.task import Crew, Kind, Task
from moveplan.practice.project import Project
from moveplan.practice.under_way.engine import Underway
from moveplan.practice.under_way.unsaid import POINT
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.times import Interval, local_day, to_local

GIVES_WAY_MIN = (360, 720, 1440, 2880)
"""So long from now, or from the end of what has failed, hours, hire and dates give way: the shortest that does is
taken, and if none does, for as long as the plan has left; assumed. [min]"""
DAY_MIN = 1440
"""Minutes of a day. [min]"""


@dataclass(frozen=True, slots=True)
class Late:
    """A late day as the engine may take it.

    Parameters
    ----------
    problem : SchedulingProblem
        Without the limits that give way.
    gaps : tuple of Link
        Greatest gaps that were taken off.
    short : tuple of (str, int, int)
        Tasks that are done by fewer hands: id, hands that were planned, and hands that are there.
    """

    problem: SchedulingProblem
    gaps: tuple[Link, ...]
    short: tuple[tuple[str, int, int], ...]


def past_return(project: Project, way: Underway) -> bool:
    """Whether animals are in containers, or a point of no return is passed, and not all are home.

    Parameters
    ----------
    project : Project
        The plan as a project.
    way : Underway
        What is done and runs.
    """
    settled = dict(project.network.milestones).get("settled", "")
    if settled in way.real:
        return False
    shut = {stop.since.task for route in project.routes for stop in route.stops if stop.safe and stop.since}
    return any(name in shut or name.startswith(POINT) for name in way.real)


def ends_of_limits(problem: SchedulingProblem, now: int, failures: Iterable[Failed]) -> Iterator[int]:
    """Give the moments until which limits of people, vehicles and dates may give way, the soonest first, UTC. [min].

    Parameters
    ----------
    problem : SchedulingProblem
        What is left to do.
    now : int
        UTC. [min]
    failures : iterable of Failed
        What has failed and does not work again: the rest of the day comes after it.
    """
    since = max([now, *(one.planned_on for one in failures)])
    for lasting in GIVES_WAY_MIN:
        yield since + lasting
    yield since + max(GIVES_WAY_MIN[-1], problem.horizon - now)


def late_day(
    project: Project, way: Underway, now: int, until: int, *, in_time: bool, out: Collection[str]
) -> Late:
    """Take off what gives way.

    Parameters
    ----------
    project : Project
        On the day that runs late.
    way : Underway
        What is left to do.
    now : int
        UTC. [min]
    until : int
        Until when they give way, UTC. [min]
    in_time : bool
        Whether the greatest gaps stay, which are the animals' limits for the most part.
    out : collection of str
        Ids of people who have fallen out today, whatever hours of the day before still run.
    """
    problem = way.rest.scheduling
    here = _still_here(project, way, now, out)
    tasks, short = [], []
    for task in problem.network.tasks:
        eased = task if task.id in way.real else _eased(_with_hands(task, here), until)
        if eased.crew is not None and task.crew is not None and eased.crew.count < task.crew.count:
            short.append((task.id, task.crew.count, eased.crew.count))
        tasks.append(eased)
    gaps = tuple(link for link in problem.network.links if link.max_gap_min is not None)
    links = problem.network.links
    if not in_time:
        links = tuple(replace(link, max_gap_min=None) for link in links if link.min_gap_min is not None)
    network = replace(problem.network, tasks=tuple(tasks), links=links)
    ids = {one.id for one in here}
    return Late(
        replace(
            problem,
            network=network,
            horizon=max(problem.horizon, until),
            people=tuple(
                replace(one, available=_longer(one.available, _busy(one.id, way, now), now, until))
                if one.id in ids
                else one
                for one in problem.people
            ),
            vehicles=tuple(
                replace(one, available=_longer(one.available, _busy(one.id, way, now), now, until))
                for one in problem.vehicles
            ),
            tied_days=tuple(
                replace(tied, days=tuple(Interval(day.start, max(day.finish, until)) for day in tied.days))
                for tied in problem.tied_days
            ),
        ),
        gaps,
        tuple(short),
    )


def _still_here(project: Project, way: Underway, now: int, out: Collection[str]) -> tuple[Person, ...]:
    """Name who is there on the day: whoever had hours on it and did not fall out, else who comes later on it."""
    begun = [way.real[task.id].start for task in project.network.tasks if task.day and task.id in way.real]
    first = min([now, *(start for start in begun if start > now - DAY_MIN)])
    zone = project.plan.zone
    people = tuple(one for one in project.scheduling.people if one.id not in out)
    for last in (now + 1, local_day(to_local(now, zone).date(), zone).finish):
        there = tuple(
            person
            for person in people
            if any(one.start < last and first < one.finish for one in person.available)
        )
        if there:
            return there
    return people or project.scheduling.people


def _eased(task: Task, until: int) -> Task:
    ends_by_then = task.finish_by is not None and task.finish_by <= until
    return replace(task, finish_by=None) if ends_by_then else task


def _with_hands(task: Task, here: tuple[Person, ...]) -> Task:
    """Let those who are there do it, in as much more time as there are fewer of them."""
    crew = task.crew
    if crew is None or not task.day:
        return task
    names = {one.id for one in here}
    count = min(crew.count, len(here))
    skills = tuple(
        (skill, able)
        for skill, asked in crew.skills
        if (able := min(asked, count, sum(skill in one.skills for one in here)))
    )
    named = tuple(name for name in crew.named if name in names)
    if (count, skills, named) == (crew.count, crew.skills, crew.named):
        return task
    slower = crew.count / count if task.kind is Kind.WORK else 1.0
    estimate = task.estimate
    if slower > 1.0:
        low, likely, high = (
            -(-one * slower // 5) * 5 for one in (estimate.low, estimate.likely, estimate.high)
        )
        estimate = replace(estimate, low=low, likely=likely, high=high, basis="with fewer hands", inputs=())
    larger = tuple(one for one in task.larger_crews if one.count <= len(here))
    return replace(task, crew=Crew(count, skills, named), larger_crews=larger, estimate=estimate)


def _busy(whose: str, way: Underway, now: int) -> list[Interval]:
    return [
        Interval(now, one.finish)
        for one in way.real.values()
        if one.finish > now and whose in (*one.people, *one.vehicles)
    ]


def _longer(hours: tuple[Interval, ...], busy: list[Interval], now: int, until: int) -> tuple[Interval, ...]:
    after = [Interval(max(one.start, until), one.finish) for one in hours if one.finish > until]
    first = Interval(now, after[0].finish if after and after[0].start == until else until)
    return without((first, *(after[1:] if first.finish > until else after)), busy)
