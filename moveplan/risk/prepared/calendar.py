"""When each crew and vehicle of a schedule can work in a run, overtime and a slipped moving day included."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from moveplan.hours import free_time, merged, without
from moveplan.network.task import Task
from moveplan.plan.people import Vehicle as PlanVehicle
from moveplan.practice.project import Project
from moveplan.practice.resources import Days, people_of, span_between
from moveplan.risk.prepared.windows import Stretches, stretches_of
from moveplan.risk.register.default import table
from moveplan.scheduling.problem import SchedulingProblem, Vehicle
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import MINUTES_A_DAY, Interval, local_day, to_local

Hours = tuple[Interval, ...]

FED_BEFORE_MIN = 2 * MINUTES_A_DAY
"""So long before a day on which things go over its hours are not those of any other: somebody feeds. [min]"""


@dataclass(frozen=True, slots=True)
class MovingDay:
    """A moving day of a schedule, and the day it slips to.

    Parameters
    ----------
    tag : str
        As tasks name it.
    day, other : date
        Local days.
    spans : tuple of Interval
        Both days, UTC. [min]
    slip_min : int
        From one to the other. [min]
    """

    tag: str
    day: date
    other: date
    spans: tuple[Interval, Interval]
    slip_min: int

    @property
    def slip_days(self) -> int:
        """From one to the other in days."""
        return (self.other - self.day).days


def moving_days(project: Project, schedule: Schedule) -> tuple[MovingDay, ...]:
    """Find the moving days of a schedule, in order of time; none where no task is tied to a day.

    Parameters
    ----------
    project : Project
        Its dates. The first moving day slips to its day to fall back on, others by some days.
    schedule : Schedule
        Where its tasks stand.
    """
    if project.plan.dates is None:
        return ()
    placed = {one.task: one.start for one in schedule.placements}
    starts: dict[str, int] = {}
    for task in project.network.tasks:
        if task.day:
            starts[task.day] = min(placed[task.id], starts.get(task.day, placed[task.id]))
    in_order = sorted(starts, key=lambda tag: starts[tag])
    fall_backs = [project.plan.dates.fall_back_day] + [None] * len(in_order)
    return tuple(
        _moving_day(project, tag, to_local(starts[tag], project.plan.zone).date(), fall_back)
        for tag, fall_back in zip(in_order, fall_backs, strict=False)
    )


def _moving_day(project: Project, tag: str, day: date, fall_back: date | None) -> MovingDay:
    zone = project.plan.zone
    other = fall_back if fall_back and fall_back > day else day + timedelta(days=_days_to_wait())
    spans = (local_day(day, zone), local_day(other, zone))
    return MovingDay(tag, day, other, spans, spans[1].start - spans[0].start)


def _days_to_wait() -> int:
    return int(table("policy")["slip"]["days_without_fall_back"])


def crew_of(stands: Placement) -> tuple[str, ...]:
    """Give who does a task, of recurring care the first time."""
    return stands.segment_people[0] if stands.segment_people else stands.people


def shared(one: Hours, other: Hours) -> Hours:
    """Give what two lists of hours, each in order and apart, have in common.

    >>> shared((Interval(0, 9), Interval(18, 30)), (Interval(5, 20),))
    (Interval(start=5, finish=9), Interval(start=18, finish=20))
    """
    pieces: list[Interval] = []
    rest, theirs = iter(one), iter(other)
    a, b = next(rest, None), next(theirs, None)
    while a and b:
        if a.overlaps(b):
            pieces.append(Interval(max(a.start, b.start), min(a.finish, b.finish)))
        if a.finish <= b.finish:
            a = next(rest, None)
        else:
            b = next(theirs, None)
    return tuple(pieces)


class Calendar:
    """Hours of crews and vehicles of a schedule, as the runs use them.

    Parameters
    ----------
    project : Project
        Its people and vehicles.
    """

    def __init__(self, project: Project, schedule: Schedule) -> None:
        self.days = moving_days(project, schedule)
        self._problem = project.scheduling
        self._people = _people(project, self.days)
        plans = {vehicle.id: vehicle for vehicle in project.plan.vehicles}
        self._vehicles = {
            vehicle.id: _vehicle(project, plans[vehicle.id], vehicle, self.days)
            for vehicle in project.scheduling.vehicles
        }
        self._made: dict[tuple[tuple[str, ...], tuple[str, ...], tuple[MovingDay, ...], bool], Stretches] = {}

    def of(self, task: Task, stands: Placement) -> Stretches | None:
        """Give the hours of a task with its crew and vehicles; None: round the clock.

        What belongs before the moving days may run over on their eves alone.

        Parameters
        ----------
        stands : Placement
            Who does it, and where it is planned.
        """
        people = crew_of(stands)
        if not people and not stands.vehicles:
            return None
        return self._hours(people, stands.vehicles, self.runs_over(task, stands), eves=not task.day)

    def alone(self, person: str) -> Stretches:
        """Give the hours of one person, overtime included."""
        return self._hours((person,), (), self.days)

    def _hours(
        self,
        people: tuple[str, ...],
        vehicles: tuple[str, ...],
        over: tuple[MovingDay, ...],
        *,
        eves: bool = False,
    ) -> Stretches:
        key = (people, vehicles, over, eves)
        if key not in self._made:
            self._made[key] = self._make(people, vehicles, over, eves=eves)
        return self._made[key]

    def runs_over(self, task: Task, stands: Placement) -> tuple[MovingDay, ...]:
        """Give the moving days for which work on a task may go on past the stated hours: its own, or those ahead of it.

        What is planned for the days after a move is not begun in the overtime of its evening.

        Parameters
        ----------
        stands : Placement
            Where it is planned.
        """
        return tuple(day for day in self.days if task.day or stands.finish <= day.spans[0].start)

    def _make(
        self, people: Sequence[str], vehicles: Sequence[str], over: tuple[MovingDay, ...], *, eves: bool
    ) -> Stretches:
        start, horizon = self._problem.start, self._problem.horizon
        crew = _common([self._people[name] for name in people])
        wheels = _common([self._vehicles[name] for name in vehicles])
        longer, ends = _run_over(crew, over, eves=eves) if over and crew is not None else (crew, {})
        hours = [one for one in _together(longer, wheels) if one.finish > start and one.start < horizon]
        stated = [min(one.finish, _stated(one, ends)) for one in hours]
        return stretches_of(hours, start, horizon, stated)


def _stated(piece: Interval, ends: dict[int, int]) -> int:
    """End of the crew's last stated hours in a piece."""
    begun = [begin for begin in ends if begin < piece.finish]
    return ends[max(begun)] if begun else piece.finish


