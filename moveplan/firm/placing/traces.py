"""What a scheduled job takes of the firm: who and what is where, which gear is out, which water is fetched."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import NamedTuple

from moveplan.firm.day.roads import BASE, Roads, Site, site_of
from moveplan.firm.placing.lent import Taken, taken_of
from moveplan.firm.values import Firm
from moveplan.network.task import Kind, Task
from moveplan.practice.ledger.entries import PURIFIED
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Schedule
from moveplan.times import MINUTES_A_DAY, Interval, to_local

STAYS_MIN = 60
"""Whoever has no more than so long beside the way to the base and back waits where they are. [min]"""


@dataclass(frozen=True, slots=True, order=True)
class Stop:
    """One stretch of somebody, or of a vehicle, at one job.

    Parameters
    ----------
    start, finish : int
        UTC. [min]
    first, last : str
        Sites where it begins and ends; the base for desk work.
    worked_min : int
        Minutes of work in it, breaks and waits left out. [min]
    tasks : tuple of str
        Ids of its tasks, in order.
    moving : bool
        Whether it is of the moving day.
    parts : tuple of Stop
        What it was joined from, in order; empty: it is one task.
    """

    start: int
    finish: int
    job: str
    first: Site = BASE
    last: Site = BASE
    worked_min: int = 0
    tasks: tuple[str, ...] = ()
    moving: bool = False
    parts: tuple[Stop, ...] = ()


@dataclass(frozen=True, slots=True)
class Trace:
    """What one job takes.

    Parameters
    ----------
    people, vehicles : Mapping of str to tuple of Stop
        Stops of each, in order of time.
    gear : tuple of Taken
        The firm's gear that is out.
    water : tuple of (date, float)
        Purified water that is fetched at the base, by local day. [l]
    """

    job: str
    people: Mapping[str, tuple[Stop, ...]]
    vehicles: Mapping[str, tuple[Stop, ...]]
    gear: tuple[Taken, ...]
    water: tuple[tuple[date, float], ...]


class Run(NamedTuple):
    """A job as it is scheduled: its id, project and schedule, and what it takes of the firm."""

    job: str
    project: Project
    schedule: Schedule
    trace: Trace


def trace_of(firm: Firm, roads: Roads, job: str, project: Project, schedule: Schedule) -> Trace:
    """Read off a schedule what its job takes of the firm.

    Parameters
    ----------
    firm : Firm
        Whose people, vehicles and gear.
    job : str
        Id of the job.
    """
    tasks = {task.id: task for task in project.network.tasks}
    people: dict[str, list[_Piece]] = defaultdict(list)
    vehicles: dict[str, list[_Piece]] = defaultdict(list)
    for placed in schedule.placements:
        for position, segment in enumerate(placed.segments):
            piece = _Piece(segment, tasks[placed.task])
            for one in placed.segment_people[position] if placed.segment_people else placed.people:
                people[one].append(piece)
            for one in placed.vehicles:
                vehicles[one].append(piece)
    firms = {one.id for one in firm.people}
    crew = {one: _stops(job, pieces, roads) for one, pieces in sorted(people.items()) if one in firms}
    wheels = {one: _stops(job, pieces, roads) for one, pieces in sorted(vehicles.items())}
    days = _moving_days(firm, (*crew.values(), *wheels.values()))
    return Trace(
        job,
        {one: _together(firm, stops, days) for one, stops in crew.items()},
        {one: _together(firm, stops, days) for one, stops in wheels.items()},
        tuple(taken_of(firm, job, project, schedule)),
        _water(project, schedule),
    )


@dataclass(frozen=True, slots=True)
class _Piece:
    time: Interval
    task: Task


def _stops(job: str, pieces: Iterable[_Piece], roads: Roads) -> tuple[Stop, ...]:
    """Join pieces between which nobody would go back to the base."""
    stops: list[Stop] = []
    for piece in sorted(pieces, key=lambda one: (one.time, one.task.id)):
        if piece.time.minutes == 0:
            continue
        here = _stop(job, piece)
        before = stops[-1] if stops else None
        if before and (_same_moving_day(before, here) or _stays(roads, before, here)):
            stops[-1] = together(before, here)
        else:
            stops.append(here)
    return tuple(stops)


def _moving_days(firm: Firm, several: Iterable[tuple[Stop, ...]]) -> Mapping[date, tuple[Stop, Stop]]:
    """Find the first stop of each moving day, and the one that is over last."""
    days: dict[date, list[Stop]] = defaultdict(list)
    for stops in several:
        for stop in stops:
            if stop.moving:
                days[to_local(stop.start, firm.zone).date()].append(stop)
    return {day: (min(rows), max(rows, key=lambda one: one.finish)) for day, rows in days.items()}


def _together(
    firm: Firm, stops: tuple[Stop, ...], days: Mapping[date, tuple[Stop, Stop]]
) -> tuple[Stop, ...]:
    """Let the crew and its vehicles come together and leave together on a moving day: there is no other way home."""
    found: list[Stop] = []
    for stop in stops:
        day = days.get(to_local(stop.start, firm.zone).date()) if stop.moving else None
        ends = day or (stop, stop)
        stays = replace(
            stop, start=ends[0].start, first=ends[0].first, finish=ends[1].finish, last=ends[1].last
        )
        before = found[-1] if found else None
        if before and stays.start < before.finish:
            found.pop()
            whole = before if before.moving else stays
            stays = replace(together(before, stays), start=min(before.start, stays.start), last=whole.last)
        found.append(stays)
    return tuple(found)


def _same_moving_day(before: Stop, after: Stop) -> bool:
    """Whether nobody and nothing leaves in between: a crew stays together, and a loaded van stays where it is."""
    return before.moving and after.moving and after.start - before.finish < MINUTES_A_DAY // 2


def _stays(roads: Roads, before: Stop, after: Stop) -> bool:
    """Whether somebody stays where they are in between; desk work is done wherever they are."""
    same = before.last == after.first or BASE in (before.last, after.first)
    return same and after.start - before.finish <= away_min(roads, before, after)


def away_min(roads: Roads, before: Stop, after: Stop) -> int:
    """Time that going back to the base in between would take, and be worth. [min]."""
    return roads.minutes(before.last, BASE) + roads.minutes(BASE, after.first) + STAYS_MIN


def _stop(job: str, piece: _Piece) -> Stop:
    task = piece.task
    return Stop(
        piece.time.start,
        piece.time.finish,
        job,
        site_of(job, task.place),
        site_of(job, task.place_after or task.place),
        0 if task.kind in (Kind.REST, Kind.WAIT) else piece.time.minutes,
        (task.id,),
        bool(task.day),
    )


def together(one: Stop, two: Stop) -> Stop:
    """Join two stops of one job, one after the other."""
    return Stop(
        one.start,
        max(one.finish, two.finish),
        one.job,
        one.first or two.first,
        two.last or one.last,
        one.worked_min + two.worked_min,
        (*one.tasks, *two.tasks),
        one.moving or two.moving,
        (*(one.parts or (one,)), *(two.parts or (two,))),
    )


def _water(project: Project, schedule: Schedule) -> tuple[tuple[date, float], ...]:
    """Add up what is fetched on each day; a job that makes its own water fetches none."""
    made = project.plan.water_making
    if made is None or made.rate_l_day > 0:
        return ()
    litres: dict[date, float] = defaultdict(float)
    poured: dict[str, float] = defaultdict(float)
    for pour in project.ledger.pours:
        if pour.target == PURIFIED:
            poured[pour.task] += pour.litres
    for placed in schedule.placements:
        for segment in placed.segments if placed.task in poured else ():
            litres[to_local(segment.start, project.plan.zone).date()] += poured[placed.task]
    return tuple(sorted((day, round(amount, 1)) for day, amount in litres.items()))
