"""Hours as the runs use them: overtime is for a moving day and what comes before it, not for the days after."""

from __future__ import annotations

from datetime import date

import pytest

from moveplan.network.task import Task
from moveplan.practice.project import Project
from moveplan.risk.prepared.calendar import Calendar
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import at_local
from tests.examples import scheduled

PROJECT, SCHEDULE = scheduled("house_move_with_gap")
"""Two moving days, five weeks apart, on both of which people work till eleven."""


def known(project: Project, schedule: Schedule, key: str) -> tuple[Task, Placement]:
    (task,) = (one for one in project.network.tasks if one.id == key)
    (stands,) = (one for one in schedule.placements if one.task == key)
    return task, stands


@pytest.mark.parametrize(
    ("key", "days"),
    [
        ("watch-evening-display", 2),
        ("go-or-no-go", 2),
        ("return-vehicle-van-out", 1),
        ("give-keys-back", 1),
    ],
)
def test_a_task_runs_over_for_the_days_that_are_its_own_or_ahead(key: str, days: int) -> None:
    assert len(Calendar(PROJECT, SCHEDULE).runs_over(*known(PROJECT, SCHEDULE, key))) == days


def test_what_is_planned_for_the_day_after_is_not_begun_in_the_overtime_of_the_evening() -> None:
    calendar = Calendar(PROJECT, SCHEDULE)
    evening = at_local(date(2027, 5, 8), 23 * 60 + 45, PROJECT.plan.zone) - PROJECT.scheduling.start

    def open_then(key: str) -> bool:
        hours = calendar.of(*known(PROJECT, SCHEDULE, key))
        assert hours is not None
        pieces = zip(hours.begins.tolist(), hours.ends.tolist(), strict=True)
        return any(begin <= evening < end for begin, end in pieces)

    assert open_then("watch-evening-display")
    assert not open_then("give-keys-back")


@pytest.mark.parametrize("person", ["dara", "milo"])
def test_the_stated_end_of_a_day_is_the_same_for_the_runs_and_for_the_schedule(person: str) -> None:
    """Who leaves at half past five for a night shift has worked past it at six, whatever Saturdays say."""
    project, schedule = scheduled("tight_day")
    calendar = Calendar(project, schedule)
    (day,) = calendar.days
    (there,) = (one for one in project.scheduling.people if one.id == person)
    (helper,) = (one for one in project.plan.people if one.id == person)
    hours = calendar.alone(person)
    for span, ends in (
        (day.spans[0], [one.finish for one in there.available if one.overlaps(day.spans[0])]),
        (day.spans[1], [day.spans[1].start + one.to_minute for one in helper.moving_day_hours]),
    ):
        begins = hours.begins + project.scheduling.start
        on_it = (begins >= span.start) & (begins < span.finish)
        assert (hours.stated[on_it] + project.scheduling.start).tolist() == ends
