"""A day on which work is done sooner than planned, and one whose preparations nobody logged: the list goes on."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from moveplan import pipeline
from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.records import Accepted, Begun, Done, Entry, Met, Record
from moveplan.journal.state import state_of
from moveplan.network.task import Kind
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.outlook import Outlook
from moveplan.practice.compose import project_of
from moveplan.practice.under_way.story import Story, told
from tests.journal.replay import EXAMPLES, SETTINGS
from tests.practice.late_days import HASTY, Case, hold

POINT = "no-way-back-display"


TOLD = replace(SETTINGS, runs=500)
"""With runs, so that the times of the day are those that people are told. [-]"""
QUICK = ("record-morning-display", "corals-out-display", "rock-out-display")


@cache
def _built() -> tuple[Outlook, Snapshot]:
    outlook = pipeline.outlook_of(EXAMPLES / "house_move.yaml", TOLD)
    return outlook, snapshot_of_outlook(outlook)


def _gone_on(records: tuple[Record, ...], now: int) -> Outlook:
    _, snapshot = _built()
    every = (Accepted(at=snapshot.now, schedule=snapshot_data(snapshot)), *records)
    story = Story(
        state_of([Entry(number, record) for number, record in enumerate(every, start=1)]),
        snapshot,
        snapshot,
        now,
    )
    plan, _ = pipeline.begin(EXAMPLES / "house_move.yaml", TOLD)
    hung, again = pipeline.renew(project_of(told(plan, story)), story, TOLD)
    return pipeline.judge_again(hung, again, story, TOLD)


def _planned(task: str) -> tuple[int, int]:
    placed = _built()[0].schedule.of(task)
    return placed.start, placed.finish


@pytest.mark.parametrize("share", [0.3, 0.6, 0.9])
@pytest.mark.parametrize("example", ["house_move", "small_tank_move", "larger_tank_same_spot"])
def test_quick_work_leaves_a_list(example: str, share: float) -> None:
    hold(Case(example, share, 15, pace=HASTY))


@pytest.mark.parametrize("task", QUICK)
def test_a_task_begun_and_done_in_half_of_its_time_leaves_a_list(task: str) -> None:
    """Its block is as long as the work was, not as long as was told."""
    outlook, snapshot = _built()
    assert any(one.planned_min for one in outlook.project.network.tasks)
    (start, finish), (point, _) = _planned(task), _planned(POINT)
    quick = start + (finish - start) // 2
    before = [
        Done(at=one.finish, task=one.id)
        for one in snapshot.tasks
        if one.finish <= start and one.times == 1 and not one.alone
    ]
    at = max(quick, point)
    records = (Begun(at=start, task=task), Done(at=quick, task=task), Met(at=at, task=POINT, by="Ines"))
    after = _gone_on((*before, *records), at + 2)
    assert after.follow
    assert after.schedule.of(task).finish == quick


def test_behind_the_point_of_no_return_preparations_are_taken_as_done_when_they_were_planned() -> None:
    at, _ = _planned(POINT)
    outlook = _gone_on((Met(at=at, task=POINT, by="Ines", reason="all is here"),), at + 5)
    assert outlook.follow
    ahead = [
        task.id
        for task in _built()[0].project.network.tasks
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
