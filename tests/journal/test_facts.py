"""What has changed, put into the values of a plan."""

from __future__ import annotations

from datetime import date

from moveplan.journal.facts import changed_plan
from moveplan.journal.records import MovedDates
from moveplan.plan.move import Plan
from moveplan.times import to_local
from tests.journal.replay import outlook_of


def _moments(plan: Plan) -> list[str]:
    assert plan.dates is not None
    van = plan.vehicles[0]
    found = (plan.dates.access_from, plan.dates.keys_back, van.hire_from, van.hire_until)
    return [to_local(one, plan.zone).isoformat() for one in found if one is not None]


def test_all_dates_go_along_by_the_wall_clock() -> None:
    """Ireland's clocks went forward on 28 March 2027 (last Sunday of March, S.I. No. 506/2001): noon stays noon."""
    plan = outlook_of("house_move").project.plan
    assert _moments(plan)[0] == "2027-03-11T12:00:00+00:00"
    moved = changed_plan(plan, [MovedDates(at=plan.now, days=21)])
    assert moved.dates is not None
    assert moved.dates.move_days == (date(2027, 4, 3),)
    assert moved.dates.fall_back_day == date(2027, 4, 10)
    assert _moments(moved) == [
        "2027-04-01T12:00:00+01:00",
        "2027-04-16T12:00:00+01:00",
        "2027-04-02T16:00:00+01:00",
        "2027-04-04T14:00:00+01:00",
    ]
    assert changed_plan(moved, [MovedDates(at=plan.now, days=-21)]) == plan
