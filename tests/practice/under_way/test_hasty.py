"""A day on which work is done sooner than planned, and one whose preparations nobody logged: the list goes on."""

from __future__ import annotations

import pytest

from moveplan import pipeline
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.records import Accepted, Begun, Done, Entry, Met, Record
from moveplan.journal.state import state_of
from moveplan.network.task import Kind
from moveplan.outputs.outlook import Outlook
from moveplan.practice.compose import project_of
from moveplan.practice.under_way.story import Story, told
from tests.journal.replay import EXAMPLES, SETTINGS, Replay, outlook_of
from tests.practice.late_days import HASTY, Case, hold

POINT = "no-way-back-display"


def _gone_on(records: tuple[Record, ...], now: int) -> Outlook:
    snapshot = Replay(outlook_of("house_move"), (1.0, 1.0), seed=1).snapshot
    every = (Accepted(at=snapshot.now, schedule=snapshot_data(snapshot)), *records)
    story = Story(
        state_of([Entry(number, record) for number, record in enumerate(every, start=1)]),
        snapshot,
        snapshot,
        now,
    )
    plan, _ = pipeline.begin(EXAMPLES / "house_move.yaml", SETTINGS)
    hung, again = pipeline.renew(project_of(told(plan, story)), story, SETTINGS)
    return pipeline.judge_again(hung, again, story, SETTINGS)


def _planned(task: str) -> tuple[int, int]:
    placed = outlook_of("house_move").schedule.of(task)
    return placed.start, placed.finish


@pytest.mark.parametrize("share", [0.3, 0.6, 0.9])
@pytest.mark.parametrize("example", ["house_move", "small_tank_move", "larger_tank_same_spot"])
def test_quick_work_leaves_a_list(example: str, share: float) -> None:
    hold(Case(example, share, 15, pace=HASTY))


def test_a_task_begun_and_done_in_half_of_its_time_leaves_a_list() -> None:
    start, finish = _planned("record-morning-display")
    quick = (start + finish) // 2
    records = (
        Begun(at=start, task="record-morning-display"),
        Done(at=quick, task="record-morning-display"),
        Met(at=quick, task=POINT, by="Ines", reason="all is here"),
    )
    outlook = _gone_on(records, quick + 5)
    assert outlook.follow
    assert outlook.schedule.of("record-morning-display").finish == quick


def test_behind_the_point_of_no_return_preparations_are_taken_as_done_when_they_were_planned() -> None:
    at, _ = _planned(POINT)
    outlook = _gone_on((Met(at=at, task=POINT, by="Ines", reason="all is here"),), at + 5)
    assert outlook.follow
    ahead = [
        task.id
        for task in outlook_of("house_move").project.network.tasks
        if not task.day and task.kind is not Kind.WAIT and _planned(task.id)[1] <= at
    ]
    assert len(ahead) > 30
    assert [task for task in ahead if outlook.schedule.of(task).finish > at] == []
    days = {
        task.id: outlook.schedule.of(task.id).start - _planned(task.id)[0]
        for task in outlook.project.network.tasks
        if task.day
    }
    assert max(days.values()) < 12 * 60
    assert any("taken as done when it was planned" in problem.message for problem in outlook.project.findings)
