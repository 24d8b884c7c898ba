"""A scheduled project made ready for the simulation."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from moveplan.network.task import Kind, Task, Timing
from moveplan.practice.project import Project
from moveplan.risk.prepared.calendar import Calendar, MovingDay
from moveplan.risk.prepared.net import Day, Mishap, Net, Step, Tie
from moveplan.risk.register.default import table
from moveplan.risk.runs.draw import Floats, Loading, quantile_tables
from moveplan.risk.summary import RegisterEntry
from moveplan.scheduling.dates.order import resource_order
from moveplan.scheduling.schedule import Placement, Schedule


@dataclass(frozen=True, slots=True)
class Prepared:
    """A scheduled project made ready for the simulation.

    Parameters
    ----------
    schedule : Schedule
        When, by whom.
    register : tuple of RegisterEntry
        One mishap each.
    net : Net
        Tasks, what they wait for, what may happen.
    own : tuple of Tie
        The network's own ties, the order of people, vehicles and gear left out.
    tables : array
        Quantiles of durations, row by task. [min]
    estimates : tuple of (float, float, float)
        Low, likely and high of each task with its crew. [min]
    loading : Loading
        Common causes, row by task.
    at : Mapping of str to int
        Positions of tasks.
    days : tuple of MovingDay
        Moving days, in order of time.
    calendar : Calendar
        Hours of crews.
    """

    project: Project
    schedule: Schedule
    register: tuple[RegisterEntry, ...]
    net: Net
    own: tuple[Tie, ...]
    tables: Floats
    estimates: tuple[tuple[float, float, float], ...]
    loading: Loading
    at: Mapping[str, int]
    days: tuple[MovingDay, ...]
    calendar: Calendar

    def since_start(self, moment: int) -> float:
        """Minutes from the start of the plan to a moment, UTC. [min]."""
        return float(moment - self.project.scheduling.start)

    def dates(self) -> tuple[tuple[str, int, float], ...]:
        """Own tasks of the keeper that are still to be finished by a date: id, position, the date. [min]."""
        tasks = self.project.network.tasks
        return tuple(
            (one.id, self.at[one.id], self.since_start(one.finish_by))
            for one in self.project.plan.tasks
            if one.finish_by is not None
            if one.id in self.at and tasks[self.at[one.id]].finish_by is not None
        )


def prepare(project: Project, schedule: Schedule, register: tuple[RegisterEntry, ...]) -> Prepared:
    """Make a scheduled project ready for the simulation.

    Parameters
    ----------
    schedule : Schedule
        With a placement for each task.
    """
    tasks = project.network.tasks
    at = {task.id: position for position, task in enumerate(tasks)}
    placed = {one.task: one for one in schedule.placements}
    calendar = Calendar(project, schedule)
    own = tuple(_own_ties(project, at))
    ties = (*own, *_order_ties(project, schedule, at, placed))
    gates = _gates(project, ties, at)
    steps = tuple(
        _step(project, calendar, task, placed[task.id], gate=at[task.id] in gates) for task in tasks
    )
    mishaps = tuple(_mishap(entry, placed, at) for entry in register)
    tolerance_min = float(table("policy")["slip"]["tolerance_min"])
    days = tuple(Day(float(day.slip_min), tolerance_min) for day in calendar.days)
    planned = tuple(float(placed[task.id].start - project.scheduling.start) for task in tasks)
    net = Net(steps, ties, mishaps, days, planned)
    estimates = tuple(_estimate(task, placed[task.id]) for task in tasks)
    tables = quantile_tables(estimates, project.plan.low_high)
    loading = loading_of(project)
    return Prepared(
        project, schedule, register, net, own, tables, estimates, loading, at, calendar.days, calendar
    )


def _own_ties(project: Project, at: Mapping[str, int]) -> Iterator[Tie]:
    for link in project.network.links:
        if link.min_gap_min is not None:
            relation = link.relation
            ends = at[link.before], at[link.after]
            yield Tie(*ends, float(link.min_gap_min), relation.from_finish, relation.to_finish)


def _order_ties(
    project: Project, schedule: Schedule, at: Mapping[str, int], placed: Mapping[str, Placement]
) -> Iterator[Tie]:
    """Keep the order on people, vehicles and gear; recurring care and meals wait for no turn, their times have room."""
    tasks = project.network.tasks
    at_once = tuple(table("policy")["turns"]["taken_at_once"])
    free = {task.id for task in tasks if task.repeats or task.id.startswith(at_once)}
    tied = {task.id for task in tasks if task.day}
    for order in resource_order(project.scheduling, schedule):
        link = order.link
        if free & {link.before, link.after}:
            continue
        gap = link.min_gap_min or 0
        if placed[link.after].start >= placed[link.before].finish + gap:
            yield Tie(at[link.before], at[link.after], float(gap), freed=link.before not in tied)


def _gates(project: Project, ties: Sequence[Tie], at: Mapping[str, int]) -> set[int]:
    """Positions of tasks that do not begin before their planned start.

    Those that want to be late, those that open the moving day, and those that begin a greatest gap, such as taking
    animals out.
    """
    tasks = project.network.tasks
    inside = {tie.head for tie in ties if tasks[tie.head].day and tasks[tie.tail].day == tasks[tie.head].day}
    late = {position for position, task in enumerate(tasks) if task.timing is Timing.LATE or task.repeats}
    openers = {position for position, task in enumerate(tasks) if task.day and position not in inside}
    taking_out = {
        at[link.before]
        for link in project.network.links
        if link.max_gap_min is not None and not link.relation.from_finish
    }
    return late | openers | taking_out


def _step(project: Project, calendar: Calendar, task: Task, stands: Placement, *, gate: bool) -> Step:
    start = project.scheduling.start
    tags = [day.tag for day in calendar.days]
    floor = max(stands.start - start if gate else 0, (task.not_before or start) - start)
    hold = of_key(table("holds"), task.id) if task.kind is Kind.HOLD_POINT and project.way else {}
    return Step(
        floor_min=float(floor),
        follows_day=gate and task.day in tags,
        day=tags.index(task.day) if task.day in tags else -1,
        hours=calendar.of(task, stands),
        runs_over=bool(calendar.runs_over(task, stands)) and not task.may_pause,
        pauses=task.may_pause and task.repeats is None,
        tail_min=float(stands.finish - stands.segments[0].finish) if task.repeats else 0.0,
        fails=hold.get("fails", 0.0),
        redo_min=float(hold.get("redo_min", 0.0)),
        slips=hold.get("slips", False),
    )


def of_key(rows: Mapping[str, Any], task: str) -> Mapping[str, Any]:
    """Find the row of a task by the longest key that it is or begins with; else the row of ``other``.

    >>> of_key({"other": {"n": 0}, "drive": {"n": 1}}, "drive-van")
    {'n': 1}
    """
    keys = [key for key in rows if task == key or task.startswith(f"{key}-")]
    found: Mapping[str, Any] = rows[max(keys, key=len, default="other")]
    return found


def _mishap(entry: RegisterEntry, placed: Mapping[str, Placement], at: Mapping[str, int]) -> Mishap:
    struck = min(entry.tasks, key=lambda task: placed[task].start, default=None)
    task = None if struck is None else at[struck]
    return Mishap(entry.probability, float(entry.delay_min), task, entry.holding)


def _estimate(task: Task, stands: Placement) -> tuple[float, float, float]:
    """Low, likely and high with the crew of the schedule, which may be larger than the usual one."""
    worked = stands.segments[0].minutes if task.repeats else sum(piece.minutes for piece in stands.segments)
    factor = worked / task.minutes if task.minutes and worked != task.minutes else 1.0
    estimate = task.estimate
    return factor * estimate.low, factor * estimate.likely, factor * estimate.high


def loading_of(project: Project) -> Loading:
    """Say how much of each common cause is in each task; own tasks have none."""
    rows = list(table("causes").values())
    shares = [
        [row["share"] if project.way and _touches(row, task) else 0.0 for row in rows]
        for task in project.network.tasks
    ]
    return Loading(np.sqrt(np.array(shares, dtype=float).reshape(len(shares), len(rows))))


def _touches(row: Mapping[str, Any], task: Task) -> bool:
    if "tied" in row and row["tied"] != bool(task.day):
        return False
    keys = row.get("tasks", ())
    if keys:
        return any(task.id == key or task.id.startswith(f"{key}-") for key in keys)
    if row.get("travels"):
        return task.kind is Kind.TRAVEL
    return bool(row.get("works")) and task.crew is not None and task.kind is not Kind.TRAVEL
