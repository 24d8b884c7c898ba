"""Who is asked: people who lift for what is heavy, a driver and a vehicle for each drive."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from moveplan.network.task import Task
from moveplan.planfile import read_plan
from moveplan.practice.compose import project_of
from tests.examples import project
from tests.practice.test_boarding import boarded
from tests.quantities.plans import edited

EXAMPLES = Path(__file__).parents[2] / "examples"
BY_THE_KILO = ("rock-out", "rock-in", "sand-out", "sand-in", "rock-over", "dry-fit", "start-curing")


@cache
def tasks_of(name: str) -> dict[str, Task]:
    return {task.id: task for task in project_of(read_plan(EXAMPLES / f"{name}.yaml")).network.tasks}


@pytest.mark.parametrize("name", ["house_move", "house_move_into_larger_tank", "service_firm_office_tank"])
def test_rock_and_sand_are_for_people_who_lift(name: str) -> None:
    found = [task for task in tasks_of(name).values() if task.id.startswith(BY_THE_KILO)]
    heavy = [task for task in found if task.crew and not task.id.endswith("quarantine")]
    assert {task.id.rpartition("-")[0] for task in heavy} >= {"rock-out", "rock-in", "sand-in"}
    assert all(task.crew and ("lifts", task.crew.count) in task.crew.skills for task in heavy)


def test_a_tank_without_rock_needs_nobody_who_lifts_for_its_shelters() -> None:
    crew = tasks_of("service_firm_office_tank")["rock-in-quarantine"].crew
    assert crew is not None
    assert crew.skills == ()


@pytest.mark.parametrize("way", ["board-out", "board-back"])
def test_boarders_are_driven_like_every_load(way: str) -> None:
    """Two boxes of 18.3 l among them: somebody who drives, two pairs of hands, a vehicle of the firm's own."""
    task = tasks_of("service_firm_office_tank")[f"{way}-tidewell"]
    assert task.crew is not None
    assert task.crew.count == 2
    assert dict(task.crew.skills).keys() == {"cares", "drives", "lifts"}
    assert task.vehicles == ("van-one",)
    assert any("in Long van one" in step and "carried by two" in step for step in task.steps)


def test_who_cares_and_who_drives_go_together_where_nobody_does_both() -> None:
    """And a van that is hired for the moving day is not there days before."""
    plan = edited(
        ("  new: {name: Vale Road", "  shop: {distance: 5 km}\n  new: {name: Vale Road"),
        ("people:\n", "boarding:\n  quay: {name: Quay shop, place: shop, volume: 300 l}\npeople:\n"),
        ("count: 10, size: 2 cm", "count: 10, size: 2 cm, boarded: quay"),
        ("name: Large van,", "name: Large van, hired: yes,"),
        ("mia: {name: Mia, drives: yes", "mia: {name: Mia, drives: no"),
        ("leo: {name: Leo, lifts: yes, cares: yes}", "leo: {name: Leo, lifts: yes, cares: no, drives: yes}"),
    )
    (task,) = (one for one in project_of(plan, steps=False).network.tasks if one.id == "board-out-quay")
    assert task.crew is not None
    assert (task.crew.count, set(dict(task.crew.skills))) == (2, {"cares", "drives"})
    assert task.vehicles == ()


def test_a_handful_of_snails_needs_one_who_drives() -> None:
    tasks = {task.id: task for task in boarded("cost: 4 per day").network.tasks}
    crew = tasks["board-out-quay"].crew
    assert crew is not None
    assert (crew.count, set(dict(crew.skills))) == (1, {"cares", "drives"})


ABOARD = tuple(f"livestock.{fish}.boarded=none" for fish in ("chromis", "anthias", "wrasses"))
"""Seven fish of the office reef go over with it, and are not boarded."""


@pytest.mark.parametrize(
    ("name", "changes", "hands", "low_min", "likely_min"),
    [("house_move", (), 1, 5, 5), ("service_firm_office_tank", ABOARD, 2, 5, 5)],
)
def test_a_trap_is_emptied_fish_by_fish(
    name: str, changes: tuple[str, ...], hands: int, low_min: int, likely_min: int
) -> None:
    """Two minutes and a minute and a half a fish, to the next five: two fish by one, seven by two side by side."""
    (task,) = (task for task in project(name, *changes).network.tasks if task.id == "empty-trap-display")
    assert task.crew is not None
    assert task.crew.count == hands
    assert (task.estimate.low, task.estimate.likely) == (low_min, likely_min)
