from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.network.graph import Network
from moveplan.network.task import Crew
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.improve.thrift import cheaper_hands, least_cost
from moveplan.scheduling.objective.aims import FINISH, LEAD, MONEY, WEEKS
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.solve import solve
from moveplan.scheduling.state.model import model_of
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours, move
from tests.scheduling.searched import as_schedule, broken, searched

LITTLE = Effort(seconds=0.1)


def _clean(people: tuple[Person, ...], **more: object) -> SchedulingProblem:
    """One hour of cleaning within ten days, with a milestone, so that pay counts before the finish."""
    clean = task("clean", 60, crew=Crew(1), **more)
    days = tuple(day(n) for n in range(10))
    return SchedulingProblem(
        Network((clean,), (), (), (("done", "clean"),)), 0, 10 * DAY, days, people=people
    )


def _person(name: str, on: int, wage: int) -> Person:
    return Person(name, name.title(), (hours(on, 9, 12),), cents_per_hour=wage)


PAID_FIRST = (_person("ann", 0, 1800), _person("bob", 1, 900), _person("cem", 2, 0))


@pytest.mark.parametrize("engine", ["serial", "exact"])
def test_work_waits_for_those_who_cost_nothing(engine: str) -> None:
    found = solve(_clean(PAID_FIRST), replace(LITTLE, engine=engine))  # type: ignore[arg-type]
    assert found.of("clean").people == ("cem",)
    assert found.of("clean").start == 2 * DAY + 9 * 60


def test_where_nobody_comes_for_nothing_the_cheapest_does_it() -> None:
    frame, found = searched(_clean(PAID_FIRST[:2]))
    cheaper_hands(frame, found)
    assert as_schedule(found.desk).of("clean").people == ("bob",)
    assert dict(found.values)[MONEY] == 900


def test_a_date_is_worth_its_pay() -> None:
    frame, found = searched(_clean(PAID_FIRST, finish_by=DAY))
    cheaper_hands(frame, found)
    assert as_schedule(found.desk).of("clean").people == ("ann",)


def test_a_soft_date_too() -> None:
    frame, found = searched(_clean(PAID_FIRST, due=DAY))
    cheaper_hands(frame, found)
    assert as_schedule(found.desk).of("clean").people == ("ann",)


def test_the_bound_of_the_cost_is_what_the_cheapest_hands_take() -> None:
    assert least_cost(model_of(_clean(PAID_FIRST[:2]))) == 900
    assert least_cost(model_of(_clean(PAID_FIRST))) == 0


def test_pay_alone_costs_no_more_than_before_and_every_limit_is_kept_in_a_move() -> None:
    saved = 0
    for seed in range(6):
        problem = move(60, 4, seed)
        frame, found = searched(problem)
        before = found.values
        cheaper_hands(frame, found)
        assert broken(problem, found.desk) == ()
        saved += dict(before)[MONEY] - dict(found.values)[MONEY]
    assert saved > 0


@settings(max_examples=20, deadline=None)
@given(st.integers(20, 60), st.integers(2, 5), st.integers(0, 10_000))
def test_nothing_that_counts_before_the_cost_gets_worse(size: int, people: int, seed: int) -> None:
    problem = move(size, people, seed)
    frame, found = searched(problem)
    if found.desk is None:
        return
    before = found.values
    cheaper_hands(frame, found)
    after = [row for row in found.values if row[0] not in (FINISH, WEEKS, LEAD)]
    assert least_cost(frame.model) <= dict(after)[MONEY]
    assert after <= [row for row in before if row[0] not in (FINISH, WEEKS, LEAD)]
    assert broken(problem, found.desk) == ()
