"""A plan of own tasks, key by key: gear counts, gaps of every sign, no duration at all, hours, pauses, dates."""

from __future__ import annotations

import json
import re
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from tests.cli.command import FOOTBRIDGE, Run
from tests.cli.contract import faults
from tests.verifier import verifier

HEAD = "title: Bench\npurpose: own-tasks\ntimezone: Europe/Dublin\nstart: 2027-03-01 08:00\n"


@pytest.fixture
def result(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Any:
    """Build a plan and read its ``result.json``."""
    monkeypatch.chdir(tmp_path)

    def _result(text: str, *, status: int = 0) -> dict[str, Any]:
        Path("plan.yaml").write_text(text, encoding="utf-8")
        ran = run("build", "plan.yaml", "--out", "out", "--now", "2027-02-01T08:00+00:00")
        assert (ran.status, ran.err) == (status, "")
        data: dict[str, Any] = json.loads(Path("out/result.json").read_text("utf-8"))
        assert faults(data) == []
        assert status or list(verifier.faults(data)) == []
        return data

    return _result


def minutes(data: dict[str, Any]) -> dict[str, tuple[int, int]]:
    """Start and finish of every task, in minutes from 08:00 on 1 March 2027."""
    zero = datetime.fromisoformat("2027-03-01T08:00:00+00:00")

    def since(moment: str) -> int:
        return int((datetime.fromisoformat(moment) - zero).total_seconds()) // 60

    return {task["id"]: (since(task["start"]), since(task["finish"])) for task in data["tasks"]}


def test_the_plan_of_the_manual(result: Any) -> None:
    data = result(FOOTBRIDGE)
    # The rail starts at 09:00 on 2 March (minute 1500) at the earliest and at most 4 h after the deck's start,
    # so the deck starts at minute 1260 at the earliest and ends a day later.
    assert minutes(data) == {"footing": (0, 180), "deck": (1260, 2700), "rail": (1500, 1590)}
    assert data["solver"] == {
        "engine": "serial",
        "status": "OPTIMAL",
        "makespan_minutes": 2700,
        "bound_minutes": 2700,
        "aims": [{"aim": "finish (min from the start)", "value": 2700, "bound": 2700, "proven": True}],
    }
    assert [task["title"] for task in data["tasks"]] == ["Pour the footing", "deck", "rail"]
    assert data["tasks"][0]["gear"] == {"pumps": 1}
    assert data["gear"] == [{"id": "pumps", "name": "Pumps", "count": 2, "to_get": 0}]
    assert data["links"] == [
        {
            "from": "footing",
            "to": "deck",
            "relation": "FINISHTOSTART",
            "min_gap_minutes": 0,
            "max_gap_minutes": None,
            "why": "plan file",
        },
        {
            "from": "deck",
            "to": "rail",
            "relation": "STARTTOSTART",
            "min_gap_minutes": 30,
            "max_gap_minutes": 240,
            "why": "plan file",
        },
    ]
    floats = {task["id"]: (task["total_float_minutes"], task["critical"]) for task in data["tasks"]}
    assert floats == {"footing": (1080, False), "deck": (0, True), "rail": (0, True)}
    assert not {"water", "cost", "risk", "milestones"} & set(data)


def test_a_plan_of_own_tasks_begins_at_its_start_whatever_the_clock_says(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("plan.yaml").write_text(FOOTBRIDGE, encoding="utf-8")
    ran = run("build", "plan.yaml", "--out", "out", "--now", "2030-01-01T00:00+00:00")
    assert ran.status == 0
    data = json.loads(Path("out/result.json").read_text("utf-8"))
    assert minutes(data)["footing"] == (0, 180)


def test_gear_that_is_there_twice_serves_two_at_a_time(result: Any) -> None:
    text = HEAD + "gear:\n  - {id: pumps, count: 2}\ntasks:\n"
    text += "".join(f"  - {{id: t{n}, duration: 30 min, gear: {{pumps: 1}}}}\n" for n in range(3))
    data = result(text)
    assert sorted(minutes(data).values()) == [(0, 30), (0, 30), (30, 60)]
    assert data["solver"]["makespan_minutes"] == 60


def test_gaps_may_be_negative_and_durations_nothing(result: Any) -> None:
    data = result(
        HEAD
        + "tasks:\n"
        + "  - {id: paint, duration: 2 h}\n"
        + "  - id: sand\n    duration: 90 min\n    after:\n"
        + "      - {task: paint, gap: -30 min}\n"
        + "  - id: look\n    duration: 0 h\n    after: [sand]\n"
        + "  - id: pack\n    duration: 10 min\n    after:\n"
        + "      - {task: look, relation: FINISHTOFINISH, gap: 1 h}\n"
    )
    assert minutes(data) == {"paint": (0, 120), "sand": (90, 180), "look": (180, 180), "pack": (230, 240)}


def test_start_to_finish_and_no_least_gap(result: Any) -> None:
    data = result(
        HEAD
        + "tasks:\n"
        + "  - {id: new, duration: 1 h, not-before: 2027-03-01 12:00}\n"
        + "  - id: old\n    duration: 20 min\n    after:\n"
        + "      - {task: new, relation: STARTTOFINISH, gap: none, at-most: 2 h}\n"
        + "  - id: shift\n    duration: 3 h\n    after:\n"
        + "      - {task: new, relation: STARTTOFINISH}\n"
    )
    found = minutes(data)
    assert found["new"] == (240, 300)
    assert found["old"] == (0, 20)  # nothing holds it back, and 2 h after the start of the other is later
    assert found["shift"] == (60, 240)  # may not finish before the other starts


def test_people_work_in_their_hours_and_may_pause(result: Any) -> None:
    data = result(
        HEAD
        + "people:\n  ines: {hours: {mon-fri: 09:00-12:00}}\n"
        + "tasks:\n"
        + "  - {id: whole, duration: 2 h, people: [ines]}\n"
        + "  - {id: split, duration: 4 h, people: [ines], after: [whole], may-pause: true}\n"
    )
    split = next(task for task in data["tasks"] if task["id"] == "split")
    assert minutes(data) == {"whole": (60, 180), "split": (180, 1680)}
    assert [(one["start"][5:16], one["finish"][5:16]) for one in split["segments"]] == [
        ("03-01T11:00", "03-01T12:00"),
        ("03-02T09:00", "03-02T12:00"),
    ]
    assert split["people"] == ["ines"]


def test_two_of_three_people_are_chosen(result: Any) -> None:
    data = result(
        HEAD
        + "people:\n  a: {hours: {mon-fri: 09:00-12:00}}\n  b: {hours: {mon-fri: 10:00-12:00}}\n"
        + "  c: {hours: {mon-fri: 09:00-17:00}}\n"
        + "tasks:\n  - {id: lift, duration: 2 h, people: 2}\n"
    )
    assert minutes(data) == {"lift": (60, 180)}
    assert data["tasks"][0]["people"] == ["a", "c"]


def test_the_clock_change_is_an_hour_of_its_own(result: Any) -> None:
    # Summer time begins in Dublin at 01:00 on Sunday 28 March 2027: 24 h of elapsed time end an hour later.
    text = HEAD.replace("2027-03-01 08:00", "2027-03-27 08:00") + "tasks:\n  - {id: rest, duration: 1 day}\n"
    data = result(text)
    assert data["tasks"][0]["finish"] == "2027-03-28T09:00:00+01:00"


def test_spread_and_dates(result: Any) -> None:
    data = result(
        HEAD
        + "tasks:\n"
        + "  - {id: wide, duration: {low: 2 h, likely: 3 h, high: 6 h}}\n"
        + "  - {id: exact, duration: 1 week}\n"
    )
    wide, exact = data["tasks"]
    assert (wide["estimate"]["low"], wide["estimate"]["likely"], wide["estimate"]["high"]) == (120, 180, 360)
    assert exact["minutes"] == 7 * 1440


IMPOSSIBLE = {
    "a circle of gaps": (
        "  - {id: a, duration: 2 h}\n"
        "  - id: b\n    duration: 1 h\n    after:\n      - {task: a, gap: 3 h}\n"
        "      - {task: a, relation: STARTTOSTART, at-most: 4 h}\n",
        ("a", "b"),
    ),
    "a date too early": ("  - {id: a, duration: 2 h, finish-by: 2027-03-01 09:00}\n", ("a",)),
    "more gear than there is": ("  - {id: a, duration: 2 h, gear: {pumps: 3}}\n", ("a", "Pumps")),
}


@pytest.mark.parametrize(("tasks", "named"), IMPOSSIBLE.values(), ids=IMPOSSIBLE.keys())
def test_what_is_impossible_is_proven_and_named(result: Any, tasks: str, named: tuple[str, ...]) -> None:
    data = result(HEAD + "gear: [{id: pumps, count: 2}]\ntasks:\n" + tasks, status=1)
    assert (data["status"], data["solver"]["status"]) == ("cannot-be-done", "INFEASIBLE")
    said = " ".join(f"{one['message']} {one.get('key', '')}" for one in data["problems"])
    assert set(named) <= set(re.findall(r"\w+", said)), said


def test_own_tasks_extend_a_move(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    example = Path(__file__).parents[2] / "examples" / "short_plan.yaml"
    text = example.read_text("utf-8") + "tasks:\n  - {id: paint, duration: 3 h, after: [agree-plan]}\n"
    Path("plan.yaml").write_text(text, encoding="utf-8")
    ran = run("build", "plan.yaml", "--out", "out", "--solver-seconds", "0.2", "--runs", "0")
    assert ran.status == 0, ran.out + ran.err
    data = json.loads(Path("out/result.json").read_text("utf-8"))
    assert faults(data) == []
    assert list(verifier.faults(data)) == []
    tasks = {task["id"]: task for task in data["tasks"]}
    assert tasks["paint"]["minutes"] == 180
    assert tasks["paint"]["start"] >= tasks["agree-plan"]["finish"]
