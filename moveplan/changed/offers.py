"""Which changes are tried against what breaks: more hours, later dates and days, more hands, bags, another way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import chain, count

from moveplan.changed.change import Change, span_words
from moveplan.changed.hours import longer_days, longer_eves
from moveplan.hours import HoursRule
from moveplan.plan.move import Plan
from moveplan.plan.people import Helper, Vehicle
from moveplan.practice.compose import on_day
from moveplan.practice.project import Project
from moveplan.practice.ways.fitting import SHUT_DOWN, ways_of
from moveplan.quantities.containers.vessels import Use
from moveplan.risk.prepared.calendar import moving_days
from moveplan.risk.promise.values import Promise
from moveplan.risk.summary import FinishBy
from moveplan.scheduling.schedule import Schedule
from moveplan.times import MINUTES_A_DAY, local_day, to_local

OFTEN = 0.02
"""What breaks less often is not worth a change; assumed. [-]"""


def changes_for(
    project: Project, schedule: Schedule, promise: Promise, dates: tuple[FinishBy, ...] = ()
) -> Iterator[Change]:
    """Give the changes that go against what breaks.

    Parameters
    ----------
    project : Project
        Its people, vehicles and dates.
    schedule : Schedule
        Who works on the moving day.
    dates : tuple of FinishBy
        When the runs finish the keeper's own tasks that have a date.
    """
    found = {change.writes: change for change in _changes(project, schedule, promise, dates)}
    yield from found.values()


def _changes(
    project: Project, schedule: Schedule, promise: Promise, dates: tuple[FinishBy, ...]
) -> Iterator[Change]:
    often = [one for one in promise.breaks if one.chance >= OFTEN]
    if not often:
        return
    late = tuple(one.id for one in often if one.what == "hours")
    if late:
        yield from longer_days(project, schedule, late)
        yield from longer_eves(project, schedule, late)
    for one in often:
        if one.what == "hire":
            yield from hired_longer(project, one.id)
    passed = {one.id for one in often if one.what == "date"}
    yield from later_dates(project, [one for one in dates if one.task in passed])
    yield from more_hands(project, schedule)
    yield from in_bags(project)
    yield from later_days(project, schedule)
    yield from other_way(project)


HALF_HOUR_MIN = 30
"""Helpers are asked for on the half hour. [min]"""
DATE_LATER_MIN = (0, 60)
"""A later date is one that is kept as often as the plan asks, or so much later, on the half hour. [min]"""
LATER_DAYS = 3
"""So many later days are tried; each is a plan of its own. Chosen. [-]"""
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


BAG, OPEN = "bag", ("tub", "pail")


def hired_longer(project: Project, vehicle_id: str) -> Iterator[Change]:
    """Offer to keep a vehicle a day longer."""
    vehicle = next((one for one in project.plan.vehicles if one.id == vehicle_id), None)
    if vehicle is None or vehicle.hire_until is None:
        return
    longer = replace(vehicle, hire_until=vehicle.hire_until + MINUTES_A_DAY)
    yield Change(
        ((f"vehicles.{vehicle.id}.hire", _hire(project, longer)),),
        lambda old: replace(
            old, vehicles=tuple(longer if one.id == longer.id else one for one in old.vehicles)
        ),
        "hire",
        (vehicle.id,),
    )


def _hire(project: Project, vehicle: Vehicle) -> str:
    zone = project.plan.zone
    ends = (("from", vehicle.hire_from), ("until", vehicle.hire_until))
    said = (f"{key}: {to_local(at, zone):%Y-%m-%d %H:%M}" for key, at in ends if at is not None)
    return f"{{{', '.join(said)}}}"


def later_days(project: Project, schedule: Schedule) -> Iterator[Change]:
    """Offer later days of the move window: the same day of the week, then those on which people have most time.

    Parameters
    ----------
    schedule : Schedule
        On which day the move is.
    """
    dates = project.plan.dates
    if dates is None:
        return
    first, last = moving_days(project, schedule)[0].day, dates.move_days[-1]
    before = min(filter(None, (dates.fall_back_day, dates.move_in_day)), default=date.max)
    days = [day for day in dates.move_days if first < day < before]
    alike = sorted(days, key=lambda one: (one.weekday() != first.weekday(), -_hours_min(project, one), one))
    yield from (_moved(day, last) for day in alike[:LATER_DAYS])


def _hours_min(project: Project, day: date) -> int:
    """Minutes that all people together have on a day, if the move is on it."""
    span = local_day(day, project.plan.zone)
    return sum(
        min(one.finish, span.finish) - max(one.start, span.start)
        for person in on_day(project, day).scheduling.people
        for one in person.available
        if one.overlaps(span)
    )


def _moved(day: date, last: date) -> Change:
    return Change(
        (("dates.move-window", f"{day.isoformat()} to {last.isoformat()}"),),
        lambda old: replace(
            old,
            dates=old.dates
            and replace(old.dates, move_days=tuple(one for one in old.dates.move_days if one >= day)),
        ),
        "day",
        (day.isoformat(),),
        anew=True,
        day=day,
    )


def later_dates(project: Project, passed: Iterable[FinishBy]) -> Iterator[Change]:
    """Offer later dates to own tasks that pass theirs.

    Parameters
    ----------
    passed : iterable of FinishBy
        When the runs finish each of them.
    """
    for one in passed:
        first = one.promised + -one.promised % HALF_HOUR_MIN
        for later_min in DATE_LATER_MIN:
            yield _dated(project.plan, one.task, max(first, one.by) + later_min)


def _dated(plan: Plan, task: str, by: int) -> Change:
    return Change(
        ((f"tasks.{task}.finish-by", f"{to_local(by, plan.zone):%Y-%m-%d %H:%M}"),),
        lambda old: replace(
            old, tasks=tuple(replace(one, finish_by=by) if one.id == task else one for one in old.tasks)
        ),
        "date",
        (task,),
    )


def in_bags(project: Project) -> Iterator[Change]:
    """Offer bags to animals, corals aside, that travel in tubs or pails because the keeper has not said in what.

    Parameters
    ----------
    project : Project
        Its animals, and the containers that were chosen for them.
    """
    free = {group.id for group in project.plan.livestock if not group.container}
    vessels = (use.vessel for use in project.ledger.containers)
    animals = (vessel for vessel in vessels if vessel.kind in OPEN and vessel.use is Use.ANIMALS)
    held = (one.id for vessel in animals for one in vessel.holds if one.count)
    groups = tuple(dict.fromkeys(group for group in held if group in free))
    if groups:
        yield Change(
            tuple((f"livestock.{group}.container", BAG) for group in groups),
            lambda old: replace(
                old,
                livestock=tuple(
                    replace(one, container=BAG) if one.id in groups else one for one in old.livestock
                ),
            ),
            "bags",
            groups,
            anew=True,
        )


def other_way(project: Project) -> Iterator[Change]:
    """Offer the other ways of moving that the facts allow, but for giving all animals away.

    Parameters
    ----------
    project : Project
        Its plan and its way.
    """
    for fit in ways_of(project.plan):
        if fit.fits and fit.way not in (project.way, SHUT_DOWN):
            yield _way(fit.way)


def _way(way: str) -> Change:
    return Change((("way", way),), lambda old: replace(old, way=way), "way", (way,), anew=True)
