"""The independent check finds each kind of fault: a sound schedule is spoilt in one place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.errors import Fault
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
        task("w", 30),
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
            _stands("w", (0, 30)),
        ),
        640,
    )


def _with(placement: Placement) -> Schedule:
    sound = _sound()
    placements = tuple(placement if p.task == placement.task else p for p in sound.placements)
    return replace(sound, placements=placements, makespan_min=max(p.finish for p in placements))


def test_a_sound_schedule_has_no_fault() -> None:
    assert verify(_problem(), _sound()) == ()


STANDS_WRONG: tuple[tuple[Placement, Fault], ...] = (
    (
        _stands("b", (150, 210), people=("ann",)),
        Fault("no-time-to-drive", ("ann", "old", "new"), (30, 45), ("b", "a")),
    ),
    (_stands("b", (350, 410), people=("ann",)), Fault("finishes-too-late", values=(410, 400), tasks=("b",))),
    (_stands("b", (90, 150), people=("ann",)), Fault("starts-too-early", values=(90, 100), tasks=("b",))),
    (_stands("b", (166, 226), people=("ann",)), Fault("off-grid", values=(166, 5), tasks=("b",))),
    (_stands("b", (330, 390), people=("ann",)), Fault("too-long-after", values=(210, 200), tasks=("b", "a"))),
    (_stands("b", (145, 205), people=("ann",)), Fault("too-soon-after", values=(25, 30), tasks=("b", "a"))),
    (_stands("b", (165, 225), people=("bob",)), Fault("not-in-crew", ("ann",), tasks=("b",))),
    (_stands("b", (165, 220), people=("ann",)), Fault("lasts", values=(55, 60), tasks=("b",))),
    (_stands("b", (165, 195), (200, 230), people=("ann",)), Fault("pauses", values=(2,), tasks=("b",))),
    (
        _stands("a", (60, 120), people=("bob",), vans=("van",)),
        Fault("crew-lacks-skill", ("drives",), (0, 1), ("a",)),
    ),
    (_stands("a", (60, 120), people=("ann",)), Fault("wrong-vehicles", tasks=("a",))),
    (
        _stands("a", (270, 330), people=("ann",), vans=("van",)),
        Fault("outside-hours", ("van",), (270, 330), ("a",)),
    ),
    (_stands("c", (480, 540), people=("ann",)), Fault("outside-hours", ("ann",), (480, 540), ("c",))),
    (_stands("c", (200, 260), people=("ann",)), Fault("two-at-once", ("ann",), (200, 225), ("c", "b"))),
    (_stands("c", (600, 660), people=("ann", "bob")), Fault("crew-size", ("ann", "bob"), (2, 1), ("c",))),
    (_stands("c", (600, 660), people=("eve",)), Fault("crew-size", ("eve",), (1, 1), ("c",))),
    (_stands("c", (480, 500), (490, 530), people=("bob",)), Fault("stretches-overlap", tasks=("c",))),
    (
        replace(
            _stands("c", (480, 500), (600, 640), people=("ann", "bob")), segment_people=(("ann",), ("bob",))
        ),
        Fault("changes-hands", values=(2,), tasks=("c",)),
    ),
    (
        replace(_stands("c", (480, 500), (600, 640), people=("ann",)), segment_people=(("ann",),)),
        Fault("crew-unclear", values=(1, 2), tasks=("c",)),
    ),
    (
        replace(_stands("d", (0, 10), (110, 120), people=("bob",)), segment_people=(("bob",), ("ann",))),
        Fault("crew-unclear", values=(2, 2), tasks=("d",)),
    ),
    (
        replace(_stands("c", (600, 660), people=("bob",)), finish=650),
        Fault("stretches-do-not-span", values=(600, 650), tasks=("c",)),
    ),
    (
        _stands("c", (1400, 1460), people=("bob",)),
        Fault("outside-planned-time", values=(1400, 1460), tasks=("c",)),
    ),
    (
        _stands("d", (0, 10), (135, 145), people=("bob",)),
        Fault("time-of-care", values=(2, 35, 20), tasks=("d",)),
    ),
    (_stands("d", (0, 10), people=("bob",)), Fault("happens", values=(1, 2), tasks=("d",))),
    (_stands("d", (0, 10), (110, 125), people=("bob",)), Fault("lasts", values=(15, 10), tasks=("d",))),
    (_stands("w", (0, 30), people=("bob",)), Fault("needs-nobody", ("bob",), tasks=("w",))),
    (
        _stands("a", (1430, 1490), people=("ann",), vans=("van",)),
        Fault("not-on-one-day", ("d",), (1430, 1490), ("a",)),
    ),
    (
        _stands("a", (270, 330), people=("ann",), vans=("van",)),
        Fault("held-backwards", ("tubs",), (270, 225), ("b", "a")),
    ),
)
"""A sound schedule with one task placed otherwise, and a fault of it."""


@pytest.mark.parametrize(("spoilt", "fault"), STANDS_WRONG)
def test_each_fault_is_named(spoilt: Placement, fault: Fault) -> None:
    assert fault in verify(_problem(), _with(spoilt))


def test_gear_held_and_used_is_counted_together() -> None:
    problem = replace(_problem(), gear=(Gear("tubs", "Tubs", 1),))
    assert verify(problem, _sound()) == OF_THE_WHOLE[5:6]


def test_whoever_uses_too_much_gear_is_named() -> None:
    tasks = (task("a", 60, gear=(("pump", 1),)), task("b", 60, gear=(("pump", 1),)), task("c", 60))
    problem = SchedulingProblem(Network(tasks), 0, 1440, gear=(Gear("pump", "Pump", 1),))
    both = Schedule(
        Status.FEASIBLE,
        Engine.SERIAL,
        (_stands("a", (0, 60)), _stands("b", (30, 90)), _stands("c", (30, 90))),
        90,
    )
    assert verify(problem, both) == (Fault("not-enough-gear", ("pump",), (2, 30, 1), ("a", "b")),)


OF_THE_WHOLE = (
    Fault("not-every-task-once", values=(2, 5)),
    Fault("finish-claimed", values=(1, 640)),
    Fault("bound-claimed", ("finish",), (7, 1)),
    Fault("bound-claimed", ("finish",), (6, 5)),
    Fault("best-claimed", ("finish",), (6, 5)),
    Fault("not-enough-gear", ("tubs",), (2, 60, 1), ("a",)),
)
"""Further faults that the tests below find."""


def test_a_missing_task_and_false_claims_are_found() -> None:
    sound = _sound()
    short = replace(sound, placements=sound.placements[:2])
    assert verify(_problem(), short) == OF_THE_WHOLE[:1]
    false = replace(
        sound,
        status=Status.OPTIMAL,
        makespan_min=1,
        bound_min=7,
        aims=(Aim("finish", 5, 6, proven=False), Aim("pay", 8, 8, proven=True)),
    )
    assert verify(_problem(), false) == OF_THE_WHOLE[1:5]


def test_tied_tasks_must_share_a_day() -> None:
    tasks = (task("a", 60, day="d"), task("b", 60, day="d"))
    days = (Interval(0, 1440), Interval(1440, 2880))
    problem = SchedulingProblem(Network(tasks, (Link("a", "b"),)), 0, 2880, days)
    apart = Schedule(
        Status.FEASIBLE, Engine.SERIAL, (_stands("a", (0, 60)), _stands("b", (1440, 1500))), 1500
    )
    assert verify(problem, apart) == (Fault("not-on-one-day", ("d",), (0, 1500), ("a", "b")),)


def _driven(*pieces: tuple[str, int, int], to: str = "new") -> tuple[Fault, ...]:
    """Check a driver's day: ``go`` leaves the old place for another, ``on`` and ``off`` take no time at either end."""
    tasks = (
        task("off", 0, crew=Crew(1), place="new"),
        task("on", 0, crew=Crew(1), place="old"),
        task("go", 30, crew=Crew(1), place="old", place_after=to, vehicles=("van",)),
        task("work", 60, crew=Crew(1), place="new"),
    )
    at = {name: (begin, end) for name, begin, end in pieces}
    whole = (Interval(0, 1440),)
    problem = SchedulingProblem(
        Network(tasks), 0, 1440, (DAY,), (Person("ann", "Ann", whole, (), "old"),),
        (Vehicle("van", "Van", whole, "old"),), (), (("old", "new", 30), ("new", "dump", 20)),
    )  # fmt: skip
    placements = tuple(_stands(one.id, at[one.id], people=("ann",), vans=one.vehicles) for one in tasks)
    last = max(one.finish for one in placements)
    return verify(problem, Schedule(Status.FEASIBLE, Engine.SERIAL, placements, last))


