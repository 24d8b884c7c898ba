"""How hard the solver may look on a model, and which models are not given to it."""

from __future__ import annotations

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew
from moveplan.scheduling.constraints.pace import (
    OWN_TASKS_A_SECOND,
    intervals_of,
    own_tasks_a_second,
    worth_a_model,
)
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.schedule import Engine
from moveplan.scheduling.solve import solve
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.verify import verify
from tests.network.builders import task
from tests.scheduling.instances import DAY, hours
from tests.scheduling.shops import scarce


def staffed(size: int) -> SchedulingProblem:
    """Tasks of one person in rows of four, and four people who may each do any of them."""
    tasks = tuple(task(f"t{n}", 30 + n % 7 * 15, crew=Crew(1)) for n in range(size))
    links = tuple(Link(f"t{n - 4}", f"t{n}") for n in range(4, size))
    days = size // 8 + 4
    people = tuple(Person(f"p{n}", f"P{n}", tuple(hours(d, 8, 17) for d in range(days))) for n in range(4))
    return SchedulingProblem(Network(tasks, links), 0, days * DAY, people=people)


def test_intervals_are_those_of_people_who_may_and_of_gear() -> None:
    assert intervals_of(model_of(staffed(10))) == 40
    gear = scarce(10, 1)
    assert intervals_of(model_of(gear)) == sum(len(one.gear) for one in gear.network.tasks)


def test_the_solver_counts_less_in_a_second_the_larger_the_model() -> None:
    paces = [own_tasks_a_second(model_of(staffed(size))) for size in (5, 50, 100, 200)]
    assert paces[0] == OWN_TASKS_A_SECOND
    assert paces == sorted(paces, reverse=True)
    assert paces[3] == pytest.approx(paces[2] / 2)


def test_what_the_solver_is_too_slow_for_goes_on_by_attempts() -> None:
    small, large = staffed(40), staffed(160)
    assert worth_a_model(model_of(small))
    assert not worth_a_model(model_of(large))
    found = solve(large, Effort(seconds=0.3))
    assert found.engine is Engine.SERIAL
    assert verify(large, found) == ()
    assert solve(small, Effort(seconds=0.3)).engine is Engine.EXACT


def test_more_effort_by_attempts_is_never_worse() -> None:
    large = staffed(160)
    first = solve(large, Effort(seconds=0.1))
    again = solve(large, Effort(seconds=0.6))
    assert again.makespan_min <= first.makespan_min
    assert solve(large, Effort(seconds=0.6)).placements == again.placements
