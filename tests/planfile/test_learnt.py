"""What an earlier move taught: how long work took there moves durations, and the plan says so."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from moveplan.errors import PlanFileError
from moveplan.planfile.reader import read_plan
from moveplan.practice.compose import project_of

EXAMPLE = Path("examples/house_move.yaml")


def _plan(folder: Path, content: str, more: str = "") -> Path:
    (folder / "learnt.json").write_text(content, encoding="utf-8")
    path = folder / "move.yaml"
    path.write_text(EXAMPLE.read_text(encoding="utf-8") + f"\nlearn: learnt.json\n{more}", encoding="utf-8")
    return path


def _learnt(**paces: float) -> str:
    rows = [
        {"task": "catch-fish-nano-timid", "planned_minutes": 60, "real_minutes": 120},
        {"task": "catch-fish-nano", "planned_minutes": 60, "real_minutes": 120},
        {"task": "drain-tank-nano", "planned_minutes": 30},
        {"task": "no-such-task", "planned_minutes": 30, "real_minutes": 300},
    ]
    return json.dumps({"format": 1, "tasks": rows, "policy": paces})


def test_each_kind_of_task_takes_as_much_longer_as_it_did_then(tmp_path: Path) -> None:
    usual = {task.id: task for task in project_of(read_plan(EXAMPLE)).network.tasks}
    plan = read_plan(_plan(tmp_path, _learnt()))
    slower = {task.id: task for task in project_of(plan).network.tasks}
    catch = slower["catch-fish-display"]
    # 120 measured minutes took 240; the general pace, one, counts as another 120: (240 + 120) / (120 + 120) = 1.5
    assert catch.estimate.basis.endswith("1.5 times as long, as this crew took before")
    assert catch.minutes == pytest.approx(1.5 * usual["catch-fish-display"].minutes, abs=5)
    others = [task.estimate.basis for name, task in slower.items() if not name.startswith("catch-fish")]
    assert not [basis for basis in others if "times as long" in basis]
    said = [one for one in plan.assumptions if one.key == "learn"]
    assert [one.value for one in said] == ["3 measured tasks of learnt.json"]


def test_what_the_plan_says_itself_comes_before_the_general_pace(tmp_path: Path) -> None:
    learnt = _learnt(**{"pace-moving-day": 1.4})
    taken = project_of(read_plan(_plan(tmp_path, learnt))).network.tasks
    own = project_of(read_plan(_plan(tmp_path, learnt, "policy: {pace-moving-day: 1}\n"))).network.tasks
    basis = {task.id: task.estimate.basis for task in taken}
    assert "1.4 times as long" in basis["unload-animals-van"]
    assert "times as long" not in {task.id: task.estimate.basis for task in own}["unload-animals-van"]


@pytest.mark.parametrize(
    "content",
    [
        "",
        "[]",
        "{}",
        '{"format": 2, "tasks": [], "policy": {}}',
        '{"format": 1, "tasks": [{"task": "a", "planned_minutes": 5, "real_minutes": -1}], "policy": {}}',
        '{"format": 1, "tasks": [], "policy": {"pace-moving-day": 99}}',
        "[" * 100_000,
    ],
)
def test_what_is_no_look_back_is_refused_with_what_writes_one(tmp_path: Path, content: str) -> None:
    with pytest.raises(PlanFileError, match=r"learn: this is not what look-back writes; write it with"):
        read_plan(_plan(tmp_path, content))


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    path = _plan(tmp_path, "")
    (tmp_path / "learnt.json").unlink()
    with pytest.raises(PlanFileError, match="there is no such file"):
        read_plan(path)


def test_what_was_planned_slower_already_is_not_unlearnt(tmp_path: Path) -> None:
    """A second move planned at 1.5 times the usual that took as long as planned teaches 1.5 times the usual again."""
    row = {"task": "catch-fish-reef", "planned_minutes": 1500, "usual_minutes": 1000, "real_minutes": 1500}
    again = json.dumps({"format": 1, "tasks": [row], "policy": {"pace-moving-day": 1.5}})
    tasks = {task.id: task for task in project_of(read_plan(_plan(tmp_path, again))).network.tasks}
    assert tasks["catch-fish-display"].estimate.basis.endswith("1.5 times as long, as this crew took before")
