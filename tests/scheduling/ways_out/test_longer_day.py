"""A longer day as a way out: what is said was found, and nobody is asked to work through the night."""

from __future__ import annotations

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import Person, SchedulingProblem, TiedDay
from moveplan.scheduling.schedule import Status
from moveplan.scheduling.solve import solve
from moveplan.scheduling.ways_out.longer_day import amounts_of, lengthened
from moveplan.times import Interval
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours


def _two_after_each_other(minutes: int, begin: int = 9, end: int = 17) -> SchedulingProblem:
    """Two tasks of one person on day 1, who is there on other days as well."""
    tasks = tuple(task(name, minutes, crew=Crew(1), day="move") for name in ("out", "in"))
    person = Person("ann", "Ann", tuple(hours(n, begin, end) for n in range(3)))
    return SchedulingProblem(
        Network(tasks, (Link("out", "in"),), (), (("settled", "in"),)),
        0,
        3 * DAY,
        tuple(day(n) for n in range(3)),
        people=(person,),
        tied_days=(TiedDay("move", (day(1),), "p.yaml:3"),),
        grid_min=5,
    )


def _said(problem: SchedulingProblem) -> str:
    found = solve(problem, Effort(seconds=0.3, engine="serial"))
    assert found.status is Status.INFEASIBLE
    return " ".join(str(reason) for reason in found.reasons)


@pytest.mark.parametrize(
    ("minutes", "hours_of", "outside"),
    [
        (250, "1 day 9 h to 1 day 17 h 20 min after the start", "20 min"),
        (270, "1 day 8 h 30 min to 1 day 17 h 30 min after the start", "1 h"),
    ],
)
def test_what_little_is_lacking_may_be_worked_longer(minutes: int, hours_of: str, outside: str) -> None:
    text = _said(_two_after_each_other(minutes))
    assert f"work on the move day from {hours_of} (Ann {outside} outside the hours stated" in text
    assert "rested people at the wheel" in text


def test_nobody_is_asked_to_work_through_the_night() -> None:
    assert "outside the hours stated" not in _said(_two_after_each_other(400))


def test_hours_grow_on_the_day_alone_and_end_at_midnight() -> None:
    problem = _two_after_each_other(250, begin=0, end=24)
    for amount in amounts_of(problem, "move"):
        (person,) = lengthened(problem, "move", amount).people
        assert person.available == (Interval(0, 3 * DAY),)
    problem = _two_after_each_other(250, begin=9, end=17)
    for amount in amounts_of(problem, "move"):
        (person,) = lengthened(problem, "move", amount).people
        before, on_it, after = person.available
        assert (before, after) == (hours(0, 9, 17), hours(2, 9, 17))
        assert on_it.start <= hours(1, 9, 17).start
        assert on_it.finish >= hours(1, 9, 17).finish
        assert on_it.minutes <= 8 * 60 + 90


def test_a_day_on_which_nobody_works_cannot_be_longer() -> None:
    problem = _two_after_each_other(250)
    assert amounts_of(problem, "another") == ()
