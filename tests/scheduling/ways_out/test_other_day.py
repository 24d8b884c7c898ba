"""Another day for what is tied to one: what is tried, and whose hours move."""

from __future__ import annotations

from moveplan.network.graph import Network
from moveplan.network.task import Crew
from moveplan.scheduling.problem import Person, SchedulingProblem, TiedDay
from moveplan.scheduling.ways_out import other_day
from moveplan.times import Interval
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours


def problem(days: int, *stated: int) -> SchedulingProblem:
    person = Person("p", "Ann", (hours(1, 8, 20), hours(2, 18, 21), hours(9, 19, 22)))
    return SchedulingProblem(
        Network((task("work", 60, crew=Crew(1), day="move"),)),
        0,
        days * DAY,
        tuple(day(number) for number in range(days)),
        people=(person,),
        tied_days=(TiedDay("move", tuple(day(number) for number in stated)),),
    )


def test_any_day_comes_first_then_later_weeks_up_to_the_end_of_the_plan() -> None:
    assert other_day.amounts_of(problem(30, 1, 2), "move") == (0, 7, 14, 21)
    assert other_day.amounts_of(problem(9, 2), "move") == (0,)


def test_a_tag_that_may_have_any_day_has_no_other() -> None:
    assert other_day.amounts_of(problem(30), "move") == ()
    assert other_day.amounts_of(problem(30, 1), "other") == ()


def test_any_day_leaves_the_hours_alone() -> None:
    given = problem(20, 1)
    found = other_day.moved(given, "move", other_day.AS_HOURS_ARE)
    assert found.people == given.people
    assert found.tied_days[0].days == given.days


def test_the_hours_of_the_day_are_added_to_those_of_the_other() -> None:
    found = other_day.moved(problem(20, 1), "move", 8)
    assert found.tied_days[0].days == (day(9),)
    assert found.people[0].available == (
        hours(1, 8, 20),
        hours(2, 18, 21),
        Interval(9 * DAY + 480, 9 * DAY + 1320),
    )


def test_hours_past_midnight_do_not_run_into_the_next_day() -> None:
    given = problem(20, 1)
    late = Person("q", "Bo", (Interval(DAY + 1200, 2 * DAY + 120),))
    found = other_day.moved(
        SchedulingProblem(
            given.network, 0, given.horizon, given.days, people=(late,), tied_days=given.tied_days
        ),
        "move",
        7,
    )
    assert found.people[0].available == (late.available[0], Interval(8 * DAY + 1200, 9 * DAY))
