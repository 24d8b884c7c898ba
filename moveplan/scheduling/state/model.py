"""The problem with positions in place of ids, ready for the engines."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from moveplan.network.arcs import ArcGraph, Span, arcs_of
from moveplan.network.link import Link, Relation
from moveplan.network.reach import reached
from moveplan.network.task import Crew, LargerCrew, Task, Timing
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.state.tracks import Windows
from moveplan.times import Interval

Rule = tuple[int, int, bool, bool, int]
"""Tail, head, whether from the tail's finish, whether to the head's finish, least distance."""


@dataclass(frozen=True, slots=True)
class Job:
    """One task with positions in place of ids.

    Parameters
    ----------
    options : tuple of LargerCrew
        Sizes of crew with their durations, the first as planned.
    named : tuple of int
        Positions of the people who must be there.
    pool : tuple of int
        Positions of the people who may be there, the named included.
    asked : frozenset of int
        Positions of the people who would have to be asked to come for it, whoever does it.
    vehicles : tuple of int
        Positions of the vehicles.
    gear : tuple of (int, int)
        Position and count of the gear in use during the task.
    opens : tuple of (int, int, int)
        Gear held from its start on: position, count, and the position of the task that ends it.
    closes : tuple of (int, int, int)
        Gear held until its finish: position, count, and the position of the task that begins it.
    tag : int
        Position of the tied day; -1: none.
    span : Span
        Elapsed time from start to finish: at least, at most. [min]
    """

    task: Task
    options: tuple[LargerCrew, ...]
    named: tuple[int, ...]
    pool: tuple[int, ...]
    asked: frozenset[int]
    vehicles: tuple[int, ...]
    gear: tuple[tuple[int, int], ...]
    opens: tuple[tuple[int, int, int], ...]
    closes: tuple[tuple[int, int, int], ...]
    tag: int
    span: Span

    @property
    def late(self) -> bool:
        """Whether it wants to be as late as its margin allows."""
        return self.task.timing is Timing.LATE


@dataclass(frozen=True, slots=True)
class Model:
    """Everything the engines look up.

    Parameters
    ----------
    problem : SchedulingProblem
        As it came.
    jobs : tuple of Job
        In the network's order.
    rules : tuple of (int, int, bool, bool, int)
        Every least and greatest gap: tail, head, from its finish, to its finish, least distance. [min]
    into, out : tuple of tuple
        Rules by head, and by tail. [min]
    graph : ArcGraph
        The same between starts, hard dates included. [min]
    skills : tuple of frozenset of str
        One a person.
    people, vehicles : tuple of Windows
        When each may be used. [min]
    tags : tuple of tuple of Interval
        Days to choose from, one tuple a tied day. [min]
    drives : dict of (str, str) to int
        Both ways. [min]
    day_starts : tuple of int
        When local days begin. [min]
    """

    problem: SchedulingProblem
    jobs: tuple[Job, ...]
    rules: tuple[Rule, ...]
    into: tuple[tuple[Rule, ...], ...]
    out: tuple[tuple[Rule, ...], ...]
    graph: ArcGraph
    skills: tuple[frozenset[str], ...]
    people: tuple[Windows, ...]
    vehicles: tuple[Windows, ...]
    tags: tuple[tuple[Interval, ...], ...]
    drives: dict[tuple[str, str], int]
    day_starts: tuple[int, ...]

    def on_grid(self, moment: int) -> int:
        """First moment of the grid that is not before this one."""
        grid = self.problem.grid_min
        return moment if grid == 1 else moment + (self.problem.start - moment) % grid

    def day_of(self, moment: int) -> int:
        """Position of the local day in which a moment lies."""
        return bisect_right(self.day_starts, moment) - 1

    def reach(self, begin: Iterable[int], *, forwards: bool, by_waits: bool = False) -> set[int]:
        """Find the tasks that rules lead to from some tasks, these included.

        Parameters
        ----------
        begin : iterable of int
            Positions to begin at.
        forwards : bool
            Whether to go to what comes after; else to what comes before.
        by_waits : bool
            Whether to follow only rules by which one waits for another; else those of greatest gaps as well.
        """
        rules, end = (self.out, 1) if forwards else (self.into, 0)
        return reached(
            begin, lambda at: [one[end] for one in rules[at] if one[4] >= 0 or not by_waits]
        ) | set(begin)

    @property
    def only_finish(self) -> bool:
        """Whether the earliest finish is the one aim: a plan without milestones, of somebody's own tasks."""
        return not self.problem.network.milestones


def _options(task: Task) -> tuple[LargerCrew, ...]:
    count = task.crew.count if task.crew else 0
    return (LargerCrew(count, task.minutes), *(task.larger_crews if task.crew else ()))


def _span(task: Task) -> Span:
    minutes = [option.minutes for option in _options(task)]
    least, greatest = min(minutes), max(minutes)
    if task.repeats is not None:
        between = task.repeats.every_min * (task.repeats.times - 1)
        slack = task.repeats.slack_min if task.repeats.times > 1 else 0
        return Span(max(least, between + least - slack), between + greatest + slack)
    return Span(least, None if task.may_pause and (task.crew or task.vehicles) else greatest)


