"""A plan of own tasks in hours is the plan in minutes; what it proves is true in minutes too."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew, Repeat, Timing
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.schedule import Status
from moveplan.scheduling.solve import solve
from moveplan.scheduling.state.coarse import Coarse, unit_of
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.verify import verify
from moveplan.times import Interval
from tests.network.builders import link, task
from tests.properties.test_schedule_enumeration import of_gear, of_people
from tests.scheduling.graded import graded

HOUR = 60


def _stretched(problem: SchedulingProblem, unit: int, start: int) -> SchedulingProblem:
    """The same problem with every time a multiple, from another start on."""

    def moved(moment: int | None) -> int | None:
        return None if moment is None else start + moment * unit

    def longer(gap: int | None) -> int | None:
        return None if gap is None else gap * unit

    tasks = tuple(
        replace(
            one,
            estimate=exactly(one.minutes * unit, "min", "test"),
            not_before=moved(one.not_before),
            finish_by=moved(one.finish_by),
        )
        for one in problem.network.tasks
    )
    links = tuple(
        replace(one, min_gap_min=longer(one.min_gap_min), max_gap_min=longer(one.max_gap_min))
        for one in problem.network.links
    )
    people = tuple(
        replace(
            one,
            available=tuple(
                Interval(start + piece.start * unit, start + piece.finish * unit) for piece in one.available
            ),
        )
        for one in problem.people
    )
    return replace(
        problem,
        network=replace(problem.network, tasks=tasks, links=links),
        start=start,
        horizon=start + problem.horizon * unit + unit // 2,
        people=people,
        drives=tuple((one, other, minutes * unit) for one, other, minutes in problem.drives),
    )


@settings(max_examples=40, deadline=None)
@given(st.one_of(of_gear(), of_people()), st.sampled_from([7, 60]))
def test_stretching_a_problem_stretches_its_answer(problem: SchedulingProblem, unit: int) -> None:
    plain, long = solve(problem, Effort(1.0)), solve(_stretched(problem, unit, 1000), Effort(1.0))
    assert not long.placements or verify(_stretched(problem, unit, 1000), long) == ()
    assert long.status is plain.status
    assert long.bound_min == plain.bound_min * unit
    assert long.makespan_min == plain.makespan_min * unit


def test_hours_are_told_in_hours_and_back() -> None:
    model = model_of(graded(12, 1, 1.5, 0.5, 0.5, HOUR))
    coarse = Coarse(model, unit_of(model))
    assert coarse.unit == HOUR
    assert [job.options[0].minutes for job in coarse.model.jobs] == [
        job.options[0].minutes // HOUR for job in model.jobs
    ]


@pytest.mark.parametrize(("gap", "unit"), [(None, 20), (60, 20), (-40, 20), (30, 10), (25, 5), (7, 1)])
def test_the_unit_divides_every_gap(gap: int | None, unit: int) -> None:
    tasks = (task("a", 60), task("b", 40))
    problem = SchedulingProblem(Network(tasks, (link("a", "b", "SS", 0, gap),)), 5, 5 + 999)
    if gap is not None and gap < 0:
        problem = replace(problem, network=Network(tasks, (Link("a", "b", min_gap_min=gap),)))
    assert unit_of(model_of(problem)) == unit


def test_dates_and_hours_count_from_the_start() -> None:
    person = Person("p", "P", (Interval(20, 80), Interval(110, 333)))
    whole = SchedulingProblem(
        Network((task("a", 30, crew=Crew(1), not_before=80),)), 20, 333, people=(person,)
    )
    assert unit_of(model_of(whole)) == 30
    assert unit_of(model_of(replace(whole, horizon=400))) == 1


def test_work_that_pauses_recurs_or_waits_for_its_margin_is_left_in_minutes() -> None:
    person = Person("p", "P", (Interval(0, 600),))
    for more in ({"may_pause": True}, {"repeats": Repeat(60, 3, 0)}, {"timing": Timing.LATE}):
        one = task("a", 60, crew=Crew(1), **more)
        model = model_of(SchedulingProblem(Network((one,)), 0, 600, people=(person,)))
        assert unit_of(model) == 1
        assert Coarse(model, 1).model is model


def test_a_plan_in_hours_is_proven_with_the_effort_of_a_plan_in_units() -> None:
    problem = graded(30, 1, 1.5, 1.0, 0.2, HOUR)
    found = solve(problem, Effort(seconds=5.0))
    assert verify(problem, found) == ()
    assert found.status is Status.OPTIMAL
    assert found.makespan_min == 115 * HOUR
