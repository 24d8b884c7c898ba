"""A move of which the serial engine finds no schedule: begun at its heart, or shown to be impossible by it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.estimate import exactly
from moveplan.network.link import Link, Relation
from moveplan.network.task import Crew, Task
from moveplan.scheduling.construct.search import search
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.exact.core import core_tasks, cut_out, with_room
from moveplan.scheduling.exact.outwards import outwards
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Status
from moveplan.scheduling.solve import solve
from moveplan.scheduling.state.frame import Frame, frame_of
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.verify import verify
from moveplan.scheduling.ways_out.conflict import not_fitting
from tests.scheduling.instances import DAY, hours, move

pytest.importorskip("ortools")


def with_safe_time(problem: SchedulingProblem, minutes: int) -> SchedulingProblem:
    """The same move with another time that animals may be out."""
    links = tuple(
        replace(one, max_gap_min=minutes) if one.relation is Relation.FINISHTOFINISH else one
        for one in problem.network.links
    )
    return replace(problem, network=replace(problem.network, links=links))


def with_hire_until(problem: SchedulingProblem, hour: int) -> SchedulingProblem:
    """The same move with the van from seven to an hour each day."""
    (van,) = problem.vehicles
    windows = tuple(hours(n, 7, hour) for n in range(70))
    return replace(problem, vehicles=(replace(van, available=windows),))


def framed(problem: SchedulingProblem) -> Frame:
    return frame_of(model_of(problem))


@pytest.mark.parametrize("seed", [2, 3])
def test_a_schedule_is_found_where_the_serial_engine_ends(seed: int) -> None:
    problem = with_safe_time(move(200, 4, seed), 240)
    effort = Effort(seconds=1.6)
    frame = framed(problem)
    alone = search(frame, effort, Meter(effort, 0.2))
    assert alone.desk is None, "else this test shows nothing"
    begun = outwards(frame, core_tasks(frame), effort, Meter(effort), 1.6)
    assert begun.found is not None
    assert 0 <= begun.left < 1.6
    found = solve(problem)
    assert found.status is Status.FEASIBLE
    assert verify(problem, found) == ()


def test_a_heart_that_cannot_be_is_shown_and_named() -> None:
    problem = with_hire_until(move(120, 4, 1), 9)
    frame = framed(problem)
    begun = outwards(frame, core_tasks(frame), Effort(), Meter(Effort()), 1.0)
    assert begun.impossible
    found = solve(problem)
    assert found.status is Status.INFEASIBLE
    (reason,) = found.reasons
    assert reason.message.startswith("these cannot all hold: ")
    assert "drive waits for" in reason.message
    assert "it was tried and works" in reason.remedy or "each was tried and works" in reason.remedy


def test_a_heart_has_its_own_links_and_no_other() -> None:
    frame = framed(move(60, 4, 1))
    inside = core_tasks(frame)
    heart = cut_out(frame, inside)
    ids = {task.id for task in heart.network.tasks}
    whole = frame.model.problem.network
    assert ids == {frame.model.jobs[at].task.id for at in inside}
    assert set(heart.network.links) == {one for one in whole.links if {one.before, one.after} <= ids}
    assert heart.network.holds == whole.holds, "all animals are in the heart"


def test_what_comes_before_a_heart_is_left_as_time() -> None:
    frame = framed(move(60, 4, 1))
    inside = core_tasks(frame)
    for at, task in zip(inside, with_room(frame, inside, frame.early).network.tasks, strict=True):
        assert task.not_before == frame.early[at]


def test_a_heart_that_cannot_be_is_told_where_no_contradiction_is_found() -> None:
    problem = with_hire_until(move(120, 4, 1), 9)
    frame = framed(problem)
    inside = core_tasks(frame)
    told = not_fitting(frame, inside)
    tied = [frame.model.jobs[at].task for at in inside if frame.model.jobs[at].task.day]
    assert told.message.startswith(f"shown by the solver to be impossible: the {len(tied)} tasks ")
    assert (
        f" and the {len(inside) - len(tied)} that hang on them do not fit into the hours of " in told.message
    )
    assert all((person.name or person.id) in told.message for person in problem.people[:3])


def with_a_way_back(problem: SchedulingProblem, until: int) -> SchedulingProblem:
    """The same move on one day, with a van that has to be brought back on it before an hour."""
    (van,), (tied,) = problem.vehicles, problem.tied_days
    day = tied.days[-1]
    number = day.start // DAY
    back = Task(
        id="bring-back",
        title="bring-back",
        estimate=exactly(45, "min", "invented"),
        crew=Crew(1, (("drives", 1),)),
        vehicles=(van.id,),
        place="old",
    )
    network = replace(
        problem.network,
        tasks=(*problem.network.tasks, back),
        links=(*problem.network.links, Link("set-up", "bring-back")),
    )
    return replace(
        problem,
        network=network,
        tied_days=(replace(tied, days=(day,)),),
        vehicles=(replace(van, available=(hours(number, 0, until),)),),
    )


@pytest.mark.parametrize(("until", "possible"), [(12, False), (14, True)])
def test_a_heart_takes_in_what_finds_no_place_around_it(until: int, possible: bool) -> None:
    """The heart can be over at twelve, and the serial engine finds no way back for the van by fourteen."""
    frame = framed(with_a_way_back(move(60, 4, 1), until))
    assert search(frame, Effort(), Meter(Effort(), 0.2)).desk is None, "else this test shows nothing"
    inside = core_tasks(frame)
    back = next(at for at, job in enumerate(frame.model.jobs) if job.task.id == "bring-back")
    begun = outwards(frame, inside, Effort(), Meter(Effort()), 1.0)
    assert begun.inside == tuple(sorted({*inside, back}))
    assert (begun.impossible, begun.found is not None) == (not possible, possible)
