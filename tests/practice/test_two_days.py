"""A way with two moving days, weeks apart: both are asked for, and each is made ready in its own week."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from moveplan.network.link import Link
from moveplan.network.task import Kind, Task
from moveplan.planfile import read_plan
from moveplan.practice.compose import project_of
from moveplan.practice.phases.before.gear import OWN_WEEK_MIN
from moveplan.practice.project import Project

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def project(name: str = "house_move_with_gap") -> Project:
    return project_of(read_plan(EXAMPLES / f"{name}.yaml"))


def task(name: str, of: str = "house_move_with_gap") -> Task:
    return project(of).network.task(name)


def link(before: str, after: str) -> Link:
    (found,) = (one for one in project().network.links if (one.before, one.after) == (before, after))
    return found


def test_everybody_is_asked_for_both_days() -> None:
    assert any(
        "yes to Saturday 8 May 2027 and Saturday 19 June 2027 " in step for step in task("agree-plan").steps
    )


@pytest.mark.parametrize(
    "what", ["wash-containers", "print-labels", "test-air", "pack-kit", "rinse-sand-display"]
)
def test_gear_is_made_ready_again_in_the_week_of_the_second_day(what: str) -> None:
    assert link(f"{what}-in", "go-or-no-go-in").max_gap_min == OWN_WEEK_MIN


@pytest.mark.parametrize(
    ("what", "most"),
    [
        ("brief-crew", 8 * 1440),
        ("pack-dry", 3 * 1440),
        ("clean-filters-display", 8 * 1440),
        ("set-out-display", 1800),
    ],
)
def test_what_belongs_to_the_week_before_the_second_day_stays_in_it(what: str, most: int) -> None:
    assert link(f"{what}-in", "go-or-no-go-in").max_gap_min == most


def test_labels_and_washing_of_the_second_day_are_for_its_own_containers() -> None:
    (labels, *_) = task("print-labels-in").steps
    assert "T4–T11: old water" in labels
    assert "M1" not in labels, "the bins are full of its water then"
    assert "T4" not in task("print-labels").steps[0]


def test_sand_is_ordered_and_rinsed_for_the_tank_that_gets_it() -> None:
    assert any("14 kg of new sand" in step for step in task("order-missing").steps)
    assert task("rinse-sand-display-in").title == "Rinse the new sand for Display reef"


def test_go_asks_only_for_what_was_tested_and_signed() -> None:
    """A tank that animals wait in stands full for a day or more, and somebody signs that it is tight."""
    signed = task("leak-tested-display")
    assert (signed.title, signed.kind, signed.place) == (
        "Leak test of Holding tank passed",
        Kind.HOLD_POINT,
        "shed",
    )
    assert task("stand-full-display").minutes >= 1440
    assert link("empty-test-display", "fill-holding-display").min_gap_min == 0
    lines = " ".join(task("go-or-no-go").steps)
    assert "The leak test of Holding tank passed, and signed." in lines
    assert "leak test" not in " ".join(task("go-or-no-go-in").steps)


@pytest.mark.parametrize(
    ("leg", "way"),
    [("", "15 steps, 20 m; at Brook Yard"), ("-in", "0 steps, 8 m; at Larch Lane 2 steps, 10 m")],
)
def test_the_box_is_as_long_as_the_tank_that_is_carried(leg: str, way: str) -> None:
    (first, _, mass, *_) = task(f"rehearse-carry{leg}").steps
    assert "(90 cm)" in first
    assert way in first
    assert "39.4 kg" in mass


def test_a_holding_tank_that_stays_is_not_made_ready_for_carrying() -> None:
    tasks = {one.id for one in project().network.tasks}
    assert {"tank-off-display", "drain-tank-display", "clear-holding-display-in"} <= tasks
    assert not {"tank-off-display-in", "drain-tank-display-in"} & tasks
    (drain, *_) = task("clear-holding-display-in").steps
    assert drain.startswith("Drain what is left")


def test_what_stands_at_the_new_place_already_is_on_no_load() -> None:
    """The water of the first day was mixed where it is poured in: unit and heaters have hung there since."""
    loads = {load.vehicle: [item.name for item in load.items] for load in project().loads}
    assert "carton of the small pump" in loads["van-out"]
    assert "carton of spare heaters (2) and the small pump, with the water unit" in loads["van-in"]
    assert "comes along" not in " ".join(task("pack-kit").steps)
    assert "comes along, drained" in " ".join(task("pack-kit-in").steps)
    assert "check-water-unit-in" not in {one.id for one in project().network.tasks}


def test_of_a_new_tank_filled_ahead_no_spare_heater_is_left_to_load() -> None:
    names = [item.name for load in project("service_firm_office_tank").loads for item in load.items]
    assert not any("water unit" in name for name in names)
    assert sum("small pump" in name for name in names) == 1
