"""The moving day of each job as the choice of days sees it, measured: people, hours, gear, water."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from moveplan.firm.day.diaries import days_of, worked_min
from moveplan.firm.day.roads import Roads
from moveplan.firm.placing.lent import Taken
from moveplan.firm.placing.staffed import Staff, staffed_project
from moveplan.firm.placing.traces import Trace, trace_of
from moveplan.firm.values import Firm, Job, Worker
from moveplan.hours import days_off
from moveplan.plan.move import Plan
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.solve import solve
from moveplan.times import local_day, to_local

EFFORT = Effort(seconds=0.05, engine="serial", ways_out=False)
"""Enough for a move of a hundred tasks; more hands shorten such a day by minutes only, measured. [-]"""
LEAST_CREW, MOST_CREW = 2, 6
"""Two carry a tank; more than six are in each other's way; assumed. [-]"""


@dataclass(frozen=True, slots=True)
class Heart:
    """A moving day, measured with the least crew that does it.

    Parameters
    ----------
    crew : int
        People of the firm.
    vehicles : int
        Vehicles of the firm.
    leaves_min, home_min : int
        When the crew leaves the base and is back, after midnight of the moving day. [min]
    gear : tuple of (str, int, int, int)
        Gear, count, and from when to when it is away, from midnight of the moving day. [min]
    spare : tuple of (str, int, int, int)
        The same of gear that it takes where there is some left over, and does without otherwise. [min]
    water : tuple of (int, float)
        Days after the moving day (negative: before) and litres fetched at the base. [day], [l]
    work_min : int
        Of the firm's people on all days. [min]
    """

    job: str
    crew: int
    vehicles: int
    leaves_min: int
    home_min: int
    gear: tuple[tuple[str, int, int, int], ...] = ()
    water: tuple[tuple[int, float], ...] = ()
    work_min: int = 0
    spare: tuple[tuple[str, int, int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class NoHeart:
    """Why a job cannot be done by this firm at all, on the day it was tried.

    Parameters
    ----------
    day : date
        Tried on this day.
    schedule : Schedule
        Of the largest crew that was tried, with its reasons.
    """

    job: str
    day: date
    schedule: Schedule


def heart_of(firm: Firm, roads: Roads, job: Job, plan: Plan, days: tuple[date, ...]) -> Heart | NoHeart:
    """Measure the moving day of a job, crew after crew until one does it within its longest day.

    Parameters
    ----------
    firm : Firm
        Its people, vehicles and gear, all of them free.
    days : tuple of date
        On which it may be, at least one.
    """
    found: Schedule | None = None
    day = _nominal(firm, job, days)
    for crew in _crews(firm, day):
        staff = Staff(day, crew, vehicles=vehicles_for(firm, len(crew)), way_min=roads.farthest(job.id))
        project = staffed_project(firm, job, plan, staff, steps=False)
        if project.impossible:
            return NoHeart(job.id, day, Schedule.refused(project.impossible))
        found = solve(project.scheduling, EFFORT)
        if not found.placements:
            continue
        trace = trace_of(firm, roads, job.id, project, found)
        if _short_enough(firm, roads, trace, day):
            return _measured(firm, roads, trace, day, len(staff.vehicles))
    if found is None:
        found = Schedule.refused(())
    return NoHeart(job.id, day, found)


def _nominal(firm: Firm, job: Job, days: tuple[date, ...]) -> date:
    """Take the day nearest to the wished one, or to the middle, on which somebody leads and most are there."""
    wish = job.day or days[len(days) // 2]
    return min(
        days, key=lambda day: (not _leads(_there(firm, day)), -len(_there(firm, day)), abs(day - wish), day)
    )


def _there(firm: Firm, day: date) -> list[Worker]:
    return [one for one in firm.people if not days_off(one.helper.absences, day, day)]


def _leads(people: list[Worker]) -> bool:
    return any(one.helper.lead for one in people)


def _crews(firm: Firm, day: date) -> Iterator[tuple[str, ...]]:
    """Give one crew of each size of those who are there, with a leader and few others who lead."""
    there = _there(firm, day) if _leads(_there(firm, day)) else list(firm.people)
    lead = next(one for one in there if one.helper.lead)
    others = sorted((one for one in there if one is not lead), key=lambda one: one.helper.lead)
    for size in range(LEAST_CREW, min(MOST_CREW, len(there)) + 1):
        yield (lead.id, *(one.id for one in others[: size - 1]))


def vehicles_for(firm: Firm, crew: int) -> tuple[str, ...]:
    """Name as many vehicles as seat a crew, the smallest ones, so that any others do as well."""
    small = sorted(firm.vehicles, key=lambda one: (one.vehicle.payload_kg, one.id))
    for count in range(1, len(small) + 1):
        if sum(one.vehicle.seats for one in small[:count]) >= crew:
            return tuple(one.id for one in small[:count])
    return tuple(one.id for one in small)


def _short_enough(firm: Firm, roads: Roads, trace: Trace, day: date) -> bool:
    return all(
        worked_min(roads, rows) <= firm.worker(one).longest_day_min
        for one, stops in trace.people.items()
        if (rows := days_of(firm, stops).get(day))
    )


def _measured(firm: Firm, roads: Roads, trace: Trace, day: date, vehicles: int) -> Heart:
    midnight = local_day(day, firm.zone).start
    stops = [stop for rows in trace.people.values() for stop in days_of(firm, rows).get(day, ())]
    crew = sum(1 for rows in trace.people.values() if day in days_of(firm, rows))
    first, last = min(stops), max(stops, key=lambda stop: stop.finish)
    way = roads.farthest(trace.job)
    return Heart(
        trace.job,
        crew,
        vehicles,
        first.start - way - midnight,
        last.finish + way - midnight,
        _away(midnight, (one for one in trace.gear if not one.spare)),
        tuple(((when - day) // timedelta(days=1), litres) for when, litres in trace.water),
        sum(stop.worked_min for rows in trace.people.values() for stop in rows),
        _away(midnight, (one for one in trace.gear if one.spare)),
    )


def _away(midnight: int, taken: Iterable[Taken]) -> tuple[tuple[str, int, int, int], ...]:
    return tuple((one.gear, one.count, one.start - midnight, one.finish - midnight) for one in taken)


def measured_again(firm: Firm, roads: Roads, trace: Trace, day: date, crew: int, vehicles: int) -> Heart:
    """Measure a moving day on the schedule of its job.

    Parameters
    ----------
    day : date
        Its moving day.
    crew, vehicles : int
        How many people and vehicles were sent.
    """
    return replace(_measured(firm, roads, trace, day, vehicles), crew=crew)


def allowed_days(firm: Firm, job: Job, plan: Plan, agreed: date | None = None) -> tuple[date, ...]:
    """Give the days on which a job may be: those of the firm file and of its plan at once.

    Parameters
    ----------
    firm : Firm
        Its jobs.
    plan : Plan
        Its dates.
    agreed : date or None
        The day that was accepted, which stands even when it is over; None: none was.
    """
    days = plan.dates.move_days if plan.dates else ()
    if agreed is not None:
        return () if job.promised and job.day != agreed else (agreed,)
    today = to_local(firm.now, firm.zone).date()
    if job.promised and job.day is not None:
        days = tuple(day for day in days if day == job.day)
    elif job.window is not None:
        days = tuple(day for day in days if job.window[0] <= day <= job.window[1])
    return tuple(day for day in days if day > today)