def rules_of(links: Sequence[Link], at: dict[str, int]) -> list[Rule]:
    """Every link as least distances between ends: a greatest gap runs backwards with a minus."""
    rules: list[Rule] = []
    for link in links:
        before, after, relation = at[link.before], at[link.after], link.relation
        if link.min_gap_min is not None:
            rules.append((before, after, relation.from_finish, relation.to_finish, link.min_gap_min))
        if link.max_gap_min is not None:
            rules.append((after, before, relation.to_finish, relation.from_finish, -link.max_gap_min))
    return rules


def _pool(crew: Crew, problem: SchedulingProblem, named: tuple[int, ...]) -> tuple[int, ...]:
    """People who could be in a crew: the named, and whoever has the skills that all of it must have."""
    if len(named) >= crew.count:
        return named
    of_all = {skill for skill, number in crew.skills if number >= crew.count}
    return tuple(
        at for at, person in enumerate(problem.people) if at in named or of_all <= set(person.skills)
    )


def _job(task: Task, problem: SchedulingProblem, at: dict[str, dict[str, int]]) -> Job:
    crew, holds = task.crew, problem.network.holds
    named = tuple(sorted(at["person"][name] for name in crew.named)) if crew else ()
    opens = [(hold, hold.until_task) for hold in holds if hold.from_task == task.id]
    closes = [(hold, hold.from_task) for hold in holds if hold.until_task == task.id]
    return Job(
        task=task,
        options=_options(task),
        named=named,
        pool=_pool(crew, problem, named) if crew else (),
        asked=frozenset(at for at, person in enumerate(problem.people) if person.is_asked(task.place)),
        vehicles=tuple(sorted(at["vehicle"][name] for name in task.vehicles)),
        gear=tuple((at["gear"][name], count) for name, count in task.gear if count),
        opens=tuple((at["gear"][h.gear], h.count, at["task"][end]) for h, end in opens if h.count),
        closes=tuple((at["gear"][h.gear], h.count, at["task"][end]) for h, end in closes if h.count),
        tag=at["tag"].get(task.day, -1),
        span=_span(task),
    )


def _positions(problem: SchedulingProblem) -> dict[str, dict[str, int]]:
    network = problem.network
    return {
        "task": {task.id: position for position, task in enumerate(network.tasks)},
        "person": {person.id: position for position, person in enumerate(problem.people)},
        "vehicle": {vehicle.id: position for position, vehicle in enumerate(problem.vehicles)},
        "gear": {gear.id: position for position, gear in enumerate(problem.gear)},
        "tag": {tag: position for position, (tag, _) in enumerate(_tags(problem))},
    }


def _tags(problem: SchedulingProblem) -> list[tuple[str, tuple[Interval, ...]]]:
    """Tags with the days to choose from; a tag of which nothing is said may be any day."""
    stated = {tied.tag: tied.days for tied in problem.tied_days}
    used = dict.fromkeys(task.day for task in problem.network.tasks if task.day)
    return [(tag, stated.get(tag, problem.days)) for tag in dict.fromkeys([*stated, *used])]


def _both_ways(problem: SchedulingProblem) -> dict[tuple[str, str], int]:
    table: dict[tuple[str, str], int] = {}
    for one, other, minutes in problem.drives:
        if one != other and minutes > 0:
            table.setdefault((one, other), minutes)
            table.setdefault((other, one), minutes)
    return table


def _day_starts(problem: SchedulingProblem) -> tuple[int, ...]:
    if problem.days:
        return tuple(day.start for day in problem.days)
    return tuple(range(problem.start, max(problem.horizon, problem.start + 1), 1440))


def _held(problem: SchedulingProblem) -> list[Link]:
    """Give a link for each hold: it ends no earlier than it begins."""
    return [
        Link(hold.from_task, hold.until_task, Relation.STARTTOFINISH, why=f"{hold.gear} held until then")
        for hold in problem.network.holds
    ]


def model_of(problem: SchedulingProblem) -> Model:
    """Compile a problem.

    Parameters
    ----------
    problem : SchedulingProblem
        A problem in which every id is known (``checks.py``).
    """
    at = _positions(problem)
    jobs = tuple(_job(task, problem, at) for task in problem.network.tasks)
    network = replace(problem.network, links=(*problem.network.links, *_held(problem)))
    rules = tuple(dict.fromkeys(rules_of(network.links, at["task"])))
    return Model(
        problem=problem,
        jobs=jobs,
        rules=rules,
        into=_by(rules, 1, len(jobs)),
        out=_by(rules, 0, len(jobs)),
        graph=arcs_of(network, [job.span for job in jobs], problem.start),
        skills=tuple(frozenset(person.skills) for person in problem.people),
        people=tuple(Windows(person.available) for person in problem.people),
        vehicles=tuple(Windows(vehicle.available) for vehicle in problem.vehicles),
        tags=tuple(days for _, days in _tags(problem)),
        drives=_both_ways(problem),
        day_starts=_day_starts(problem),
    )


def _by(rules: Sequence[Rule], end: int, size: int) -> tuple[tuple[Rule, ...], ...]:
    sorted_out: list[list[Rule]] = [[] for _ in range(size)]
    for rule in rules:
        sorted_out[rule[end]].append(rule)
    return tuple(tuple(group) for group in sorted_out)
