"""Who feeds the tank on the days before a move, where nobody's stated hours reach the time of a last meal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from moveplan.hours import days_off, free_time
from moveplan.plan.move import Assumption, Plan
from moveplan.plan.people import Helper
from moveplan.quantities.keeping.feeding import Feeder
from moveplan.times import Interval, at_local


@dataclass(frozen=True, slots=True)
class Clock:
    """When on the clock a last meal may be, for a catch in the morning or at noon of the moving day.

    Parameters
    ----------
    days_before : int
        Days before the catch. [day]
    from_minute, until_minute : int
        Hours of somebody between these do for it. [min after midnight]
    at_minute : int
        When whoever keeps a tank feeds it beside other work; assumed. [min after midnight]
    """

    days_before: int
    from_minute: int
    until_minute: int
    at_minute: int


CLOCKS = {
    Feeder.LARGE: Clock(2, 10 * 60, 20 * 60, 18 * 60 + 30),
    Feeder.ORDINARY: Clock(1, 5 * 60, 12 * 60, 7 * 60 + 10),
    Feeder.SMALL: Clock(1, 12 * 60, 17 * 60 + 30, 17 * 60 + 30),
}
"""By how long the fish fast; chosen so that a catch from 08:00 to 14:00 lies inside the windows of the fast."""


@dataclass(frozen=True, slots=True)
class Mealtime:
    """A last meal that somebody has to give.

    Parameters
    ----------
    tag : str
        Day of the catch, as in ``Task.day``.
    feeder : Feeder
        Whose meal.
    place : str
        Id of the place of the tank.
    minutes : int
        How long it takes at most. [min]
    """

    tag: str
    feeder: Feeder
    place: str
    minutes: int


def feeding_hours(
    plan: Plan, meals: Sequence[Mealtime], days: Mapping[str, date]
) -> dict[str, tuple[Interval, ...]]:
    """Give minutes beside the stated hours to whoever feeds, for meals that fall into nobody's hours.

    Parameters
    ----------
    plan : Plan
        Its people and their hours.
    meals : sequence of Mealtime
        Last meals.
    days : mapping of str to date
        Day of each tag.

    Returns
    -------
    dict of str to tuple of Interval
        By id of the person, UTC. [min]
    """
    found: dict[str, tuple[Interval, ...]] = {}
    for clock, place, catch, minutes in _sittings(meals, days):
        day = catch - timedelta(days=clock.days_before)
        helper = _feeds(plan, clock, place, day)
        if helper is not None:
            start = at_local(day, clock.at_minute, plan.zone)
            found[helper.id] = (*found.get(helper.id, ()), Interval(start, start + minutes))
    return found


def _sittings(meals: Sequence[Mealtime], days: Mapping[str, date]) -> Iterator[tuple[Clock, str, date, int]]:
    """Put the meals of one sort on one day together: whoever feeds one tank feeds the next."""
    spans: dict[tuple[Feeder, str, date], int] = {}
    for meal in meals:
        if meal.tag in days:
            key = meal.feeder, meal.place, days[meal.tag]
            spans[key] = spans.get(key, 0) + meal.minutes
    for (feeder, place, day), minutes in spans.items():
        yield CLOCKS[feeder], place, day, minutes


def _feeds(plan: Plan, clock: Clock, place: str, day: date) -> Helper | None:
    """Find who gives a meal outside all hours: those who live there first; nobody where hours reach it."""
    carers = [one for one in plan.people if one.cares and day not in days_off(one.absences, day, day)]
    meal = Interval(at_local(day, clock.from_minute, plan.zone), at_local(day, clock.until_minute, plan.zone))
    if any(_reaches(plan, one, day, meal) for one in carers):
        return None
    home = plan.places[0].id if plan.places else ""
    return min(carers, key=lambda one: (one.place or home) != place, default=None)


def _reaches(plan: Plan, helper: Helper, day: date, meal: Interval) -> bool:
    free = free_time(helper.hours, helper.absences, day, day, plan.zone)
    return any(min(one.finish, meal.finish) - max(one.start, meal.start) >= 20 for one in free)


def said(plan: Plan, meals: Sequence[Mealtime], days: Mapping[str, date]) -> tuple[Assumption, ...]:
    """Say whose minutes beside the stated hours are counted on.

    Parameters
    ----------
    plan, meals, days : Plan, sequence of Mealtime, mapping of str to date
        As for :func:`feeding_hours`.
    """
    hours = feeding_hours(plan, meals, days)
    names = {one.id: one.name for one in plan.people}
    return tuple(
        Assumption(
            f"people.{helper}.feeding",
            f"{names[helper]} also feeds the tank on the days before the catch, outside the stated hours",
            "the last meal falls into nobody's hours; hours that reach it replace this",
        )
        for helper in hours
    )
