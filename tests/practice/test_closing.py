"""What closes a day: at once after a short one, the morning after a whole one; never late at night."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from moveplan.network.link import Relation
from moveplan.plan.move import Plan
from moveplan.planfile import read_plan
from moveplan.practice.compose import project_of
from moveplan.practice.phases.after import close
from moveplan.practice.project import Project

EXAMPLES = Path(__file__).parents[2] / "examples"


def plan(name: str) -> Plan:
    return read_plan(EXAMPLES / f"{name}.yaml")


@cache
def project(name: str) -> Project:
    return project_of(plan(name), steps=False)


def waits(found: Project, after: str) -> dict[tuple[str, Relation], int | None]:
    links = (link for link in found.network.links if link.after == after)
    return {(link.before, link.relation): link.min_gap_min for link in links}


def test_a_short_day_is_closed_at_once() -> None:
    found = project("house_move_with_gap")
    watched = "watch-evening-display", Relation.FINISHTOSTART
    for task in ("return-vehicle-van-out", "clean-old-room"):
        assert waits(found, task)[watched] == 0
        assert not any(before.startswith(close.LOOKS) for before, _ in waits(found, task))


def test_after_a_whole_day_it_waits_for_the_morning_however_early_that_day_ends() -> None:
    for task in ("clean-old-room", "return-vehicle-van"):
        found = waits(project("house_move"), task)
        assert found["watch-evening-display", Relation.FINISHTOSTART] == close.NIGHT_MIN
        assert found["first-look-display", Relation.FINISHTOSTART] == 0


def test_a_slow_crew_has_a_whole_day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(close, "WHOLE_DAY_MIN", 5 * 60)
    slow = project_of(plan("house_move_with_gap"), steps=False)
    looks = next(task for task in slow.network.tasks if task.id == "look-holding-display")
    assert looks.repeats is not None
    found = waits(slow, "return-vehicle-van-out")
    assert found["look-holding-display", Relation.STARTTOSTART] == looks.minutes


def test_nothing_but_the_way_home_waits_for_the_last_of_the_daily_looks(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The old room is cleaned and its keys go back in the days after the move, however long the animals wait."""
    monkeypatch.setattr(close, "WHOLE_DAY_MIN", 0)
    slow = project_of(plan("house_move_with_gap"), steps=False)
    after = {
        link.after
        for link in slow.network.links
        if link.before == "look-holding-display" and link.relation is Relation.FINISHTOSTART
    }
    assert after == {"go-or-no-go-in"}
