"""Every answer on tiny problems against trying all placements, judged by the independent check alone."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.link import Hold, Link, Relation
from moveplan.network.task import Crew, Task
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import Gear, Person, SchedulingProblem
from moveplan.scheduling.schedule import Engine, Placement, Schedule, Status
from moveplan.scheduling.solve import solve
from moveplan.scheduling.verify import verify
from moveplan.times import Interval

LENGTH = 12


@st.composite
def links(draw: st.DrawFn, size: int) -> tuple[Link, ...]:
    found = []
    for _ in range(draw(st.integers(0, size + 1))):
        before, after = draw(st.permutations(range(size)))[:2]
        least = draw(st.one_of(st.none(), st.integers(-3, 4)))
        most = draw(st.one_of(st.none(), st.integers(0, 6)))
        if least is not None and most is not None and most < least:
            most = least
        found.append(Link(f"t{before}", f"t{after}", draw(st.sampled_from(list(Relation))), least, most))
    return tuple(found)


@st.composite
def of_gear(draw: st.DrawFn) -> SchedulingProblem:
    size = draw(st.integers(2, 4))
    tasks = []
    for n in range(size):
        needs = [(f"g{k}", draw(st.integers(0, 2))) for k in range(2)]
        tasks.append(
            Task(
                id=f"t{n}",
                title=f"t{n}",
                estimate=exactly(draw(st.integers(0, 4)), "min", "test"),
                gear=tuple((name, count) for name, count in needs if count),
                not_before=draw(st.one_of(st.none(), st.integers(0, 4))),
                finish_by=draw(st.one_of(st.none(), st.integers(5, LENGTH))),
            )
        )
    holds = (Hold("g0", 1, "t0", "t1"),) if draw(st.booleans()) else ()
    gear = (Gear("g0", "g0", draw(st.integers(1, 3))), Gear("g1", "g1", 2))
    return SchedulingProblem(Network(tuple(tasks), draw(links(size)), holds), 0, LENGTH, gear=gear)


@st.composite
def of_people(draw: st.DrawFn) -> SchedulingProblem:
    size = draw(st.integers(2, 3))
    tasks = []
    for n in range(size):
        crew = draw(
            st.sampled_from([None, Crew(1), Crew(1, (("drives", 1),)), Crew(2), Crew(1, (), ("p1",))])
        )
        pauses = crew is not None and crew.count == 1 and draw(st.booleans())
        tasks.append(
            Task(
                id=f"t{n}",
                title=f"t{n}",
                estimate=exactly(draw(st.integers(1, 4)), "min", "test"),
                crew=crew,
                may_pause=pauses,
                place=draw(st.sampled_from(["", "a", "b"])),
            )
        )
    hours = st.sampled_from([[(0, 12)], [(0, 5), (7, 12)], [(1, 4), (6, 9)], [(3, 11)]])
    people = tuple(
        Person(
            f"p{n}", f"p{n}", tuple(Interval(*piece) for piece in draw(hours)), ("drives",) if n == 0 else ()
        )
        for n in range(2)
    )
    drives = (("a", "b", draw(st.integers(1, 3))),)
    return SchedulingProblem(
        Network(tuple(tasks), draw(links(size))), 0, LENGTH, people=people, drives=drives
    )


def _pieces(
    problem: SchedulingProblem, task: Task, start: int, crew: tuple[str, ...]
) -> tuple[Interval, ...]:
    """Work goes on whenever all of the crew are there, minute by minute."""
    if not task.may_pause:
        return (Interval(start, start + task.minutes),)
    hours = [person.available for person in problem.people if person.id in crew]
    there = [
        minute
        for minute in range(start, LENGTH)
        if all(any(piece.start <= minute < piece.finish for piece in own) for own in hours)
    ][: task.minutes]
    if len(there) < task.minutes or there[0] != start:
        return ()
    pieces: list[Interval] = []
    for minute in there:
        if pieces and pieces[-1].finish == minute:
            pieces[-1] = Interval(pieces[-1].start, minute + 1)
        else:
            pieces.append(Interval(minute, minute + 1))
    return tuple(pieces)


def _stands(problem: SchedulingProblem, task: Task) -> list[Placement]:
    crews: list[tuple[str, ...]] = [()]
    if task.crew:
        crews = list(combinations([person.id for person in problem.people], task.crew.count))
    return [
        Placement(task.id, start, pieces[-1].finish, pieces, crew)
        for start in range(LENGTH + 1)
        for crew in crews
        if (pieces := _pieces(problem, task, start, crew)) and pieces[-1].finish <= LENGTH
    ]


def _alone(problem: SchedulingProblem, task: Task) -> SchedulingProblem:
    return SchedulingProblem(
        Network((task,)), 0, LENGTH, people=problem.people, gear=problem.gear, drives=problem.drives
    )


def schedules(problem: SchedulingProblem) -> Iterator[Schedule]:
    """Every schedule of a tiny problem."""
    choices = []
    for task in problem.network.tasks:
        alone = _alone(problem, task)
        fitting = [
            stand
            for stand in _stands(problem, task)
            if not verify(alone, Schedule(Status.FEASIBLE, Engine.SERIAL, (stand,), stand.finish))
        ]
        choices.append(fitting)
    for combination in product(*choices):
        finish = max(stand.finish for stand in combination)
        schedule = Schedule(Status.FEASIBLE, Engine.SERIAL, tuple(combination), finish)
        if not verify(problem, schedule):
            yield schedule


def _best(problem: SchedulingProblem) -> int | None:
    return min((schedule.makespan_min for schedule in schedules(problem)), default=None)


def _agrees(problem: SchedulingProblem) -> None:
    best = _best(problem)
    exact = solve(problem, Effort(seconds=1.0))
    serial = solve(problem, Effort(seconds=0.05, engine="serial"))
    if best is None:
        assert exact.status in (Status.INFEASIBLE, Status.UNKNOWN)
        assert serial.status in (Status.INFEASIBLE, Status.UNKNOWN)
        assert exact.reasons
        assert serial.reasons
        return
    assert exact.status is Status.OPTIMAL
    assert verify(problem, exact) == ()
    assert exact.makespan_min == exact.bound_min == best
    assert serial.status is not Status.INFEASIBLE
    assert serial.bound_min <= best
    if serial.placements:
        assert verify(problem, serial) == ()
        assert serial.makespan_min >= best
        assert serial.status is not Status.OPTIMAL or serial.makespan_min == best


@settings(max_examples=60, deadline=None)
@given(of_gear())
def test_scarce_gear_and_gaps_of_every_kind_agree_with_enumeration(problem: SchedulingProblem) -> None:
    _agrees(problem)


@settings(max_examples=40, deadline=None)
@given(of_people())
def test_people_hours_pauses_and_drives_agree_with_enumeration(problem: SchedulingProblem) -> None:
    _agrees(problem)
