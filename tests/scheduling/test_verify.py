"""The independent check finds each kind of fault: a sound schedule is spoilt in one place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Hold, Link
from moveplan.network.task import Crew, Repeat
from moveplan.scheduling.problem import Gear, Person, SchedulingProblem, TiedDay, Vehicle
from moveplan.scheduling.schedule import Aim, Engine, Placement, Schedule, Status
from moveplan.scheduling.verify import verify
from moveplan.times import Interval
from tests.network.builders import link, task

DAY = Interval(0, 1440)


def _problem() -> SchedulingProblem:
    tasks = (
        task(
            "a",
            60,
            crew=Crew(1, (("drives", 1),)),
            place="old",
            vehicles=("van",),
            gear=(("tubs", 1),),
            day="d",
        ),
        task("b", 60, crew=Crew(1, (), ("ann",)), place="new", not_before=100, finish_by=400),
        task("c", 60, crew=Crew(1), may_pause=True),
        task("d", 10, crew=Crew(1), repeats=Repeat(100, 2, 20)),
    )
    return SchedulingProblem(
        Network(tasks, (link("a", "b", "FS", 30, 200),), (Hold("tubs", 1, "a", "b"),)),
        0,
        1440,
        (DAY,),
        (
            Person("ann", "Ann", (Interval(0, 500), Interval(600, 1440)), ("drives",), "old"),
            Person("bob", "Bob", (Interval(0, 1440),)),
        ),
        (Vehicle("van", "Van", (Interval(0, 300),), "old"),),
        (Gear("tubs", "Tubs", 2),),
        (("old", "new", 45),),
        (TiedDay("d", (DAY,)),),
        grid_min=5,
    )


def _stands(
    name: str, *pieces: tuple[int, int], people: tuple[str, ...] = (), vans: tuple[str, ...] = ()
) -> Placement:
    return Placement(
        name, pieces[0][0], pieces[-1][1], tuple(Interval(*piece) for piece in pieces), people, vans
    )


def _sound() -> Schedule:
    return Schedule(
        Status.FEASIBLE,
        Engine.SERIAL,
        (
            _stands("a", (60, 120), people=("ann",), vans=("van",)),
            _stands("b", (165, 225), people=("ann",)),
            _stands("c", (480, 500), (600, 640), people=("ann",)),
            _stands("d", (0, 10), (110, 120), people=("bob",)),
        ),
        640,
    )


def _with(placement: Placement) -> Schedule:
    sound = _sound()
    placements = tuple(placement if p.task == placement.task else p for p in sound.placements)
    return replace(sound, placements=placements, makespan_min=max(p.finish for p in placements))


def test_a_sound_schedule_has_no_fault() -> None:
    assert verify(_problem(), _sound()) == ()


@pytest.mark.parametrize(
    ("spoilt", "fault"),
    [
        (_stands("b", (150, 210), people=("ann",)), "ann: cannot be at b after a"),
        (_stands("b", (350, 410), people=("ann",)), "b: finishes after it must"),
        (_stands("b", (166, 226), people=("ann",)), "b: starts off the grid"),
        (_stands("b", (330, 390), people=("ann",)), "b: 210 min after a"),
        (_stands("b", (165, 225), people=("bob",)), "b: somebody named is missing"),
        (_stands("b", (165, 220), people=("ann",)), "b: lasts 55 min"),
        (_stands("b", (165, 195), (200, 230), people=("ann",)), "b: pauses but may not"),
        (_stands("a", (60, 120), people=("bob",), vans=("van",)), "a: its crew lacks a skill"),
        (_stands("a", (60, 120), people=("ann",)), "a: has the wrong vehicles"),
        (_stands("c", (480, 540), people=("ann",)), "ann: has no time for c"),
        (_stands("c", (200, 260), people=("ann",)), "ann: cannot be at c after b"),
        (_stands("d", (0, 10), (135, 145), people=("bob",)), "d: time 2 is too far from when it should be"),
        (_stands("d", (0, 10), people=("bob",)), "d: happens 1 times"),
        (_stands("c", (600, 660), people=("ann", "bob")), "c: has 2 people"),
    ],
)
def test_each_fault_is_named(spoilt: Placement, fault: str) -> None:
    assert fault in [problem.message for problem in verify(_problem(), _with(spoilt))]


def test_gear_held_and_used_is_counted_together() -> None:
    problem = replace(_problem(), gear=(Gear("tubs", "Tubs", 1),))
    assert [p.message for p in verify(problem, _sound())] == ["tubs: 2 in use at 60, there are 1"]


def test_a_missing_task_and_false_claims_are_found() -> None:
    sound = _sound()
    short = replace(sound, placements=sound.placements[:2])
    assert [p.message for p in verify(_problem(), short)] == [
        "the schedule does not hold every task once, in order"
    ]
    false = replace(sound, makespan_min=1, aims=(Aim("finish", 5, 6, proven=False),))
    assert [p.message for p in verify(_problem(), false)] == [
        "the finish is given as 1 min but is 640 min",
        "finish: the bound 6 does not fit the value 5",
    ]


def test_tied_tasks_must_share_a_day() -> None:
    tasks = (task("a", 60, day="d"), task("b", 60, day="d"))
    days = (Interval(0, 1440), Interval(1440, 2880))
    problem = SchedulingProblem(Network(tasks, (Link("a", "b"),)), 0, 2880, days)
    apart = Schedule(
        Status.FEASIBLE, Engine.SERIAL, (_stands("a", (0, 60)), _stands("b", (1440, 1500))), 1500
    )
    assert [p.message for p in verify(problem, apart)] == ["d: its tasks do not stand on one day"]
