"""One change of a plan: what to write into the plan file, and how to carry it out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

from moveplan.plan.move import Plan
from moveplan.plan.people import Helper
from moveplan.practice.compose import on_day
from moveplan.practice.project import Project
from moveplan.quantities.leg.shortages import Writes
from moveplan.risk.prepared.calendar import moving_days
from moveplan.scheduling.schedule import Schedule
from moveplan.stages.reading import composed


@dataclass(frozen=True, slots=True)
class Change:
    """One change of a plan.

    Parameters
    ----------
    writes : tuple of (str, str)
        Keys of the plan file, and what to write there.
    apply : callable
        Makes the changed plan.
    kind : str
        What makes a plan surer: a kind of :class:`moveplan.outputs.outlook.Help`.
    who : tuple of str
        Ids of the people, vehicles, own tasks or animals it is about; of a way its name.
    unpaid_h : float
        Hours that it asks of people who are not paid. [h]
    anew : bool
        Whether other tasks follow from it, so that the plan has to be composed anew.
    day : date or None
        The day to move on; None: the one that it is.
    """

    writes: Writes
    apply: Callable[[Plan], Plan]
    kind: str = ""
    who: tuple[str, ...] = ()
    unpaid_h: float = 0.0
    anew: bool = False
    day: date | None = None

    def carried_out(self, project: Project, schedule: Schedule) -> Project:
        """Give the project of the changed plan, hung on its day."""
        plan, day = self.apply(project.plan), self.day or moving_days(project, schedule)[0].day
        if self.anew:
            return on_day(composed(plan, steps=False), day)
        return on_day(replace(project, plan=plan), day)


def with_people(plan: Plan, changed: dict[str, Helper]) -> Plan:
    """Put some people in place of those with the same ids."""
    return replace(plan, people=tuple(changed.get(one.id, one) for one in plan.people))


def span_words(first_minute: int, last_minute: int) -> str:
    """Write a stretch of a day as a plan file has it.

    >>> span_words(390, 1440)
    '06:30-24:00'
    """
    return f"{_clock(first_minute)}-{_clock(last_minute)}"


def _clock(minute: int) -> str:
    return f"{minute // 60:02}:{minute % 60:02}"


def hours_words(person: Helper) -> str:
    """Write the hours of somebody on the moving day as a plan file has them."""
    rule = person.moving_day_hours[0]
    return span_words(rule.from_minute, rule.to_minute)
