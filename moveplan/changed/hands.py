"""One more pair of hands for a part of the moving day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from itertools import chain, count

from moveplan.changed.change import Change, span_words
from moveplan.hours import HoursRule
from moveplan.plan.move import Plan
from moveplan.plan.people import Helper
from moveplan.practice.project import Project
from moveplan.risk.prepared.calendar import moving_days
from moveplan.scheduling.schedule import Schedule
from moveplan.times import MINUTES_A_DAY

HALF_HOUR_MIN = 30
"""Helpers are asked for on the half hour. [min]"""
NAME = "helper"
"""Id of who is asked. [-]"""


def more_hands(project: Project, schedule: Schedule) -> Iterator[Change]:
    """Offer somebody who carries for the first half of the moving day, for the second, or for all of it.

    Parameters
    ----------
    schedule : Schedule
        When the moving day begins and ends.
    """
    first, last = _day(project, schedule)
    middle = _half_hour((first + last) / 2)
    for begin, end in ((first, middle), (middle, last), (first, last)):
        if end > begin:
            yield _helper(project.plan, begin, end)


def _day(project: Project, schedule: Schedule) -> tuple[int, int]:
    """Begin and end of the work of the moving day, as minutes of that day."""
    day = moving_days(project, schedule)[0]
    tied = {task.id for task in project.network.tasks if task.day == day.tag and task.crew}
    work = [one for one in schedule.placements if one.task in tied]
    midnight = day.spans[0].start
    first, last = min(one.start for one in work) - midnight, max(one.finish for one in work) - midnight
    return _half_hour(first), min(_half_hour(last), MINUTES_A_DAY)


def _half_hour(minute: float) -> int:
    return round(minute / HALF_HOUR_MIN) * HALF_HOUR_MIN


def _helper(plan: Plan, begin: int, end: int) -> Change:
    known = {person.id for person in plan.people}
    name = next(one for one in chain((NAME,), (f"{NAME}-{n}" for n in count(2))) if one not in known)
    hours = (HoursRule("FREQ=DAILY", begin, end),)
    helper = Helper(
        name, name.capitalize().replace("-", " "), True, False, False, (), hours, (), False, Decimal(0), ""
    )
    writes = f"{{drives: no, cares: no, hours: none, moving-day: {span_words(begin, end)}}}"
    return Change(
        ((f"people.{name}", writes),),
        lambda old: replace(old, people=(*old.people, helper)),
        "helper",
        (name,),
        (end - begin) / 60,
        anew=True,
    )
