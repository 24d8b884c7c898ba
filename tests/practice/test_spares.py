"""A tank that nothing lives in: emptied ahead, strapped to its stand, stood up when all else is home."""

from __future__ import annotations

import pytest

from moveplan.network.task import Kind
from moveplan.planfile import read_plan
from moveplan.practice.project import Project
from moveplan.quantities.course import moving_systems
from moveplan.quantities.leg.legs import plain_leg
from tests import examples
from tests.examples import EXAMPLES

FILLED = "livestock.gramma={name: Royal gramma, kind: gramma, count: 1, size: 6 cm, system: sick-bay}"
PLAN = "several_systems"


def project(*changes: str, name: str = PLAN) -> Project:
    return examples.project(name, *changes)


def ids(found: Project) -> set[str]:
    return {task.id for task in found.network.tasks}


def test_it_is_emptied_before_the_day_and_stood_up_after_the_animals() -> None:
    found = project()
    tasks = {task.id: task for task in found.network.tasks}
    assert {one for one in tasks if one.endswith("sick-bay")} == {
        "drain-spare-sick-bay",
        "stand-up-spare-sick-bay",
    }
    assert not tasks["drain-spare-sick-bay"].day
    assert not tasks["stand-up-spare-sick-bay"].day
    waits = {(link.before, link.after) for link in found.network.links}
    assert ("drain-spare-sick-bay", "go-or-no-go") in waits
    assert ("watch-evening-display", "stand-up-spare-sick-bay") in waits
    assert ("watch-evening-frags", "stand-up-spare-sick-bay") in waits
    assert ("stand-up-spare-sick-bay", "settle-accounts") in waits
    assert any(
        before.startswith("unload-tank") and after == "stand-up-spare-sick-bay" for before, after in waits
    )


def test_it_takes_the_floor_of_one_thing_and_no_water() -> None:
    items = [item for load in project().loads for item in load.items]
    named = [item for item in items if "Quarantine tank" in item.name]
    assert [(item.name, item.length_m, item.width_m) for item in named] == [
        ("stand of Quarantine tank with its empty tank", 0.6, 0.35)
    ]
    assert named[0].fragile
    assert named[0].kg > 12
    water = project().water
    with_animal = project(FILLED).water
    assert water is not None
    assert with_animal is not None
    assert water.new.likely < with_animal.new.likely


def test_the_plan_says_that_it_was_taken_for_empty() -> None:
    assumed = [one for one in project().assumptions if one.key == "systems.sick-bay"]
    assert [one.value for one in assumed] == ["Quarantine tank travels empty and dry"]


@pytest.mark.parametrize(
    "change",
    [FILLED, "systems.sick-bay.rock=3 kg", "systems.sick-bay.role=display"],
    ids=["an animal", "living rock", "a display"],
)
def test_a_tank_with_life_in_it_is_no_spare(change: str) -> None:
    plan = read_plan(EXAMPLES / f"{PLAN}.yaml", changes=(change,))
    assert plain_leg(plan).spares == ()
    assert "sick-bay" in [system.id for system in moving_systems(plan)]
    assert "heaters-off-sick-bay" in ids(project(change))


def test_a_wished_animal_does_not_live_in_it_yet() -> None:
    wish = "livestock.gramma={name: Royal gramma, kind: gramma, count: 1, size: 6 cm, system: sick-bay, wished: yes}"
    plan = read_plan(EXAMPLES / f"{PLAN}.yaml", changes=(wish,))
    assert [one.id for one in plain_leg(plan).spares] == ["sick-bay"]


def test_without_a_living_tank_an_empty_one_is_moved_in_full() -> None:
    plan = read_plan(
        EXAMPLES / f"{PLAN}.yaml",
        changes=("systems.display=none", "systems.frags=none", "livestock=none"),
    )
    assert [one.id for one in moving_systems(plan)] == ["sick-bay"]
    assert plain_leg(plan).spares == ()


def test_with_a_gap_it_is_emptied_once_and_stood_up_where_it_stays() -> None:
    spare = (
        "systems.sick-bay={name: Quarantine tank, role: quarantine, place: flat, moves-to: house, sump: 0 l, "
        "stand: 12 kg, rock: 0 kg, tank: {length: 60 cm, width: 35 cm, height: 35 cm}}"
    )
    found = project(spare, name="house_move_with_gap")
    mine = [task for task in found.network.tasks if "-spare-sick-bay" in task.id]
    assert [task.kind for task in mine] == [Kind.WORK, Kind.WORK]
    assert [task.place for task in mine] == ["flat", "house"]
