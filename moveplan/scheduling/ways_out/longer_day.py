"""A longer tied day: everybody begins earlier than their hours say, goes on for longer, or both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from moveplan.errors import WayOut
from moveplan.hours import merged
from moveplan.network.words import listed, said
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.state.clock import day_name, stretch
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.ways_out.other_day import stated_days
from moveplan.times import Interval

_MORE = ((0, 30), (30, 0), (30, 30), (60, 0), (60, 30))
"""Minutes earlier and later that are tried; never past midnight, and no more: tired people drop tanks. [min]"""


def amounts_of(problem: SchedulingProblem, tag: str) -> tuple[int, ...]:
    """List what to try, by its place in order; nothing where the day is not stated or nobody works on it."""
    days = stated_days(problem, tag)
    works = any(one.overlaps(day) for day in days for person in problem.people for one in person.available)
    return tuple(range(len(_MORE))) if works and any(task.crew for task in problem.network.tasks) else ()


def lengthened(problem: SchedulingProblem, tag: str, amount: int) -> SchedulingProblem:
    """Let everybody who works on a tied day begin earlier and go on for longer.

    Parameters
    ----------
    tag : str
        Of the tied day.
    amount : int
        One of :func:`amounts_of`.
    """
    days = stated_days(problem, tag)
    return replace(problem, people=tuple(_longer(person, days, *_MORE[amount]) for person in problem.people))


def _longer(person: Person, days: Sequence[Interval], earlier_min: int, later_min: int) -> Person:
    hours = list(person.available)
    for day in days:
        on_it = [one for one in person.available if one.overlaps(day)]
        if on_it:
            begin = max(day.start, on_it[0].start - earlier_min)
            end = min(day.finish, on_it[-1].finish + later_min)
            first, last = on_it[0], on_it[-1]
            hours += [
                Interval(min(begin, first.start), first.start),
                Interval(last.finish, max(end, last.finish)),
            ]
    return replace(person, available=merged(one for one in hours if one.minutes))


def told(problem: SchedulingProblem, tag: str, desk: Desk) -> WayOut:
    """Say from when to when a schedule works on a day, and who does so outside their hours.

    Parameters
    ----------
    problem : SchedulingProblem
        As it stood.
    tag : str
        Of the tied day.
    """
    spots = [
        spot
        for job, spot in zip(desk.model.jobs, desk.spots, strict=True)
        if job.task.day == tag and job.task.crew and spot is not None
    ]
    hours = stretch(problem, min(spot.start for spot in spots), max(spot.finish for spot in spots))
    outside = [
        f"{person.name or person.id} {said(minutes)}"
        for person, track in zip(problem.people, desk.people, strict=True)
        if (minutes := sum(_outside(person, begin, end) for begin, end, *_ in track.bookings))
    ]
    longer = f"{listed(outside)} outside the hours stated, and rested people at the wheel"
    return WayOut(f"work on the {day_name(tag)} {hours}", longer)


def _outside(person: Person, begin: int, end: int) -> int:
    inside = sum(max(0, min(end, one.finish) - max(begin, one.start)) for one in person.available)
    return max(0, end - begin - inside)
