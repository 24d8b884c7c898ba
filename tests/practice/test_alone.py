"""One person with a small tank has a plan in which nothing is heavier than one lifts; a large tank is refused."""

from __future__ import annotations

from functools import cache

import pytest

from moveplan.planfile import read_plan
from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from moveplan.quantities.tubs import ONE_PERSON_KG, TWO_PEOPLE_KG
from tests.practice.test_gao_rules import EXAMPLES

ALONE = ("people=none", "people.nora={name: Nora, drives: yes, lifts: yes, cares: yes}")


@cache
def project(*changes: str, name: str = "small_tank_move") -> Project:
    return project_of(read_plan(EXAMPLES / f"{name}.yaml", changes=(*ALONE, *changes)))


def test_nothing_that_is_carried_is_heavier_than_one_person_lifts() -> None:
    found = project()
    assert found.impossible == ()
    items = [item for load in found.loads for item in load.items]
    assert items
    assert [item.name for item in items if item.kg > ONE_PERSON_KG + 1e-6] == []


def test_no_tub_is_heavier_than_two_people_lift() -> None:
    for path in EXAMPLES.glob("*.yaml"):
        for load in project_of(read_plan(path)).loads:
            tubs = [item for item in load.items if " tub " in item.name]
            assert [item.name for item in tubs if item.kg > TWO_PEOPLE_KG + 1e-6] == []


def test_no_task_asks_for_two_people() -> None:
    crews = {task.id: task.crew.count for task in project().network.tasks if task.crew}
    assert [task for task, count in crews.items() if count > 1] == []


def test_the_plan_says_that_somebody_should_be_within_reach() -> None:
    assert "Nora moves it alone" in [problem.message for problem in project().findings]
    texts = [step for task in project().network.tasks for step in task.steps]
    assert not any("1 people" in text for text in texts)
    assert any("one person carries it" in text for text in texts)


@pytest.mark.parametrize(
    ("name", "changes"),
    [
        ("house_move", ()),
        ("small_tank_move", ("policy.lift_capacity=16 kg",)),
        ("small_tank_move", ("people.nora.lifts=no",)),
    ],
    ids=["a large tank", "somebody who may lift less", "somebody who may not lift"],
)
def test_what_is_too_heavy_for_one_is_refused(name: str, changes: tuple[str, ...]) -> None:
    messages = [problem.message for problem in project(*changes, name=name).impossible]
    assert any("two people who lift" in message for message in messages)
