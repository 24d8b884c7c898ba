"""Where the work can hurt somebody the task says so, and whose word decides."""

from __future__ import annotations

import re

import pytest

from moveplan.practice.drafting.cautions import applying, cautions, cautions_of
from moveplan.science.animals.kind_names import kind_named
from moveplan.science.animals.livestock import ContainerRule, kinds
from tests.practice.drafting.test_wording import every_plan, project

NEEDED = {
    "tank-off": {"lifting", "glass"},
    "load-tank": {"lifting", "glass", "vehicle"},
    "place-tank": {"lifting", "glass"},
    "heaters-off": {"electricity"},
    "start-equipment": {"electricity"},
    "check-new-power": {"electricity"},
    "check-new-floor": {"floor"},
    "drive-": {"vehicle"},
    "drain-tank": {"release"},
}
"""Common practice, no source: what can hurt at these tasks."""


def test_every_caution_has_words_and_a_source() -> None:
    assert len(cautions()) >= 8
    for name, caution in cautions().items():
        assert caution.id == name
        assert len(caution.text.split()) > 8
        assert caution.source
        assert caution.text.endswith(".")


def test_local_codes_and_licensed_practice_have_the_last_word() -> None:
    texts = {name: caution.text.lower() for name, caution in cautions().items()}
    for name, word in (("electricity", "licensed"), ("floor", "engineer"), ("vehicle", "plate")):
        assert word in texts[name], name


@every_plan
def test_every_caution_that_a_task_names_is_in_the_table_and_listed(name: str) -> None:
    found = project(name)
    named = {caution for task in found.network.tasks for caution in task.cautions}
    assert named <= set(cautions())
    assert [one.id for one in found.cautions] == [one for one in cautions() if one in named]


@pytest.mark.parametrize(("task", "wanted"), NEEDED.items(), ids=NEEDED.keys())
@pytest.mark.parametrize("name", ["tests", "house_move", "short_plan"])
def test_dangerous_work_says_so(name: str, task: str, wanted: set[str]) -> None:
    tasks = [one for one in project(name).network.tasks if one.id.startswith(task)]
    assert tasks
    for one in tasks:
        assert wanted <= set(one.cautions), one.id


@every_plan
def test_a_danger_that_comes_with_an_animal_is_told_only_where_the_animal_is(name: str) -> None:
    found = project(name)
    there = {kinds()[one.kind] for one in found.plan.livestock}
    named = {caution for task in found.network.tasks for caution in task.cautions}
    assert ("zoanthids" in named) == any(kind.group == "zoanthid" for kind in there)
    hurts = {ContainerRule.SPINES, ContainerRule.STINGS}
    assert ("stings" in named) == any(hurts & set(kind.container) for kind in there)


@pytest.mark.parametrize(
    ("kind", "told"),
    [
        ("zoanthid", ("glass", "zoanthids")),
        ("lionfish", ("glass", "stings")),
        ("hammer coral", ("glass", "stings")),
        ("clownfish", ("glass",)),
    ],
)
def test_each_danger_has_its_animals(kind: str, told: tuple[str, ...]) -> None:
    assert applying(("glass", "zoanthids", "stings"), (kind_named(kind),)) == told


def test_cautions_of_no_task_are_none() -> None:
    assert cautions_of(()) == ()


def test_no_word_promises_safety() -> None:
    for caution in cautions().values():
        assert not re.search(r"\b(perfectly|completely|always) safe\b", caution.text)
