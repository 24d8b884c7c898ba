"""Work on lead tasks week by week: against trying every placement, and on an example."""

from __future__ import annotations

from itertools import pairwise, product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew, Task, Timing
from moveplan.scheduling.construct.search import search
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.objective.aims import WEEKS
from moveplan.scheduling.problem import Person, SchedulingProblem, TiedDay
from moveplan.scheduling.schedule import Aim, Schedule
from moveplan.scheduling.solve import solve
from moveplan.scheduling.state.frame import frame_of
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.verify import verify
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours

HOUR = 60


def _lead(name: str, minutes: int, margin: int = DAY, people: int = 1) -> Task:
    return task(name, minutes, crew=Crew(people), timing=Timing.LATE, margin_min=margin)


def _before_a_move(
    lead: tuple[Task, ...],
    links: tuple[Link, ...],
    move_day: int,
    free: tuple[int, ...],
    until: int = 12,
    people: int = 1,
) -> SchedulingProblem:
    """Lead tasks, and a move on one day; everybody is free from nine on the given days, and on the move day."""
    windows = tuple(hours(n, 9, until) for n in (*free, move_day))
    needed = tuple(Link(one.id, "move") for one in lead)
    move = task("move", HOUR, crew=Crew(1), day="move")
    return SchedulingProblem(
        Network((*lead, move), (*links, *needed), (), (("settled", "move"),)),
        0,
        (move_day + 2) * DAY,
        tuple(day(n) for n in range(move_day + 2)),
        people=tuple(Person(f"p{n}", f"P{n}", windows) for n in range(people)),
        tied_days=(TiedDay("move", (day(move_day),)),),
        grid_min=HOUR,
    )


def _uneven(found: Schedule) -> Aim:
    return next(aim for aim in found.aims if aim.name == WEEKS)


def _by_week(problem: SchedulingProblem, found: Schedule, move_day: int) -> dict[int, int]:
    weeks: dict[int, int] = {}
    for one in problem.network.tasks:
        if one.timing is Timing.LATE:
            week = (move_day - 1 - found.of(one.id).start // DAY) // 7
            weeks[week] = weeks.get(week, 0) + one.minutes
    return weeks


@pytest.mark.parametrize("engine", ["serial", "exact"])
def test_each_week_gets_its_share(engine: str) -> None:
    lead = tuple(_lead(f"t{n}", HOUR, 3 * DAY) for n in range(6))
    problem = _before_a_move(lead, (), 14, tuple(range(14)))
    effort = Effort(seconds=1.0, engine=engine)  # type: ignore[arg-type]
    before = search(frame_of(model_of(problem)), effort, Meter(effort))
    found = solve(problem, effort)
    assert dict(before.values)[WEEKS] == 3 * HOUR, "as late as the margin allows, all in the last week"
    assert verify(problem, found) == ()
    assert _by_week(problem, found, 14) == {0: 3 * HOUR, 1: 3 * HOUR}
    assert (_uneven(found).value, _uneven(found).bound, _uneven(found).proven) == (0, 0, True)


def test_a_task_is_not_done_weeks_before_it_makes_sense() -> None:
    lead = tuple(_lead(f"t{n}", HOUR) for n in range(6))
    problem = _before_a_move(lead, (), 42, tuple(range(42)), 22)
    found = solve(problem, Effort(seconds=2.0))
    assert verify(problem, found) == ()
    assert min(found.of(one.id).start for one in lead) >= (42 - 2 - 7) * DAY


def test_without_a_margin_nothing_is_spread() -> None:
    lead = tuple(_lead(f"t{n}", HOUR, 0) for n in range(4))
    found = solve(_before_a_move(lead, (), 28, tuple(range(28)), 22), Effort(seconds=0.5))
    assert all(aim.name != WEEKS for aim in found.aims)
    assert min(found.of(one.id).start for one in lead) >= 26 * DAY


def test_a_new_plan_is_not_made_more_even_at_the_price_of_changes() -> None:
    lead = tuple(_lead(f"t{n}", HOUR, 7 * DAY) for n in range(4))
    problem = _before_a_move(lead, (), 28, tuple(range(28)))
    old = solve(problem, Effort(seconds=0.5))
    again = solve(problem, Effort(seconds=0.5, previous=old))
    assert [again.of(one.id) for one in lead] == [old.of(one.id) for one in lead]


@st.composite
def _small(draw: st.DrawFn) -> tuple[SchedulingProblem, int]:
    size = draw(st.integers(2, 3))
    lead = tuple(
        _lead(f"t{n}", draw(st.sampled_from([1, 2, 3])) * HOUR, draw(st.sampled_from([1, 2, 5])) * DAY)
        for n in range(size)
    )
    links = (Link("t0", "t1"),) if draw(st.booleans()) else ()
    move_day = draw(st.sampled_from([12, 15, 21]))
    days = draw(st.lists(st.integers(0, move_day - 1), min_size=2, max_size=5, unique=True))
    return _before_a_move(lead, links, move_day, tuple(sorted(days))), move_day


def _best(problem: SchedulingProblem, move_day: int) -> int | None:
    """Least work beyond an even share over all placements, counted here anew."""
    lead = [one for one in problem.network.tasks if one.timing is Timing.LATE]
    move = move_day * DAY + 9 * HOUR
    chained = len(problem.network.links) > len(lead)
    even = -(-sum(one.minutes for one in lead) // ((move_day - 1) // 7 + 1))
    windows = problem.people[0].available[:-1]
    choices = [
        [
            start
            for window in windows
            for start in range(window.start, window.finish - one.minutes + 1, HOUR)
            if start + one.minutes + one.margin_min <= move
        ]
        for one in lead
    ]
    values = []
    for starts in product(*choices):
        ends = [start + one.minutes for start, one in zip(starts, lead, strict=True)]
        if chained and starts[1] < ends[0] + lead[0].margin_min:
            continue
        spots = sorted(zip(starts, ends, strict=True))
        if any(a[1] > b[0] for a, b in pairwise(spots)):
            continue
        weeks: dict[int, int] = {}
        far = 0
        for at, one in enumerate(lead):
            week = (move_day - 1 - starts[at] // DAY) // 7
            weeks[week] = weeks.get(week, 0) + one.minutes
            need = min(move, starts[1]) if chained and at == 0 else move
            far += one.minutes * (need - ends[at] > 2 * one.margin_min + 7 * DAY)
        values.append(far + sum(max(0, work - even) for work in weeks.values()))
    return min(values, default=None)


@settings(max_examples=12, deadline=None)
@given(_small())
def test_the_exact_engine_finds_what_enumeration_finds(case: tuple[SchedulingProblem, int]) -> None:
    problem, move_day = case
    best = _best(problem, move_day)
    assume(best is not None)
    exact, serial = solve(problem, Effort(seconds=1.5)), solve(problem, Effort(0.1, engine="serial"))
    for found in (exact, serial):
        assert verify(problem, found) == ()
        assert _uneven(found).bound <= best  # type: ignore[operator]
    assert (_uneven(exact).value, _uneven(exact).proven) == (best, True)
    assert _uneven(serial).value >= best  # type: ignore[operator]
