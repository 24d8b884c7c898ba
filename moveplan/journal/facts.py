"""What has changed since the plan was written, put into the plan's values; the plan file stays as it is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from moveplan.hours import Absence
from moveplan.journal.records import Counted, MovedDates, MovedDay, MovedMoment, Out, Vehicle
from moveplan.journal.state import Fact
from moveplan.plan.livestock import Livestock
from moveplan.plan.move import Plan
from moveplan.plan.people import Vehicle as PlanVehicle
from moveplan.times import at_local, to_local


def changed_plan(plan: Plan, facts: Iterable[Fact]) -> Plan:
    """Apply what has changed.

    Parameters
    ----------
    facts : iterable of Fact
        In the order of writing; what names something that the plan no longer has changes nothing.
    """
    for fact in facts:
        plan = _changed(plan, fact)
    return plan


def _changed(plan: Plan, fact: Fact) -> Plan:
    if isinstance(fact, MovedMoment):
        return _moved(plan, {fact.what.replace("-", "_"): fact.to})
    if isinstance(fact, MovedDay):
        if fact.what == "fall-back-day":
            return _moved(plan, {"fall_back_day": fact.day})
        return _moved(plan, {"move_days": (fact.day,)})
    if isinstance(fact, MovedDates):
        return _along(plan, fact.days)
    if isinstance(fact, Out):
        return replace(
            plan,
            people=tuple(
                replace(one, absences=(*one.absences, Absence(fact.first, fact.last)))
                if one.id == fact.person
                else one
                for one in plan.people
            ),
        )
    if isinstance(fact, Vehicle):
        vehicles = (_vehicle(one, fact) if one.id == fact.vehicle else one for one in plan.vehicles)
        return replace(plan, vehicles=tuple(vehicles))
    groups = (_group(one, fact) if one.id == fact.group else one for one in plan.livestock)
    return replace(plan, livestock=tuple(one for one in groups if one.count > 0))


def _moved(plan: Plan, change: dict[str, object]) -> Plan:
    if plan.dates is None:
        return plan
    known = {name: value for name, value in change.items() if hasattr(plan.dates, name)}
    return replace(plan, dates=replace(plan.dates, **known))  # type: ignore[arg-type]


def _along(plan: Plan, days: int) -> Plan:
    """Let all dates of the move go along, at the same time of the day by the wall clock."""
    dates = plan.dates
    if dates is None:
        return plan

    def later(day: date | None) -> date | None:
        return None if day is None else day + timedelta(days=days)

    def moment(minutes: int | None) -> int | None:
        if minutes is None:
            return None
        local = to_local(minutes, plan.zone)
        return at_local(local.date() + timedelta(days=days), 60 * local.hour + local.minute, plan.zone)

    return replace(
        plan,
        dates=replace(
            dates,
            move_days=tuple(day + timedelta(days=days) for day in dates.move_days),
            fall_back_day=later(dates.fall_back_day),
            move_in_day=later(dates.move_in_day),
            restart_day=later(dates.restart_day),
            access_from=moment(dates.access_from),
            keys_back=moment(dates.keys_back),
        ),
        vehicles=tuple(
            replace(one, hire_from=moment(one.hire_from), hire_until=moment(one.hire_until))
            for one in plan.vehicles
        ),
    )


def _vehicle(vehicle: PlanVehicle, fact: Vehicle) -> PlanVehicle:
    return replace(
        vehicle,
        payload_kg=vehicle.payload_kg if fact.payload_kg is None else fact.payload_kg,
        hire_from=vehicle.hire_from if fact.since is None else fact.since,
        hire_until=vehicle.hire_until if fact.until is None else fact.until,
    )


def _group(group: Livestock, fact: Counted) -> Livestock:
    count = max(group.count + fact.change, 0)
    return replace(
        group,
        count=count,
        leaves=min(group.leaves, count),
        sick=min(group.sick, count - min(group.leaves, count)),
    )
