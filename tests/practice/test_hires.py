"""What is hired, from when until when, and what is asked of the hirer."""

from __future__ import annotations

from dataclasses import replace

from moveplan.outputs.documents.summary import summary_md
from moveplan.practice.hires import hires_of
from tests.examples import scheduled
from tests.outputs.scene import moving_day


def test_booked_is_what_the_plan_says_and_used_what_the_schedule_makes_of_it() -> None:
    project, schedule = scheduled("house_move")
    (hire,) = hires_of(project.plan, schedule)
    uses = [one for one in schedule.placements if "van" in one.vehicles]
    assert (hire.used.start, hire.used.finish) == (min(o.start for o in uses), max(o.finish for o in uses))
    assert (hire.booked.start, hire.booked.finish) == (hire.vehicle.hire_from, hire.vehicle.hire_until)
    task = next(one for one in project.network.tasks if one.id in hire.bookings)
    assert "from Friday 12 March 2027, 16:00 until Sunday 14 March 2027, 14:00" in task.steps[0]


def test_an_open_end_is_booked_as_it_is_used() -> None:
    project, schedule = scheduled("house_move")
    van = replace(project.plan.vehicles[0], hire_until=None)
    assert van.hired
    (hire,) = hires_of(replace(project.plan, vehicles=(van, *project.plan.vehicles[1:])), schedule)
    assert hire.booked.finish == hire.used.finish
    assert hires_of(replace(project.plan, vehicles=(replace(van, hired=False),)), schedule) == ()


def test_the_summary_says_until_when_the_vehicle_is_kept() -> None:
    outlook = moving_day()
    (hire,) = hires_of(outlook.project.plan, outlook.schedule)
    _, _, told = summary_md(outlook).partition(f" {hire.vehicle.name}: from ")
    assert ", until " in told.splitlines()[0]
    assert " as planned" in told.splitlines()[0]
