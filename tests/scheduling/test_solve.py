from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.task import Crew, LargerCrew, Repeat, Timing
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import Gear, Person, SchedulingProblem, TiedDay, Vehicle
from moveplan.scheduling.schedule import Engine, Schedule, Status
from moveplan.scheduling.solve import solve
from moveplan.scheduling.verify import verify
from moveplan.times import Interval
from tests.network.builders import link, task
from tests.scheduling.instances import DAY, day, hours, move
from tests.scheduling.shops import gapped, scarce

ENGINES = ["serial", "exact"]


def _solved(problem: SchedulingProblem, engine: str, seconds: float = 0.3) -> Schedule:
    found = solve(problem, Effort(seconds=seconds, engine=engine))  # type: ignore[arg-type]
    assert verify(problem, found) == (), found
    return found


@pytest.mark.parametrize("engine", ENGINES)
@pytest.mark.parametrize("seed", [1, 2])
def test_a_move_is_scheduled_within_every_limit(engine: str, seed: int) -> None:
    problem = move(60, 3, seed)
    found = _solved(problem, engine)
    assert found.status in (Status.FEASIBLE, Status.OPTIMAL)
    assert any(aim.name.startswith("time under greatest gaps") for aim in found.aims)


@pytest.mark.parametrize("engine", ENGINES)
def test_the_same_problem_gives_the_same_schedule(engine: str) -> None:
    problem = move(40, 3, 5)
    assert _solved(problem, engine) == _solved(problem, engine)


def test_the_exact_engine_is_never_worse_than_the_serial_one() -> None:
    problem = move(40, 3, 4)
    serial, exact = _solved(problem, "serial", 1.0), _solved(problem, "exact", 1.0)
    assert [aim.value for aim in exact.aims][:1] <= [aim.value for aim in serial.aims][:1]


def test_lead_tasks_stand_neither_all_in_the_first_week_nor_at_the_last_minute() -> None:
    problem = move(60, 3, 1)
    found = _solved(problem, "serial")
    late = [t for t in problem.network.tasks if t.timing is Timing.LATE and t.crew]
    move_day = found.of("open-up").start // DAY
    assert sum(found.of(t.id).start < 7 * DAY for t in late) < len(late) / 2 or move_day < 14
    for one in problem.network.links:
        before = problem.network.task(one.before)
        if before.timing is Timing.LATE and one.min_gap_min is not None:
            gap = found.of(one.after).start - found.of(one.before).finish
            assert gap >= before.margin_min, (one.before, gap)


@pytest.mark.parametrize("engine", ENGINES)
def test_recurring_care_books_the_same_person_each_time(engine: str) -> None:
    free = tuple(hours(n, 18, 21) for n in range(12))
    care = task("care", 20, crew=Crew(1), repeats=Repeat(DAY, 5, 240))
    busy = task("busy", 180, crew=Crew(1), not_before=2 * DAY, finish_by=3 * DAY)
    problem = SchedulingProblem(
        Network((care, busy)),
        0,
        12 * DAY,
        tuple(day(n) for n in range(12)),
        people=(Person("ann", "Ann", free), Person("bob", "Bob", free[:3])),
    )
    found = _solved(problem, engine)
    assert found.of("care").people == ("ann",)
    assert len(found.of("care").segments) == 5
    assert found.of("busy").people == ("bob",)


def test_recurring_care_changes_hands_where_nobody_can_come_each_time() -> None:
    care = task("care", 20, crew=Crew(1), repeats=Repeat(DAY, 4, 120))
    people = (
        Person("ann", "Ann", (hours(0, 8, 9), hours(2, 8, 9))),
        Person("bob", "Bob", (hours(1, 8, 9), hours(3, 8, 9))),
    )
    problem = SchedulingProblem(Network((care,)), 0, 5 * DAY, people=people)
    found = _solved(problem, "serial")
    assert found.of("care").segment_people == (("ann",), ("bob",), ("ann",), ("bob",))
    assert found.of("care").people == ("ann", "bob")


@pytest.mark.parametrize("engine", ENGINES)
def test_more_hands_are_taken_where_they_make_the_finish_earlier(engine: str) -> None:
    lift = task("lift", 60, crew=Crew(2), larger_crews=(LargerCrew(3, 30),))
    people = tuple(Person(f"p{n}", f"P{n}", (hours(0, 8, 20),)) for n in range(3))
    found = _solved(SchedulingProblem(Network((lift,)), 0, DAY, people=people), engine)
    assert len(found.of("lift").people) == 3
    assert found.makespan_min == 8 * 60 + 30


@pytest.mark.parametrize("engine", ENGINES)
def test_tied_tasks_stand_on_the_earliest_day_that_works(engine: str) -> None:
    tasks = (task("a", 60, crew=Crew(1), day="move"), task("b", 0, day="move"))
    person = Person("p", "P", (hours(2, 8, 20), hours(5, 8, 20)))
    problem = SchedulingProblem(
        Network(tasks, (Link("a", "b"),), (), (("settled", "b"),)),
        0,
        9 * DAY,
        tuple(day(n) for n in range(9)),
        people=(person,),
        tied_days=(TiedDay("move", (day(1), day(2), day(5))),),
    )
    assert _solved(problem, engine).of("a").start == 2 * DAY + 8 * 60