def test_a_drive_ends_where_it_goes() -> None:
    day = (("on", 60, 60), ("go", 60, 90), ("off", 90, 90))
    assert _driven(*day, ("work", 90, 150)) == ()
    assert _driven(*day[:2], ("off", 110, 110), ("work", 110, 170), to="dump") == ()
    assert _driven(*day[:2], ("off", 110, 110), ("work", 105, 165), to="dump") == (
        Fault("no-time-to-drive", ("ann", "dump", "new"), (15, 20), ("work", "go")),
        Fault("two-at-once", ("ann",), (110, 165), ("off", "work")),
    )


def test_what_takes_no_time_is_taken_in_the_order_that_needs_no_drive() -> None:
    tasks = (
        task("arrive", 0, crew=Crew(1), place="new"),
        task("leave", 0, crew=Crew(1), place="old", place_after="new"),
    )
    ann = Person("ann", "Ann", (Interval(0, 1440),), (), "old")
    problem = SchedulingProblem(Network(tasks), 0, 1440, (DAY,), (ann,), drives=(("old", "new", 30),))
    placements = tuple(_stands(one.id, (0, 0), people=("ann",)) for one in tasks)
    assert verify(problem, Schedule(Status.FEASIBLE, Engine.SERIAL, placements)) == ()
