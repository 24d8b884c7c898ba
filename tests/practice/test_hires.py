"""What is hired, from when until when, and what is asked of the hirer."""

from __future__ import annotations

from dataclasses import replace

from moveplan.cost.bill import Bill
from moveplan.cost.work import add_vehicles, days_used
from moveplan.network.graph import Network
from moveplan.outputs.documents.summary import summary_md
from moveplan.practice.hires import hires_of
from moveplan.times import MINUTES_A_DAY, Interval
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


def test_what_is_brought_back_and_fetched_again_months_later_is_hired_twice_and_billed_for_its_days() -> None:
    project, schedule = scheduled("house_move")
    van = replace(project.plan.vehicles[0], hire_from=None, hire_until=None)
    ids = ("fetch-vehicle-van", "drive-van", "return-vehicle-van")
    again = {one: f"{one}-in" for one in ids}
    rows = tuple(
        replace(
            one,
            task=task,
            start=one.start + later,
            finish=one.finish + later,
            segments=tuple(Interval(piece.start + later, piece.finish + later) for piece in one.segments),
        )
        for one in schedule.placements
        if one.task in ids
        for task, later in ((one.task, 0), (again[one.task], 84 * MINUTES_A_DAY))
    )
    twice = replace(schedule, placements=rows)
    plan = replace(project.plan, vehicles=(van,))
    first, second = hires_of(plan, twice)
    assert (first.tasks, second.tasks) == (ids, tuple(again.values()))
    assert (first.bookings, second.bookings) == (("book-vehicle-van",), ("book-vehicle-van-in",))
    assert second.booked.start - first.booked.start == 84 * MINUTES_A_DAY
    (once,) = hires_of(replace(plan, vehicles=(replace(van, hire_from=0),)), twice)
    assert once.booked.finish == second.booked.finish
    tasks = [task for task in project.network.tasks if task.id in ids]
    network = Network((*tasks, *(replace(task, id=again[task.id]) for task in tasks)))
    bill = Bill(plan)
    add_vehicles(bill, replace(project, plan=plan, network=network), twice)
    (days,) = (line.quantity for line in bill.lines if line.item == "hire-van")
    assert days == 2 * days_used([first.booked], plan) < 20


def test_the_summary_says_until_when_the_vehicle_is_kept() -> None:
    outlook = moving_day()
    (hire,) = hires_of(outlook.project.plan, outlook.schedule)
    _, _, told = summary_md(outlook).partition(f" {hire.vehicle.name}: from ")
    assert ", until " in told.splitlines()[0]
    assert " as planned" in told.splitlines()[0]
