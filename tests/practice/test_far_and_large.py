"""A long way is studied and not driven twice; so much water is mixed in batches that may wait overnight."""

from __future__ import annotations

from functools import cache

import pytest

from moveplan.network.task import Task
from moveplan.planfile import read_plan
from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from tests.practice.test_gao_rules import EXAMPLES

LARGE = "systems.display.new-tank.tank={length: 240 cm, width: 90 cm, height: 75 cm}"


@cache
def project(*changes: str, name: str = "house_move") -> Project:
    return project_of(read_plan(EXAMPLES / f"{name}.yaml", changes=changes))


def task(found: Project, task_id: str) -> Task:
    return next(one for one in found.network.tasks if one.id == task_id)


@pytest.mark.parametrize(("drive", "rehearsed"), [("85 min", True), ("95 min", False)])
def test_only_a_short_way_is_driven_beforehand(drive: str, rehearsed: bool) -> None:
    (home,) = (place.id for place in project().plan.places if place.id != project().plan.places[0].id)
    found = project(f"places.{home}.drive={{low: 60 min, likely: {drive}, high: 150 min}}")
    ids = {one.id for one in found.network.tasks}
    assert ("rehearse-drive" in ids, "study-drive" in ids) == (rehearsed, not rehearsed)
    before = {link.before for link in found.network.links if link.after == "brief-crew"}
    assert ("rehearse-drive" if rehearsed else "study-drive") in before


def test_much_water_is_mixed_in_batches_that_may_wait() -> None:
    little = task(project(), "mix-water")
    assert not little.may_pause
    much = task(project(LARGE, name="house_move_into_larger_tank"), "mix-water")
    assert much.may_pause
    assert any(step.startswith("Mix it in 9 batches of 192 l") for step in much.steps)
    assert much.estimate.likely == 9 * 20


def test_much_water_that_is_bought_is_fetched_in_several_trips() -> None:
    bought = "water-making={rate: 0 l/day}"
    little = task(project(bought), "fetch-water")
    assert (little.may_pause, len(little.steps)) == (False, 3)
    much = task(project(bought, LARGE, name="house_move_into_larger_tank"), "fetch-water")
    assert much.may_pause
    assert "Drive 5 times, with 20 cans at most: look up what the car may carry." in much.steps
