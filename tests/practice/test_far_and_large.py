"""A long way is studied and not driven twice; so much water is mixed in batches that may wait overnight."""

from __future__ import annotations

import pytest

from moveplan.network.task import Task
from moveplan.practice.project import Project
from tests import examples

LARGE = "systems.display.new-tank.tank={length: 240 cm, width: 90 cm, height: 75 cm}"


def project(*changes: str, name: str = "house_move") -> Project:
    return examples.project(name, *changes)


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


def test_much_water_is_warmed_and_mixed_in_batches_one_after_the_other() -> None:
    found = project(LARGE, name="house_move_into_larger_tank")
    batches = [one for one in found.network.tasks if one.id.startswith("mix-water-")]
    assert len(batches) == 6
    for number, batch in enumerate(batches, 1):
        assert f"mix-water-{number}" == batch.id
        assert any(f"With batch {number} there are" in step for step in batch.steps)
        assert task(found, f"warm-new-{number}").estimate.likely > 4 * 60
    filled = [
        sum(pour.litres for pour in found.ledger.pours if pour.task == f"fill-bin-{number}")
        for number in range(1, 7)
    ]
    assert sum(filled) == pytest.approx(1441, abs=1)
    assert max(filled) == pytest.approx(min(filled))


def test_much_water_that_is_bought_is_fetched_in_several_trips() -> None:
    bought = "water-making={rate: 0 l/day}"
    little = task(project(bought, name="small_tank_move"), "fetch-water")
    assert (little.may_pause, len(little.steps)) == (False, 3)
    much = task(project(bought, LARGE, name="house_move_into_larger_tank"), "fetch-water")
    assert much.may_pause
    assert "Drive 6 times, with 20 cans at most: look up what the car may carry." in much.steps
