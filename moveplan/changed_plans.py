"""Changes of a plan that may make it surer: as values, with what to write into the plan file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from moveplan.plan.move import Plan
from moveplan.plan.people import Helper, Vehicle
from moveplan.practice.compose import on_day
from moveplan.practice.project import Project
from moveplan.risk.calendar import moving_days
from moveplan.risk.summary import Promise
from moveplan.scheduling.schedule import Schedule
from moveplan.times import MINUTES_A_DAY, to_local

OFTEN = 0.02
"""What breaks less often is not worth a change; assumed. [-]"""
EARLIEST_MIN = 4 * 60
"""Nobody is asked to begin before; assumed. [min]"""
STEPS_MIN = (60, 120)
"""By how much hours are lengthened. [min]"""

Writes = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Change:
    """One change of a plan.

    Parameters
    ----------
    kind : str
        ``later``, ``earlier``, ``both`` or ``hire``. [-]
    writes : tuple of (str, str)
        Keys of the plan file, and what to write there. [-]
    who : tuple of str
        Ids of the people or vehicles it is about. [-]
    apply : callable
        Makes the changed plan. [-]
    unpaid_h : float
        Hours that it asks of people who are not paid. [h]
    """

    kind: str
    writes: Writes
    who: tuple[str, ...]
    apply: Callable[[Plan], Plan]
    unpaid_h: float = 0.0

    def carried_out(self, project: Project, schedule: Schedule) -> Project:
        """Give the project of the changed plan, hung on the same day."""
        day = moving_days(project, schedule)[0].day
        return on_day(replace(project, plan=self.apply(project.plan)), day)


def changes_for(project: Project, schedule: Schedule, promise: Promise) -> Iterator[Change]:
    """Give the changes that go against what breaks.

    Parameters
    ----------
    project : Project
        Its people, vehicles and dates. [-]
    schedule : Schedule
        Who works on the moving day. [-]
    promise : Promise
        What breaks how often. [-]
    """
    found = {change.writes: change for change in _changes(project, schedule, promise)}
    yield from found.values()


def _changes(project: Project, schedule: Schedule, promise: Promise) -> Iterator[Change]:
    often = [one for one in promise.breaks if one.chance >= OFTEN]
    late = tuple(one.id for one in often if one.what == "hours")
    if late:
        yield from _longer(project, schedule, late)
    for one in often:
        if one.what == "hire":
            yield from _hired_longer(project, one.id)


def _longer(project: Project, schedule: Schedule, late: tuple[str, ...]) -> Iterator[Change]:
    there = _on_the_day(project, schedule)
    for more in STEPS_MIN:
        for name in late:
            yield from _lengthened(project.plan, "later", (name,), 0, more)
        if len(late) > 1:
            yield from _lengthened(project.plan, "later", late, 0, more)
        yield from _lengthened(project.plan, "earlier", there, more, 0)
        yield from _lengthened(project.plan, "both", there, more, more)


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
        kind,
        tuple((f"people.{name}.moving-day", _span(one)) for name, one in changed.items()),
        tuple(changed),
        lambda old: replace(old, people=tuple(changed.get(one.id, one) for one in old.people)),
        unpaid / 60,
    )


def _with_hours(person: Helper, sooner: int, later: int) -> Helper:
    rule = person.moving_day_hours[0]
    begin = max(rule.from_minute - sooner, min(EARLIEST_MIN, rule.from_minute))
    end = min(rule.to_minute + later, max(MINUTES_A_DAY, rule.to_minute))
    return replace(person, moving_day_hours=(replace(rule, from_minute=begin, to_minute=end),))


def _minutes(person: Helper) -> int:
    return sum(rule.to_minute - rule.from_minute for rule in person.moving_day_hours)


def _span(person: Helper) -> str:
    rule = person.moving_day_hours[0]
    return f"{_clock(rule.from_minute)}-{_clock(rule.to_minute)}"


def _clock(minute: int) -> str:
    return f"{minute // 60:02}:{minute % 60:02}"


def _hired_longer(project: Project, vehicle_id: str) -> Iterator[Change]:
    """Keep a vehicle a day longer."""
    vehicle = next((one for one in project.plan.vehicles if one.id == vehicle_id), None)
    if vehicle is None or vehicle.hire_until is None:
        return
    longer = replace(vehicle, hire_until=vehicle.hire_until + MINUTES_A_DAY)
    yield Change(
        "hire",
        ((f"vehicles.{vehicle.id}.hire", _hire(project, longer)),),
        (vehicle.id,),
        lambda old: replace(
            old, vehicles=tuple(longer if one.id == longer.id else one for one in old.vehicles)
        ),
    )


def _hire(project: Project, vehicle: Vehicle) -> str:
    zone = project.plan.zone
    ends = (("from", vehicle.hire_from), ("until", vehicle.hire_until))
    said = (f"{key}: {to_local(at, zone):%Y-%m-%d %H:%M}" for key, at in ends if at is not None)
    return f"{{{', '.join(said)}}}"
