"""Rides, long days and animals that are alone, on moving days worked out by hand; places and people are invented."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.door.notes import people_told
from moveplan.errors import Fault
from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.task import Crew, Kind, Task
from moveplan.practice.attendance.alone import alone_of
from moveplan.practice.attendance.journeys import FAR_MIN, journeys_of
from moveplan.practice.attendance.long_days import long_days
from moveplan.practice.attendance.rides import rides_of
from moveplan.practice.attendance.told import notes_of
from moveplan.practice.project import Project
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine, Placement, Schedule, Status
from moveplan.times import Interval
from tests.examples import project as example
from tests.examples import scheduled

WAY = ("mill", "harbour")
Row = tuple[int, int, str, str, str]
"""Start, finish, place, place after, people."""
DAY: dict[str, Row] = {
    "strip-equipment-reef": (0, 120, "mill", "", "ines"),
    "load-animals-van": (120, 150, "mill", "", "ines tomas bea"),
    "drive-van": (150, 190, "mill", "harbour", "tomas"),
    "unload-animals-van": (190, 200, "harbour", "", "ines tomas bea"),
    "watch-evening-reef": (600, 700, "harbour", "", "bea"),
}


def made(seats: int = 3, hours: float = 12, **changes: Row) -> tuple[Project, Schedule]:
    """Make a day of three people and one van out of rows."""
    base = example("house_move").plan
    van = replace(base.vehicles[0], seats=seats)
    rows = DAY | {key.replace("_", "-"): row for key, row in changes.items()}
    tasks = tuple(
        Task(
            id=name,
            title=name,
            estimate=exactly(finish - start, "min", ""),
            kind=Kind.TRAVEL if after else Kind.WORK,
            place=place,
            place_after=after,
            crew=Crew(len(people.split())),
            vehicles=("van",) if after else (),
            day="moving-day",
        )
        for name, (start, finish, place, after, people) in rows.items()
    )
    placed = tuple(
        Placement(
            name, start, finish, (Interval(start, finish),), tuple(people.split()), ("van",) if after else ()
        )
        for name, (start, finish, _, after, people) in rows.items()
    )
    network = Network(tasks)
    plan = replace(base, vehicles=(van,), policy={"longest_day": hours})
    project = Project(plan, "same-day", network, SchedulingProblem(network, 0, 2000))
    return project, Schedule(Status.FEASIBLE, Engine.SERIAL, placed)


def faults(project: Project, schedule: Schedule, *, said: bool) -> tuple[Fault, ...]:
    """Ask the door, with the notes or without them."""
    notes = tuple(note for note, _ in notes_of(project, schedule)) if said else ()
    return people_told(replace(project, day_notes=notes), schedule)


def test_whoever_is_at_both_homes_rides_along() -> None:
    rides = rides_of(*made())
    assert [(one.person, one.drive, one.since, one.until) for one in rides] == [
        ("bea", "drive-van", 150, 190),
        ("ines", "drive-van", 150, 190),
    ]
    assert faults(*made(), said=False) == ()


def test_who_finds_no_seat_is_named_with_the_hours() -> None:
    project, schedule = made(seats=2)
    assert [(one.person, one.drive) for one in rides_of(project, schedule)] == [
        ("bea", "drive-van"),
        ("ines", ""),
    ]
    ((note, problem),) = notes_of(replace(project, loads=example("house_move").loads), schedule)
    assert note == ("no-seat", "ines", 150)
    assert problem.message == (
        "Ines Farrow finds no seat from Mill Terrace, first floor to Harbour Lane: free at 03:30, wanted there at 04:10"
    )
    assert problem.where.startswith("house_move.yaml:")


def test_a_seat_that_is_missing_and_not_told_does_not_pass_the_door() -> None:
    project, schedule = made(seats=2)
    assert [one.code for one in faults(project, schedule, said=False)] == ["too-many-aboard"]
    loaded = replace(project, loads=example("house_move").loads)
    assert faults(loaded, schedule, said=True) == ()


@pytest.mark.parametrize(("hours", "named"), [(9, ["bea"]), (12, []), (3, ["bea", "ines"])])
def test_a_day_is_long_by_the_policy_of_the_plan(hours: float, named: list[str]) -> None:
    project, schedule = made(hours=hours)
    assert [one.person for one in long_days(project, schedule)] == named
    assert {one.code for one in faults(project, schedule, said=False)} == (
        {"long-day-unsaid"} if named else set()
    )
    assert faults(project, schedule, said=True) == ()


def test_who_drives_after_a_long_day_is_told() -> None:
    late: Row = (800, 840, "mill", "harbour", "tomas")
    project, schedule = made(drive_van=late, unload_animals_van=(840, 850, "harbour", "", "tomas"), hours=11)
    assert [(one.person, one.drives) for one in long_days(project, schedule)] == [("tomas", True)]
    (problem,) = [problem for note, problem in notes_of(project, schedule) if note[0] == "long-day"]
    assert "Tomas Reddy still drives at the end of it, and should not" in problem.message
    assert "local law decides" in problem.remedy


def test_animals_that_wait_where_nobody_is_are_told() -> None:
    """Everybody leaves the old home for an hour while animals are in their boxes there."""
    project, found = scheduled("house_move")
    assert alone_of(project, found) == ()
    gone = _without_hands(project, found)
    (one, *_) = alone_of(project, gone)
    assert one.place == "mill"
    assert one.until - one.since >= 60
    assert "animals-alone-unsaid" in {fault.code for fault in faults(project, gone, said=False)}
    assert faults(project, gone, said=True) == ()
    messages = [problem.message for note, problem in notes_of(project, gone) if note[0] == "alone"]
    assert any(message.endswith("and nobody is there") for message in messages)


def _without_hands(project: Project, found: Schedule) -> Schedule:
    """Take everybody off every task from when the corals are out to the drive: nobody is where the animals wait."""
    out = next(one.finish for one in found.placements if one.task == "corals-out-display")
    gone = next(one.start for one in found.placements if one.task == "drive-van")
    day = {task.id for task in project.network.tasks if task.day}
    return replace(
        found,
        placements=tuple(
            replace(one, people=()) if one.task in day and out <= one.start <= gone else one
            for one in found.placements
        ),
    )


def test_long_ways_beside_the_move_are_told_and_one_that_is_not_does_not_pass_the_door() -> None:
    """The keys are fetched a day ahead and the old room is left a day later; on the day itself all ride along."""
    early: Row = (-1000, -980, "harbour", "", "ines")
    late: Row = (2000, 2100, "mill", "", "ines")
    project, schedule = made(keys_early=early, clean_old_room=late)
    tasks = tuple(
        replace(task, day="") if task.id in {"keys-early", "clean-old-room"} else task
        for task in project.network.tasks
    )

    def between(minutes: int) -> Project:
        network = Network(tasks)
        drives = (("mill", "harbour", minutes),)
        return replace(
            project, network=network, scheduling=replace(project.scheduling, network=network, drives=drives)
        )

    far, near = between(FAR_MIN), between(FAR_MIN - 1)
    assert [(one.person, one.arrives, one.destination) for one in journeys_of(far, schedule)] == [
        ("ines", 0, "mill"),
        ("ines", 2000, "mill"),
    ]
    assert journeys_of(near, schedule) == ()
    assert [one.code for one in faults(far, schedule, said=False)] == ["journey-unsaid"]
    assert faults(far, schedule, said=True) == faults(near, schedule, said=False) == ()
