"""What shows without a solver that there is no schedule: each sentence whole, and nothing said of what can be done."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Link, Relation
from moveplan.network.task import Crew, Task
from moveplan.scheduling.construct.search import search
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.impossible.capacity import check_capacity
from moveplan.scheduling.impossible.checks import check_all
from moveplan.scheduling.improve.result import schedule_of
from moveplan.scheduling.problem import Gear, Person, SchedulingProblem, TiedDay, Vehicle
from moveplan.scheduling.schedule import Engine, Placement, Schedule
from moveplan.scheduling.state.frame import frame_of
from moveplan.scheduling.state.model import model_of
from moveplan.scheduling.verify import verify
from moveplan.times import Interval, local_day
from tests.network.builders import link, task
from tests.scheduling.instances import DAY, day, hours, move

DUBLIN = ZoneInfo("Europe/Dublin")


def _shown(problem: SchedulingProblem) -> str:
    faults = check_all(problem) or check_capacity(model_of(problem))
    assert len(faults) == 1
    return str(faults[0])


def test_a_chain_too_long_for_the_hire() -> None:
    """Fetch 1 h, charge 8 h, load 45 min: 9 h 45 min of a hire of 8 h."""
    tasks = (
        task("fetch", 60, vehicles=("van",), crew=Crew(1)),
        task("charge", 480),
        task("load", 45, vehicles=("van",), crew=Crew(1)),
    )
    problem = SchedulingProblem(
        Network(tasks, (link("fetch", "charge"), link("charge", "load"))),
        0,
        3 * DAY,
        people=(Person("p", "Ann", (Interval(0, 3 * DAY),)),),
        vehicles=(Vehicle("van", "Van", (hours(1, 8, 16),), where="p.yaml:7 vehicles.van.hire"),),
    )
    assert _shown(problem) == (
        "p.yaml:7 vehicles.van.hire: fetch can start 1 day 8 h after the start at the earliest, and load must be over "
        "by "
        "1 day 16 h after the start (Van has to be back by then): from the one to the other 9 h 45 min are needed; "
        "allowed are 8 h; 1 h 45 min short (tasks: fetch (1 h), charge (8 h) and load (45 min)); find 1 h 45 min "
        "more in vehicles.van.hire, or "
        "shorten one of these tasks by as much"
    )


@pytest.mark.parametrize(
    ("lasts", "named"),
    [
        ((19 * DAY, 0), " after stand (make, before that, takes 19 days)"),
        ((5 * DAY, 5 * DAY, 5 * DAY, 4 * DAY), " after stand"),
    ],
)
def test_what_takes_most_of_the_time_before_is_named(lasts: tuple[int, ...], named: str) -> None:
    """Ann misses the hire because of what came before: named is what lasts long, not only the task just before."""
    tasks = (
        *(task("make" if number == 0 else f"wait-{number}", minutes) for number, minutes in enumerate(lasts)),
        task("stand", 15 * 60 + 30),
        task("mix", 60, crew=Crew(1)),
        task("load", 45, vehicles=("van",), crew=Crew(1)),
    )
    problem = SchedulingProblem(
        Network(tasks, tuple(link(one.id, other.id) for one, other in pairwise(tasks))),
        0,
        40 * DAY,
        people=(Person("p", "Ann", (hours(19, 8, 16), hours(25, 8, 10))),),
        vehicles=(Vehicle("van", "Van", (hours(19, 8, 16),), where="p.yaml:7 vehicles.van.hire"),),
    )
    expected = f"mix can start 25 days 8 h after the start at the earliest{named}, and load must be over by"
    assert expected in _shown(problem)


def test_moments_are_told_by_the_clock_of_the_plan() -> None:
    """The clocks go forward on 28 March 2027: the day ends after 23 hours."""
    whole = local_day(date(2027, 3, 28), DUBLIN)
    work = task("work", 300, crew=Crew(1), day="moving-day", not_before=whole.finish - 240)
    problem = SchedulingProblem(
        Network((work,)),
        whole.start,
        whole.finish + DAY,
        (whole, Interval(whole.finish, whole.finish + DAY)),
        people=(Person("p", "Ann", (Interval(whole.start, whole.finish + DAY),)),),
        tied_days=(TiedDay("moving-day", (whole,), "p.yaml:3 dates"),),
        zone=DUBLIN,
    )
    assert _shown(problem) == (
        "p.yaml:3 dates: work takes 5 h at a stretch; Ann has 4 h at most on the moving day, 2027-03-28; give more "
        "hours, "
        "more people or more days"
    )


def test_hours_too_short_after_what_comes_before() -> None:
    tasks = (
        task("first", 90, crew=Crew(1)),
        task("second", 120, crew=Crew(1), finish_by=DAY, where="p.yaml:8"),
    )
    problem = SchedulingProblem(
        Network(tasks, (link("first", "second"),)),
        0,
        2 * DAY,
        people=(Person("p", "Ann", (hours(0, 8, 10), hours(0, 12, 14), hours(1, 8, 20))),),
    )
    assert check_all(problem) == ()
    late = replace(
        problem, network=replace(problem.network, tasks=(replace(tasks[0], not_before=600), tasks[1]))
    )
    assert _shown(late) == (
        "p.yaml:8: second can start 13 h 30 min after the start at the earliest after first, and must be over by 1 day "
        "after the start (its date); it takes 2 h at a stretch, and Ann has 30 min at most in between; give more "
        "hours, "
        "start earlier, or shorten what comes before it"
    )


def test_tasks_that_lack_the_same_are_told_together() -> None:
    tasks = tuple(task(f"t{n}", 30 + n, crew=Crew(2), day="move") for n in range(3))
    problem = SchedulingProblem(
        Network((*tasks, task("alone", 30, crew=Crew(1), day="move"))),
        0,
        2 * DAY,
        (day(0), day(1)),
        people=(Person("a", "Ann", (hours(0, 8, 12),)), Person("b", "Bob", (hours(0, 12, 20),))),
        tied_days=(TiedDay("move", (day(0),), "p.yaml:3"),),
    )
    assert _shown(problem) == (
        "p.yaml:3: t0, t1 and t2 take 30 min to 32 min each at a stretch; Ann and Bob have no time together on the "
        "move "
        "day; give more hours, more people or more days"
    )


def test_who_has_no_time_at_all_is_named() -> None:
    """Not the days, and not whoever has time: the person, at their own line, with all that waits for them."""
    tasks = (
        *(task(f"t{n}", 30, crew=Crew(2), day="move") for n in range(6)),
        task("one", 30, crew=Crew(1), day="move"),
    )
    ann, bob, cleo = (
        Person(name.casefold(), name, (hours(1, 8, 20),), where=f"p.yaml:{name}")
        for name in ("Ann", "Bob", "Cleo")
    )
    there = replace(ann, available=(hours(0, 8, 20),))
    problem = SchedulingProblem(
        Network(tasks),
        0,
        2 * DAY,
        (day(0), day(1)),
        people=(there, bob),
        tied_days=(TiedDay("move", (day(0),), "p.yaml:3"),),
    )
    assert _shown(problem) == (
        "p.yaml:Bob: Bob has no time on the move day; without Bob there are too few people for t0, t1, 3 more and t5; "
        "give Bob hours then, or add somebody who has them"
    )
    found = check_all(replace(problem, people=(ann, bob)))
    assert [one.where for one in found] == ["p.yaml:Ann", "p.yaml:Bob"]
    assert all("3 more" in one.message or "4 more" in one.message for one in found)
    assert check_all(replace(problem, people=(there, replace(bob, available=there.available), cleo))) == ()


def test_more_work_than_hands_within_a_greatest_gap() -> None:
    """Four catches of 30 min by one person within 90 min before a drive."""
    catches = tuple(task(f"catch-{n}", 30, crew=Crew(1)) for n in range(4))
    links = [link(f"catch-{n}", "drive") for n in range(4)]
    links += [link(f"catch-{n}", "drive", "SS", None, 90) for n in range(4)]
    problem = SchedulingProblem(
        Network((*catches, task("drive", 60)), tuple(replace(one, where="p.yaml:4") for one in links)),
        0,
        DAY,
        people=(Person("p", "Ann", (hours(0, 8, 20),)),),
    )
    assert _shown(problem) == (
        "p.yaml:4: catch-0, catch-1, catch-2 and catch-3 must lie within 1 h 30 min before drive starts, because "
        "nothing may wait longer; that takes 2 h of Ann, who has 1 h 30 min in that time; 30 min short; find 30 min "
        "more: allow longer gaps, or get one more person"
    )


def test_more_use_than_gear_can_give() -> None:
    tasks = tuple(task(f"t{n}", 60, gear=(("pump", 1),), finish_by=150) for n in range(3))
    problem = SchedulingProblem(Network(tasks), 0, DAY, gear=(Gear("pump", "Pump", 1, "p.yaml:9"),))
    assert _shown(problem) == (
        "p.yaml:9: t0, t1 and t2 need 3 h of 1 Pump between 0 min and 2 h 30 min after the start, but 1 Pump can give "
        "2 h 30 min in that time; 30 min short; find 30 min more: more of it, less work, or a later date"
    )


def _planted(problem: SchedulingProblem, schedule: Schedule, seed: int) -> SchedulingProblem:
    """Take away all room that a schedule does not use, here and there."""
    draw = random.Random(seed)
    placed = {placement.task: placement for placement in schedule.placements}

    def tight(one: Task) -> Task:
        stands = placed[one.id]
        return replace(
            one,
            not_before=stands.start if draw.random() < 0.3 else one.not_before,
            finish_by=stands.finish if draw.random() < 0.5 else one.finish_by,
        )

    def trimmed(available: tuple[Interval, ...], used: list[Interval]) -> tuple[Interval, ...]:
        inside = [[piece for piece in used if piece.overlaps(own)] for own in available]
        return tuple(Interval(min(p.start for p in own), max(p.finish for p in own)) for own in inside if own)

    network = problem.network
    links = tuple(
        replace(one, max_gap_min=_between(one, placed))
        if draw.random() < 0.3 and one.min_gap_min is not None
        else one
        for one in network.links
    )
    at_work: dict[str, list[Interval]] = {}
    for stands in schedule.placements:
        for name in (*stands.people, *stands.vehicles):
            at_work.setdefault(name, []).extend(stands.segments)
    return replace(
        problem,
        network=replace(network, tasks=tuple(map(tight, network.tasks)), links=links),
        people=tuple(
            replace(p, available=trimmed(p.available, at_work.get(p.id, []))) for p in problem.people
        ),
        vehicles=tuple(
            replace(v, available=trimmed(v.available, at_work.get(v.id, []))) for v in problem.vehicles
        ),
    )


def _between(one: Link, placed: dict[str, Placement]) -> int:
    before, after = placed[one.before], placed[one.after]
    begin = before.finish if one.relation.from_finish else before.start
    return (after.finish if one.relation.to_finish else after.start) - begin


@pytest.mark.parametrize("seed", range(12))
def test_nothing_is_said_of_a_problem_that_has_a_schedule(seed: int) -> None:
    """Whatever room is taken away around a schedule that stands, no check may call the rest impossible."""
    problem = move([40, 60, 90][seed % 3], 2 + seed % 3, seed)
    effort = Effort(0.1, engine="serial")
    meter = Meter(effort)
    desk = search(frame_of(model_of(problem)), effort, meter, first_only=True).desk
    assert desk is not None
    schedule = schedule_of(desk, (), Engine.SERIAL, meter)
    for number in range(4):
        tight = _planted(problem, schedule, 100 * seed + number)
        assert verify(tight, schedule) == ()
        assert check_all(tight) == ()
        assert check_capacity(model_of(tight)) == ()


def test_the_checks_know_every_relation() -> None:
    """A catch held to the release by each kind of greatest gap; the shortest that goes is not called impossible."""
    for relation, least in (
        (Relation.FINISHTOSTART, 60),
        (Relation.STARTTOSTART, 90),
        (Relation.FINISHTOFINISH, 80),
    ):
        tasks = (
            task("catch", 30, crew=Crew(1)),
            task("drive", 60, crew=Crew(1)),
            task("release", 20, crew=Crew(1)),
        )
        chain = (link("catch", "drive"), link("drive", "release"))
        for most, possible in ((least, True), (least - 1, False)):
            gap = replace(link("catch", "release", "FS", None, most), relation=relation)
            people = (Person("p", "Ann", (hours(0, 8, 20),)),)
            faults = check_all(SchedulingProblem(Network(tasks, (*chain, gap)), 0, DAY, people=people))
            assert (faults == ()) is possible
