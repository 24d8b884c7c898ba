"""Salt water bought from a shop that mixes it: fetched, measured, warmed and billed; nothing is mixed at home."""

from __future__ import annotations

import pytest

from moveplan.practice.project import Project
from tests.examples import project

READY = "water-making.ready-mixed=yes"


def poured(found: Project, task: str) -> float:
    return sum(one.litres for one in found.ledger.pours if one.task == task and one.source == "tap")


@pytest.mark.parametrize("example", ["house_move", "small_tank_move"])
def test_all_of_the_water_of_the_day_is_fetched_and_none_is_mixed(example: str) -> None:
    found = project(example, READY)
    tasks = {task.id for task in found.network.tasks}
    assert {"fetch-salt-water", "trim-water", "hang-heaters", "warm-stored"} <= tasks
    assert not {"make-water", "fetch-water", "mix-water", "mix-water-1", "stand-water"} & tasks
    assert found.water is not None
    assert (found.water.purified.likely, found.water.salt.likely) == (0.0, 0.0)
    assert poured(found, "fetch-salt-water") == pytest.approx(found.water.mixed_l)


def test_as_much_is_fetched_as_would_be_mixed_where_no_unit_and_no_bin_travel_along() -> None:
    """What travels along lengthens the day, and with it what runs to the animals on arrival."""
    made, found = project("small_tank_move").water, project("small_tank_move", READY).water
    assert made is not None
    assert found is not None
    assert found.mixed_l == pytest.approx(made.mixed_l)


def test_the_first_change_comes_from_the_same_shop_and_is_warmed() -> None:
    found = project("house_move", READY)
    fetched = poured(found, "fetch-salt-afresh-change-display")
    change = [one for one in found.ledger.pours if one.task == "first-change-display"]
    fresh = [one for one in change if one.target.startswith("system:")]
    assert fetched > 0
    assert sum(one.litres for one in fresh) == pytest.approx(fetched)
    assert "warm-salt-afresh-change-display" in {task.id for task in found.network.tasks}
    assert found.afresh_salt_kg == 0.0


def test_it_is_on_the_order_list_and_nothing_else_about_salt_is() -> None:
    order = next(
        task for task in project("house_move", READY).network.tasks if task.id == "order-missing"
    ).steps
    assert any("of ready-mixed salt water" in step for step in order)
    assert not any("salt mix" in step for step in order)


def test_what_goes_into_a_tank_weeks_ahead_is_mixed_all_the_same() -> None:
    """A tank that ripens is filled and changed over weeks: its water is mixed as it is wanted."""
    tasks = {task.id for task in project("larger_tank_other_spot", READY).network.tasks}
    assert "fetch-salt-water" not in tasks
    assert any(task.startswith("mix-water") for task in tasks)


def test_a_move_whose_day_is_open_says_how_long_what_is_fetched_keeps() -> None:
    found = project("short_plan", READY, "dates={move-window: 2027-06-05 to 2027-06-13}")
    (link,) = (
        one for one in found.network.links if (one.before, one.after) == ("fetch-salt-water", "go-or-no-go")
    )
    assert link.max_gap_min is not None
    assert link.why.startswith("what a shop has mixed keeps for")
