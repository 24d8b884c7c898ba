"""A firm's schedule accepted: jobs stand as agreed, what was done stays done, and only what has to move moves."""

from __future__ import annotations

from pathlib import Path

import pytest

from moveplan.errors import PlanFileError
from moveplan.firm.changes.accept import accepted
from moveplan.firm.dispatch import outlook_of
from moveplan.firm.file.reader import read_firm
from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.placing.one_job import Placed
from moveplan.journal.file.store import append
from moveplan.journal.records import Done, Out
from moveplan.network.task import State
from moveplan.stages.reading import Settings
from moveplan.times import to_local
from tests.firm.firms import SETTINGS, copied

GARDEN = "garden_flat"
ONE_JOB = ("  - {plan: jobs/late_call.yaml, day: 2027-05-08}\n", "")


def starts(one: Placed) -> dict[str, tuple[int, tuple[str, ...]]]:
    return {row.task: (row.start, row.people) for row in one.outlook.schedule.placements}


def agreed(folder: Path) -> tuple[Path, FirmOutlook]:
    path = copied(folder, ONE_JOB)
    outlook = outlook_of(path, SETTINGS)
    assert [one.job for one in accepted(outlook, ())] == [GARDEN]
    return path, outlook


def test_what_was_accepted_stands_to_the_minute(tmp_path: Path) -> None:
    path, before = agreed(tmp_path)
    after = outlook_of(path, SETTINGS)
    (was,), (now,) = before.placed, after.placed
    assert now.accepted
    assert not was.accepted
    assert now.sent == was.sent
    assert starts(now) == starts(was)


def test_what_was_done_stays_done_and_is_not_asked_of_anybody_again(tmp_path: Path) -> None:
    path, before = agreed(tmp_path)
    (was,) = before.placed
    first = min(
        (row for row in was.outlook.schedule.placements if row.people), key=lambda row: (row.start, row.task)
    )
    plan = before.plans[GARDEN]
    record = Done(at=first.finish, task=first.task)
    append(before.firm.job(GARDEN).plan, plan.id, lambda _: [(record, "")])
    (now,) = outlook_of(path, SETTINGS).placed
    assert now.outlook.states[first.task] is State.COMPLETED
    moved = {task for task, at in starts(now).items() if at != starts(was)[task]}
    assert moved <= {first.task}
    assert now.sent == was.sent


def test_the_month_is_built_again_on_the_moving_day_itself(tmp_path: Path) -> None:
    path, before = agreed(tmp_path)
    (was,) = before.placed
    job, plan = before.firm.job(GARDEN), before.plans[GARDEN]
    day = min(row.start for row in was.outlook.schedule.placements if row.task in moving(was))
    rows = [
        (Done(at=row.finish, task=row.task), "")
        for row in sorted(was.outlook.schedule.placements, key=lambda row: row.finish)
        if row.finish <= day
    ]
    append(job.plan, plan.id, lambda _: rows)
    there = Settings(to_local(day, before.firm.zone), SETTINGS.effort, SETTINGS.runs)
    (now,) = outlook_of(path, there).placed
    assert now.sent == was.sent
    tagged = moving(was)
    assert {task: at[1] for task, at in starts(now).items() if task in tagged} == {
        task: at[1] for task, at in starts(was).items() if task in tagged
    }


def moving(one: Placed) -> set[str]:
    return {task.id for task in one.outlook.project.network.tasks if task.day}


def test_who_falls_ill_by_the_journal_of_a_job_is_out_for_the_firm_and_the_day_stays(tmp_path: Path) -> None:
    path, before = agreed(tmp_path)
    (was,) = before.placed
    ill = next(one for one in was.sent.crew if not before.firm.worker(one).helper.lead)
    record = Out(at=before.firm.now + 60, person=ill, first=was.sent.day, last=was.sent.day)
    append(before.firm.job(GARDEN).plan, before.plans[GARDEN].id, lambda _: [(record, "")])
    after = outlook_of(path, SETTINGS)
    (now,) = after.placed
    assert now.sent.day == was.sent.day
    assert ill not in now.sent.crew
    assert [job for job, _, _ in after.calls] == [GARDEN]
    calm = {task for task in starts(was) if task not in moving(was) and ill not in starts(was)[task][1]}
    assert sum(starts(now)[task] != starts(was)[task] for task in calm) <= len(calm) // 10


def test_only_jobs_of_the_firm_that_have_a_day_are_accepted(tmp_path: Path) -> None:
    path = copied(tmp_path, ONE_JOB)
    outlook = outlook_of(path, SETTINGS)
    with pytest.raises(PlanFileError, match="garden_flat"):
        accepted(outlook, ["garden-flat"])
    assert not (tmp_path / "jobs" / "garden_flat.journal.jsonl").exists()


def test_a_promised_day_that_the_client_moved_is_said_with_both_lines(tmp_path: Path) -> None:
    from moveplan.firm.jobs import read_jobs
    from moveplan.journal.records import MovedDay

    path, before = agreed(tmp_path)
    (was,) = before.placed
    day = was.sent.day.replace(day=22)
    record = MovedDay(at=before.firm.now + 60, what="move-day", day=day)
    append(before.firm.job(GARDEN).plan, before.plans[GARDEN].id, lambda _: [(record, "")])
    with pytest.raises(PlanFileError, match="the firm wants 2027-05-08, its plan allows 2027-05-22"):
        read_jobs(read_firm(path))