def _common(several: Iterable[Hours]) -> Hours | None:
    found: Hours | None = None
    for hours in several:
        found = hours if found is None else shared(found, hours)
    return found


def _together(crew: Hours | None, wheels: Hours | None) -> Hours:
    if crew is None or wheels is None:
        return crew or wheels or ()
    return shared(crew, wheels)


def _run_over(hours: Hours, days: Sequence[MovingDay], *, eves: bool) -> tuple[Hours, dict[int, int]]:
    """Lengthen the last hours of the days before moving days, and of these unless only the eves are meant.

    The days that they slip to count as they do; all other hours become a little longer.

    Returns
    -------
    tuple of Interval, dict of int to int
        The longer hours; and from each beginning to the end after which work counts as overtime: a few minutes on any
        other day do not. [min]
    """
    policy = table("policy")["overtime"]
    little = int(policy["other_minutes"])
    more: dict[Interval, int] = {}
    for span in (span for day in days for span in day.spans):
        eve = Interval(span.start - MINUTES_A_DAY, span.start)
        for one in [one for one in hours if eve.start < one.finish <= eve.finish][-1:]:
            more.setdefault(one, int(policy["eve_minutes"]))
        own = [] if eves else [one for one in hours if one.overlaps(span)]
        more |= dict.fromkeys(own[-1:], int(policy["minutes"]))
    longer = merged(Interval(one.start, one.finish + more.get(one, little)) for one in hours)
    return longer, {one.start: one.finish + (0 if one in more else little) for one in hours}


def _people(project: Project, days: Sequence[MovingDay]) -> dict[str, Hours]:
    """Hours of everybody; on days that moving days slip to and before them they are those of moving days too."""
    hours = {person.id: person.available for person in project.scheduling.people}
    for day in days:
        (_, other), own = day.spans, [one.spans[0] for one in days]
        span = span_between(project.plan, other.start - FED_BEFORE_MIN, other.finish)
        near = without((Interval(span.start, span.finish),), own)
        for person in people_of(project.plan, span, Days(((day.tag, day.other),), project.mealtimes)):
            stays = without(hours[person.id], without((other,), own))
            hours[person.id] = merged((*stays, *shared(person.available, near)))
    return hours


def _vehicle(project: Project, plan: PlanVehicle, vehicle: Vehicle, days: Sequence[MovingDay]) -> Hours:
    """Hours of a vehicle: its hire window, the same window on slipped days, and a new hire after it."""
    hours = vehicle.available
    if not plan.hired or not hours:
        return hours
    again = _after(project.scheduling, project, plan, hours[-1].finish)
    moved = tuple(
        Interval(one.start + day.slip_min, one.finish + day.slip_min) for one in hours for day in days
    )
    return merged((*hours, *moved, *again))


def _after(problem: SchedulingProblem, project: Project, plan: PlanVehicle, end: int) -> Hours:
    zone = project.plan.zone
    first, last = to_local(end, zone).date(), to_local(problem.horizon, zone).date()
    return tuple(
        Interval(max(one.start, end), one.finish)
        for one in free_time(plan.hours, (), first, last, zone)
        if one.finish > end
    )
