"""People, vehicles, gear and days of a plan, as the engine wants them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache

from moveplan.hours import Absence, free_time, without
from moveplan.network.graph import Network
from moveplan.plan.move import Plan
from moveplan.plan.people import Helper
from moveplan.plan.people import Vehicle as PlanVehicle
from moveplan.practice.comfort.mealtimes import Mealtime, feeding_hours
from moveplan.practice.presence import eve_hours, moving_day_hours, there
from moveplan.quantities.freight.road import drive_of
from moveplan.quantities.policy import Policy
from moveplan.scheduling.problem import Gear, Person, SchedulingProblem, TiedDay, Vehicle
from moveplan.times import Interval, local_day, to_local

AFTER_MOVE = timedelta(days=75)
"""How long after the last day on which the move may be everything is over; assumed. [day]"""
WAVES_LAST = timedelta(days=45)
"""How much longer where animals go over in waves; assumed. [day]"""
NEWCOMERS_LAST = timedelta(days=120)
"""How much longer where animals are added in the end; assumed. [day]"""
GRID_MIN = 5
"""Starts lie on this. Chosen. [min]"""
SKILLS = ("lifts", "drives", "cares")


@dataclass(frozen=True, slots=True)
class Span:
    """The days that matter.

    Parameters
    ----------
    start, finish : int
        UTC. [min]
    first, last : date
        Local days, both included.
    """

    start: int
    finish: int
    first: date
    last: date


def span_between(plan: Plan, start: int, finish: int) -> Span:
    """Find the local days of a stretch of time."""
    return Span(start, finish, to_local(start, plan.zone).date(), to_local(finish, plan.zone).date())


def drives_of(plan: Plan) -> tuple[tuple[str, str, int], ...]:
    """List the ways of a plan: from, to, likely minutes."""
    policy, ways = Policy(plan.policy), [(one.origin, one.destination) for one in plan.drives]
    return tuple((here, there, round(drive_of(plan, here, there, policy).likely)) for here, there in ways)


def days_of(plan: Plan, span: Span) -> tuple[Interval, ...]:
    """List the local days of a span."""
    count = (span.last - span.first).days + 1
    return tuple(local_day(span.first + timedelta(days=n), plan.zone) for n in range(count))


def span_of(plan: Plan, later: tuple[date, ...] = (), *, adding: bool = False) -> Span:
    """Find the days from now, or the earliest start, to the end of aftercare.

    Parameters
    ----------
    plan : Plan
        Its dates.
    later : tuple of date
        Days after the move day on which something goes over.
    adding : bool
        Whether animals are added in the end.
    """
    earliest = plan.dates.earliest_start if plan.dates else None
    start = max(plan.now, earliest or plan.now)
    start += -start % GRID_MIN
    first = to_local(start, plan.zone).date()
    days = plan.dates.move_days if plan.dates else ()
    renewed = any(system.new_tank for system in plan.systems)
    longer = WAVES_LAST * renewed + NEWCOMERS_LAST * adding
    last = max(days[-1] if days else first, first, *later) + AFTER_MOVE + longer
    return Span(start, local_day(last, plan.zone).finish, first, last)


@dataclass(frozen=True, slots=True)
class Days:
    """The days on which things go over.

    Parameters
    ----------
    tagged : tuple of (str, date)
        Tag as in ``Task.day``, and its day; the moving day first.
    mealtimes : tuple of Mealtime
        Last meals that somebody has to give on the days before.
    """

    tagged: tuple[tuple[str, date], ...]
    mealtimes: tuple[Mealtime, ...] = ()

    @property
    def all(self) -> tuple[date, ...]:
        """The days themselves."""
        return tuple(day for _, day in self.tagged)


def problem_of(plan: Plan, network: Network, gear: tuple[Gear, ...], days: Days) -> SchedulingProblem:
    """State the scheduling problem of a move on given days.

    Parameters
    ----------
    plan : Plan
        Its people, vehicles and dates.
    network : Network
        What has to be done.
    gear : tuple of Gear
        What is held and used.
    days : Days
        The moving day, and the day of moving in where that is another.
    """
    adding = any(task.id.startswith("newcomers-settled-") for task in network.tasks)
    span = span_of(plan, days.all[1:], adding=adding)
    return SchedulingProblem(
        network=network,
        start=span.start,
        horizon=span.finish,
        days=days_of(plan, span),
        people=people_of(plan, span, days),
        vehicles=vehicles_of(plan, span),
        gear=gear,
        drives=drives_of(plan),
        tied_days=tuple(
            TiedDay(tag, (local_day(day, plan.zone),), plan.where("dates")) for tag, day in days.tagged
        ),
        grid_min=GRID_MIN,
        where=plan.where("dates.earliest-start"),
        zone=plan.zone,
    )


def people_of(plan: Plan, span: Span, days: Days) -> tuple[Person, ...]:
    """Give the people of a plan with the hours in which they work.

    Parameters
    ----------
    plan : Plan
        Its people.
    span : Span
        The days that matter.
    days : Days
        Days on which moving-day hours hold instead, and before which somebody feeds.
    """
    feeding = feeding_hours(plan, days.mealtimes, dict(days.tagged))
    return tuple(_person(plan, helper, span, days.all, feeding.get(helper.id, ())) for helper in plan.people)


def _person(
    plan: Plan, helper: Helper, span: Span, move_days: tuple[date, ...], feeding: tuple[Interval, ...]
) -> Person:
    absences = (
        *helper.absences,
        *(_holidays(plan.country, span.first, span.last) if helper.holidays_off else ()),
    )
    hours = list(there(helper, free_time(helper.hours, absences, span.first, span.last, plan.zone)))
    for move_day in move_days:
        if (
            helper.moving_day_hours
        ):  # what is said of the moving day holds on it, and not the hours of the week too
            hours = list(without(hours, (local_day(move_day, plan.zone),)))
        hours += moving_day_hours(helper, move_day, plan.zone)
        hours += eve_hours(helper, move_day, plan.zone)
    return Person(
        id=helper.id,
        name=helper.name,
        available=_from(span.start, without((*hours, *feeding), helper.booked)),
        skills=(*(skill for skill in SKILLS if getattr(helper, skill)), *helper.skills),
        home=helper.place or (plan.places[0].id if plan.places else ""),
        cents_per_hour=int(100 * helper.cost_per_hour),
        where=plan.where(f"people.{helper.id}"),
        helps=helper is not plan.leads,
        lives=helper.place,
    )


def _from(start: int, intervals: tuple[Interval, ...]) -> tuple[Interval, ...]:
    return tuple(Interval(max(one.start, start), one.finish) for one in intervals if one.finish > start)


@cache
def _holidays(country: str, first: date, last: date) -> tuple[Absence, ...]:
    import holidays

    try:
        table = holidays.country_holidays(country, years=range(first.year, last.year + 1))
    except NotImplementedError:
        return ()
    return tuple(Absence(day, day) for day in sorted(table) if first <= day <= last)


def vehicles_of(plan: Plan, span: Span) -> tuple[Vehicle, ...]:
    """Give the vehicles of a plan with their hire windows."""
    return tuple(_vehicle(plan, vehicle, span) for vehicle in plan.vehicles)


def _vehicle(plan: Plan, vehicle: PlanVehicle, span: Span) -> Vehicle:
    hours = free_time(vehicle.hours, (), span.first, span.last, plan.zone)
    begin = max(vehicle.hire_from or span.start, span.start)
    end = vehicle.hire_until or span.finish
    within = tuple(
        Interval(max(one.start, begin), min(one.finish, end))
        for one in hours
        if one.finish > begin and one.start < end
    )
    return Vehicle(
        id=vehicle.id,
        name=vehicle.name,
        available=without(within, vehicle.booked) if vehicle.booked else within,
        home=plan.places[0].id if plan.places else "",
        cents_per_day=int(100 * vehicle.cost_per_day),
        where=plan.where(f"vehicles.{vehicle.id}.hire"),
    )
