"""What no longer holds is placed again, and all else stands where it stood."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew, Task
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.improve.keeping import kept
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.scheduling.solve import solve
from moveplan.scheduling.verify import verify
from moveplan.times import Interval
from tests.network.builders import task
from tests.scheduling.instances import day, hours, move

EFFORT = Effort(seconds=0.5, engine="serial")
ONE = Crew(1)


def _problem(*tasks: Task, links: tuple[Link, ...] = ()) -> SchedulingProblem:
    return SchedulingProblem(
        Network(tasks, links),
        0,
        5 * 1440,
        tuple(day(n) for n in range(5)),
        people=(Person("p", "P", tuple(hours(n, 9, 17) for n in range(5))),),
    )


def _before(problem: SchedulingProblem) -> dict[str, Placement]:
    found = solve(problem, EFFORT)
    assert found.placements
    return {one.task: one for one in found.placements}


def _moved(found: Schedule | None, before: dict[str, Placement]) -> set[str]:
    assert found is not None
    return {one.task for one in found.placements if before.get(one.task) != one}


def test_what_still_holds_stays() -> None:
    problem = _problem(task("dig", 60, crew=ONE), task("pour", 60, crew=ONE), links=(Link("dig", "pour"),))
    before = _before(problem)
    assert _moved(kept(problem, before, EFFORT), before) == set()


def test_a_late_task_moves_what_waits_for_it_and_nothing_else() -> None:
    chain = (task("dig", 60, crew=ONE), task("pour", 60, crew=ONE))
    links = (Link("dig", "pour", min_gap_min=120),)
    problem = _problem(*chain, task("paint", 30, crew=ONE, not_before=3 * 1440), links=links)
    before = _before(problem)
    late = replace(chain[0], not_before=before["dig"].start + 30)
    problem = _problem(late, chain[1], problem.network.tasks[2], links=links)
    found = kept(problem, before, EFFORT)
    assert _moved(found, before) == {"dig", "pour"}
    assert found is not None
    assert verify(problem, found) == ()


def test_who_stands_in_the_way_gives_way() -> None:
    """Two hours before five are left for a task of an hour and the other of two: the other waits for a day."""
    first, other = task("first", 60, crew=ONE, finish_by=1440), task("other", 120, crew=ONE)
    problem = _problem(first, other)
    before = {
        "first": _placed("first", 9 * 60, 10 * 60),
        "other": _placed("other", 15 * 60, 17 * 60),
    }
    problem = _problem(replace(first, not_before=16 * 60), other)
    found = kept(problem, before, EFFORT)
    assert found is not None
    assert (found.of("first").start, found.of("other").start) == (16 * 60, 1440 + 9 * 60)


def test_a_new_task_finds_its_place_among_those_that_stand() -> None:
    problem = _problem(task("dig", 60, crew=ONE), task("pour", 60, crew=ONE))
    before = _before(problem)
    more = _problem(*problem.network.tasks, task("new", 60, crew=ONE))
    assert _moved(kept(more, before, EFFORT), before) == {"new"}


def test_where_no_place_is_left_nothing_is_kept() -> None:
    problem = _problem(task("dig", 60, crew=ONE, finish_by=600))
    before = _before(problem)
    late = _problem(task("dig", 60, crew=ONE, not_before=560, finish_by=600))
    assert kept(late, before, EFFORT) is None
    assert kept(problem, {}, EFFORT) is None


@pytest.mark.parametrize("seed", range(12))
def test_a_move_with_one_late_task_keeps_every_limit_and_most_starts(seed: int) -> None:
    """Of the invented moves: a task of the lead ends a day late; the schedule is checked by code of its own."""
    problem = move(60, 3, seed)
    before = _before(problem)
    lead = [one for one in problem.network.tasks if one.id.startswith("lead-")]
    late = min(lead, key=lambda one: (before[one.id].start, one.id))
    begins = before[late.id].start + 1440
    tasks = tuple(replace(one, not_before=begins) if one is late else one for one in problem.network.tasks)
    problem = replace(problem, network=replace(problem.network, tasks=tasks))
    found = kept(problem, before, EFFORT)
    assert found is not None
    assert verify(problem, found) == ()
    assert found.of(late.id).start >= begins
    assert len(_moved(found, before)) <= len(tasks) // 3


def _placed(name: str, start: int, finish: int) -> Placement:
    return Placement(name, start, finish, (Interval(start, finish),), ("p",))
