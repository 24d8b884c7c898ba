"""Another day for what is tied to one: any day as the hours are, or some weeks later with the hours moved along."""

from __future__ import annotations

from dataclasses import replace

from moveplan.errors import WayOut
from moveplan.hours import merged
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.state.clock import day_name
from moveplan.scheduling.state.desk import Desk
from moveplan.times import Interval

_WEEKS = (1, 2, 3, 4, 6, 8)
"""Weeks by which a day comes later, tried one after the other. Chosen. [week]"""
AS_HOURS_ARE = 0
"""Amount that stands for any day, with everybody's hours as they are. [-]"""


def amounts_of(problem: SchedulingProblem, tag: str) -> tuple[int, ...]:
    """List what to try: any day first, then days by which the last stated day comes later. [day]."""
    stated = stated_days(problem, tag)
    if not stated or not problem.days:
        return ()
    last = problem.days.index(stated[-1]) if stated[-1] in problem.days else len(problem.days)
    return (AS_HOURS_ARE, *(7 * weeks for weeks in _WEEKS if last + 7 * weeks < len(problem.days)))


def stated_days(problem: SchedulingProblem, tag: str) -> tuple[Interval, ...]:
    """Days that a tag may choose from; none where any day is right."""
    return next((row.days for row in problem.tied_days if row.tag == tag), ())


def moved(problem: SchedulingProblem, tag: str, later_days: int) -> SchedulingProblem:
    """Tie a tag to any day; or to one so many days after its last, where all have the hours of it and its eves.

    Parameters
    ----------
    tag : str
        Of the tied day.
    later_days : int
        One of :func:`amounts_of`, or a number between two of them. [day]
    """
    if later_days == AS_HOURS_ARE:
        return _tied(problem, tag, problem.days)
    last = stated_days(problem, tag)[-1]
    at = problem.days.index(last)
    people = problem.people
    for day in range(max(at - 2, 0), at + 1):
        people = tuple(_also(one, problem.days[day], problem.days[day + later_days]) for one in people)
    return _tied(replace(problem, people=people), tag, (problem.days[at + later_days],))


def _tied(problem: SchedulingProblem, tag: str, days: tuple[Interval, ...]) -> SchedulingProblem:
    rows = tuple(replace(row, days=days) if row.tag == tag else row for row in problem.tied_days)
    return replace(problem, tied_days=rows)


def _also(person: Person, day: Interval, other: Interval) -> Person:
    """Give somebody on another day the hours of a day as well; hours past its midnight do not count."""
    hours = (
        Interval(max(one.start, day.start), min(one.finish, day.finish))
        for one in person.available
        if one.overlaps(day)
    )
    shift = other.start - day.start
    more = (Interval(one.start + shift, min(one.finish + shift, other.finish)) for one in hours)
    return replace(person, available=merged((*person.available, *more)))


def told(problem: SchedulingProblem, tag: str, later_days: int, desk: Desk) -> WayOut:
    """Say which day a schedule has found.

    Parameters
    ----------
    problem : SchedulingProblem
        As it stood.
    tag : str
        Of the tied day.
    later_days : int
        What was tried. [day]
    """
    stated = stated_days(problem, tag)
    starts = [
        spot.start
        for job, spot in zip(desk.model.jobs, desk.spots, strict=True)
        if job.task.day == tag and spot is not None
    ]
    day = desk.model.day_of(min(starts))
    first, last = desk.model.day_of(stated[0].start), desk.model.day_of(stated[-1].start)
    name = day_name(tag)
    if first <= day <= last:
        return WayOut(f"take a {name} between those allowed, {days_said(day - first)} after the first")
    if day < first:
        return WayOut(f"take a {name} {days_said(first - day)} before the first one allowed")
    text = f"take a {name} {days_said(day - last)} after the last one allowed"
    return WayOut(text if later_days == AS_HOURS_ARE else f"{text}, with the same hours for everybody")


def days_said(number: int) -> str:
    """Say a number of days.

    >>> days_said(1), days_said(7)
    ('1 day', '7 days')
    """
    return f"{number} day{'s' if number != 1 else ''}"
