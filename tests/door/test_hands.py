"""What people were promised, each promise broken on purpose on a day worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.door.hands import people_kept
from moveplan.errors import Fault
from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.task import Crew, Kind, Task
from moveplan.practice.project import Project
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.schedule import Engine, Placement, Schedule, Status
from moveplan.times import Interval
from tests.quantities.plans import plan_of

DAY = {
    "no-way-back-reef": (0, 5, "ada"),
    "catch-fish-reef": (5, 300, "ada"),
    "strip-equipment-reef": (5, 300, "ben"),
    "meal-ada": (300, 330, "ada"),
    "meal-ben": (330, 360, "ben"),
    "fill-tank-reef": (360, 500, "ben"),
    "release-fish-reef": (330, 500, "ada"),
}
"""Two people on a day of 500 minutes, one after the other at table."""


def _kept(**changes: tuple[int, int, str] | None) -> tuple[Fault, ...]:
    base = plan_of()
    first, second = base.people[:2]
    people = (replace(first, id="ada", cares=True), replace(second, id="ben", cares=False))
    rows = {
        name: row
        for name, row in (DAY | {key.replace("_", "-"): row for key, row in changes.items()}).items()
        if row
    }
    tasks = tuple(
        Task(
            id=name,
            title=name,
            estimate=exactly(finish - start, "min", ""),
            kind=Kind.REST if name.startswith("meal") else Kind.WORK,
            crew=Crew(1),
            day="moving-day",
        )
        for name, (start, finish, _) in rows.items()
    )
    placed = tuple(
        Placement(name, start, finish, (Interval(start, finish),), (who,))
        for name, (start, finish, who) in rows.items()
    )
    network = Network(tasks)
    project = Project(replace(base, people=people), "same-day", network, SchedulingProblem(network, 0, 1000))
    return people_kept(project, Schedule(Status.FEASIBLE, Engine.SERIAL, placed))


def test_a_day_that_keeps_its_promises_passes() -> None:
    assert _kept() == ()


BROKEN: list[tuple[dict[str, tuple[int, int, str] | None], str]] = [
    ({"catch_fish_reef": (5, 300, "ben"), "strip_equipment_reef": (5, 300, "ada")}, "handles-no-animals"),
    ({"release_fish_reef": (360, 500, "ben"), "fill_tank_reef": (330, 500, "ada")}, "handles-no-animals"),
    ({"no_way_back_reef": (0, 5, "ben")}, "not-the-keepers"),
    ({"meal_ada": None, "release_fish_reef": (300, 500, "ada")}, "no-break"),
    ({"meal_ben": (300, 330, "ben")}, "all-rest"),
]

FAULTS = [fault for change, _ in BROKEN for fault in _kept(**change)]
"""Faults of every code of this checker."""


@pytest.mark.parametrize(("change", "fault"), BROKEN)
def test_each_broken_promise_is_found(change: dict[str, tuple[int, int, str] | None], fault: str) -> None:
    assert {one.code for one in _kept(**change)} == {fault}


def test_idle_time_that_is_long_enough_is_a_break() -> None:
    assert _kept(meal_ada=None) == ()
    assert {one.code for one in _kept(meal_ada=None, release_fish_reef=(310, 500, "ada"))} == {"no-break"}
