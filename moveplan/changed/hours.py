"""Longer hours: of who is late on the moving day, of everybody on it, and of who is late on the evening before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

from moveplan.changed.change import Change, hours_words, span_words, with_people
from moveplan.hours import HoursRule
from moveplan.plan.move import Plan
from moveplan.plan.people import Helper
from moveplan.practice.project import Project
from moveplan.risk.prepared.calendar import moving_days
from moveplan.scheduling.schedule import Schedule
from moveplan.times import MINUTES_A_DAY, Interval, local_day, to_local

EARLIEST_MIN = 4 * 60
"""Nobody is asked to begin before; assumed. [min]"""
STEPS_MIN = (60, 120)
"""By how much hours are lengthened. [min]"""
EVENING = Interval(18 * 60, 20 * 60)
"""What who has no time on the evening before is asked for first; assumed. [min]"""


def longer_days(project: Project, schedule: Schedule, late: tuple[str, ...]) -> Iterator[Change]:
    """Offer longer hours on the moving day.

    Parameters
    ----------
    schedule : Schedule
        Who works on the moving day.
    late : tuple of str
        Ids of people whose hours are too short too often.
    """
    there = _on_the_day(project, schedule)
    for more in STEPS_MIN:
        for name in late:
            yield from _lengthened(project.plan, "later", (name,), 0, more)
        if len(late) > 1:
            yield from _lengthened(project.plan, "later", late, 0, more)
        yield from _lengthened(project.plan, "earlier", there, more, 0)
        yield from _lengthened(project.plan, "both", there, more, more)


def longer_eves(project: Project, schedule: Schedule, late: tuple[str, ...]) -> Iterator[Change]:
    """Offer longer hours on the evening before the moving day, or an evening to who has none.

    Parameters
    ----------
    schedule : Schedule
        Where the moving day is.
    late : tuple of str
        Ids of people whose hours are too short too often.
    """
    for more in STEPS_MIN:
        for names in dict.fromkeys((*((name,) for name in late), late)):
            yield from _evening(project, schedule, names, more)


def _on_the_day(project: Project, schedule: Schedule) -> tuple[str, ...]:
    tied = {task.id for task in project.network.tasks if task.day}
    names = {name for one in schedule.placements if one.task in tied for name in one.people}
    return tuple(person.id for person in project.plan.people if person.id in names)


def _lengthened(plan: Plan, kind: str, names: tuple[str, ...], sooner: int, later: int) -> Iterator[Change]:
    """Lengthen the hours of some people on the moving day, where theirs are one stretch that has room."""
    longer = {
        one.id: _with_hours(one, sooner, later)
        for one in plan.people
        if one.id in names and len(one.moving_day_hours) == 1
    }
    changed = {one.id: longer[one.id] for one in plan.people if one.id in longer and longer[one.id] != one}
    if not changed or (len(changed) < len(names) and kind == "later"):
        return
    before = {one.id: _minutes(one) for one in plan.people}
    unpaid = sum(_minutes(one) - before[one.id] for one in changed.values() if not one.cost_per_hour)
    yield Change(
        tuple((f"people.{name}.moving-day", hours_words(one)) for name, one in changed.items()),
        lambda old: with_people(old, changed),
        kind,
        tuple(changed),
        unpaid / 60,
    )


def _with_hours(person: Helper, sooner: int, later: int) -> Helper:
    rule = person.moving_day_hours[0]
    begin = max(rule.from_minute - sooner, min(EARLIEST_MIN, rule.from_minute))
    end = min(rule.to_minute + later, max(MINUTES_A_DAY, rule.to_minute))
    return replace(person, moving_day_hours=(replace(rule, from_minute=begin, to_minute=end),))


def _minutes(person: Helper) -> int:
    return sum(rule.to_minute - rule.from_minute for rule in person.moving_day_hours)


def _evening(project: Project, schedule: Schedule, names: tuple[str, ...], more: int) -> Iterator[Change]:
    day = moving_days(project, schedule)[0].day - timedelta(days=1)
    eve = local_day(day, project.plan.zone)
    changed: dict[str, Helper] = {}
    for person in project.plan.people:
        if person.id not in names:
            continue
        stands = _stretch(project, person.id, eve)
        end = min(stands.finish + more, MINUTES_A_DAY)
        if end > stands.finish and not any(
            absence.first <= day <= absence.last for absence in person.absences
        ):
            changed[person.id] = replace(person, eve_hours=(HoursRule("FREQ=DAILY", stands.start, end),))
    if len(changed) < len(names):
        return
    unpaid = sum(more for one in changed.values() if not one.cost_per_hour)
    yield Change(
        tuple(
            (
                f"people.{one.id}.evening-before",
                span_words(one.eve_hours[0].from_minute, one.eve_hours[0].to_minute),
            )
            for one in changed.values()
        ),
        lambda old: with_people(old, changed),
        "eve",
        tuple(changed),
        unpaid / 60,
    )


def _stretch(project: Project, person: str, eve: Interval) -> Interval:
    """Last hours of somebody on the evening before, as minutes of the local day."""
    zone = project.plan.zone
    available = next(one.available for one in project.scheduling.people if one.id == person)
    there = [one for one in available if eve.start < one.finish <= eve.finish and one.overlaps(eve)]
    if not there:
        return EVENING
    begin, end = (to_local(moment, zone) for moment in (max(there[-1].start, eve.start), there[-1].finish))
    last = end.hour * 60 + end.minute
    return Interval(begin.hour * 60 + begin.minute, last or MINUTES_A_DAY)