@pytest.mark.parametrize("engine", ENGINES)
def test_drives_are_packed_onto_a_day_of_hire(engine: str) -> None:
    one = task("one", 60, vehicles=("van",))
    other = task("other", 60, vehicles=("van",), not_before=DAY)
    last = task("last", 0, not_before=3 * DAY)
    problem = SchedulingProblem(
        Network((one, other, last), (Link("one", "last"), Link("other", "last")), (), (("settled", "last"),)),
        0,
        5 * DAY,
        tuple(day(n) for n in range(5)),
        vehicles=(Vehicle("van", "Van", tuple(hours(n, 8, 20) for n in range(5)), "", 5000),),
    )
    found = _solved(problem, engine)
    assert {found.of(name).start // DAY for name in ("one", "other")} == {1}
    assert next(aim.value for aim in found.aims if aim.name.startswith("hire")) == 5000


def test_a_soft_date_comes_before_everything_else() -> None:
    tasks = (task("a", 60, gear=(("pump", 1),)), task("b", 120, due=120, gear=(("pump", 1),)))
    problem = SchedulingProblem(Network(tasks), 0, DAY, gear=(Gear("pump", "Pumps", 1),))
    found = _solved(problem, "exact")
    assert found.of("b").start == 0
    first = found.aims[0]
    assert (first.name, first.value, first.proven) == ("lateness (min)", 0, True)


def test_an_interrupt_ends_the_search_with_the_best_so_far() -> None:
    asked: list[int] = []

    def interrupted() -> bool:
        asked.append(1)
        return len(asked) > 3

    problem = move(60, 3, 2)
    found = solve(problem, Effort(seconds=60.0, interrupted=interrupted))
    assert found.interrupted
    assert verify(problem, found) == ()


def test_progress_is_told() -> None:
    told: list[str] = []
    solve(scarce(20, 3), Effort(seconds=0.3, progress=told.append))
    assert all(isinstance(line, str) for line in told)


@pytest.mark.parametrize("seed", range(6))
def test_own_tasks_are_solved_to_the_optimum_or_shown_to_be_impossible(seed: int) -> None:
    for problem in (scarce(20, seed, strength=0.3), gapped(12, seed)):
        found = solve(problem, Effort(seconds=2.0))
        assert found.status in (Status.OPTIMAL, Status.INFEASIBLE)
        if found.placements:
            assert verify(problem, found) == ()
            assert found.bound_min == found.makespan_min
        else:
            assert found.reasons


def test_a_new_plan_keeps_to_the_old_one_where_nothing_speaks_against_it() -> None:
    problem = move(40, 3, 7)
    old = _solved(problem, "serial", 0.2)
    new = solve(problem, Effort(seconds=0.2, engine="serial", previous=old))
    moved = sum(new.of(p.task).start != p.start for p in old.placements)
    assert next(aim.value for aim in new.aims if aim.name.startswith("tasks moved")) == moved
    assert moved < len(old.placements) / 2


def test_zero_gear_counts_negative_gaps_and_no_least_gap() -> None:
    tasks = (task("a", 10), task("b", 10), task("c", 0))
    links = (link("a", "b", "FS", -5), link("b", "c", "SS", None, 3))
    found = _solved(SchedulingProblem(Network(tasks, links), 0, 60), "exact")
    assert found.makespan_min == 15
    assert found.status is Status.OPTIMAL
    assert found.engine is Engine.SERIAL


def test_an_empty_network_is_done_at_once() -> None:
    found = solve(SchedulingProblem(Network(()), 0, 60))
    assert (found.status, found.makespan_min, found.placements) == (Status.OPTIMAL, 0, ())


def test_starts_fall_on_the_grid() -> None:
    tasks = (task("a", 7), task("b", 7))
    problem = SchedulingProblem(Network(tasks, (Link("a", "b"),)), 3, 60, grid_min=5)
    assert [p.start for p in _solved(problem, "serial").placements] == [3, 13]


def test_a_person_cannot_be_in_two_places() -> None:
    tasks = (task("a", 30, crew=Crew(1), place="old"), task("b", 30, crew=Crew(1), place="new"))
    person = Person("p", "P", (Interval(0, 200),), home="old")
    problem = SchedulingProblem(
        Network(tasks, (Link("a", "b"),)), 0, 200, people=(person,), drives=(("old", "new", 45),)
    )
    for engine in ENGINES:
        assert _solved(problem, engine).of("b").start == 75
    beside = replace(problem, drives=())
    assert _solved(beside, "serial").of("b").start == 30


def test_other_work_is_done_while_the_solver_works_and_changes_nothing() -> None:
    problem, left = scarce(20, 3), [True, True, False]

    def piece() -> bool:
        return left.pop(0)

    alone = solve(problem, Effort(seconds=0.3, engine="exact"))
    beside = solve(problem, Effort(seconds=0.3, engine="exact", meanwhile=piece))
    assert left == []
    assert beside == alone
