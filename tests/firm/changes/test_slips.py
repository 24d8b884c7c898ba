"""All jobs in the same runs: nothing where nothing is shared, and a slip that is followed where something is."""

from __future__ import annotations

from functools import cache

from moveplan.firm.changes.slips import slips_of
from moveplan.firm.placing.one_job import Laid
from moveplan.risk.prepared.compile import Prepared, prepare
from moveplan.risk.promise.judge import promise_of
from moveplan.risk.register.ranked import register_of
from moveplan.risk.runs.together import Between, joint
from tests.firm.firms import SETTINGS, rounds, six_jobs

RUNS = 1000


@cache
def ready() -> tuple[Prepared, ...]:
    _, after = rounds()
    return tuple(prepare(one.project, one.schedule, register_of(one.project, one.schedule)) for one in after)


def moving(one: Laid, *, last: bool) -> str:
    """Name the last or the first task of somebody on the moving day."""
    tagged = {task.id for task in one.project.network.tasks if task.day and task.crew}
    rows = [row for row in one.schedule.placements if row.task in tagged]
    return (max if last else min)(rows, key=lambda row: (row.finish if last else row.start, row.task)).task


def test_jobs_that_share_nothing_break_nothing_of_each_other() -> None:
    found = joint(ready(), (), RUNS, 1)
    assert [(one.by_others, one.after) for one in found] == [(0.0, ())] * len(ready())


def test_without_ties_each_job_keeps_what_it_keeps_alone() -> None:
    _, after = rounds()
    for laid, one in zip(after, joint(ready(), (), 2000, 1), strict=True):
        alone = promise_of(laid.project, laid.schedule, 1, runs=2000)
        assert alone is not None
        assert abs(one.kept - alone.kept) <= 4 * (one.error**2 + alone.error**2) ** 0.5 + 0.005, laid.job


def test_a_job_that_waits_for_another_without_room_breaks_by_it_and_by_no_other() -> None:
    """Ties the beginning of one moving day to the end of the one before, with no minute to spare."""
    _, after = rounds()
    order = sorted(range(len(after)), key=lambda at: after[at].sent.day)
    one, two = order[0], order[1]
    tail, head = moving(after[one], last=True), moving(after[two], last=False)
    ends = {row.task: row.finish for row in after[one].schedule.placements}[tail]
    begins = {row.task: row.start for row in after[two].schedule.placements}[head]
    found = joint(ready(), (Between((one, tail), (two, head), float(begins - ends)),), RUNS, 1)
    loose = joint(ready(), (), RUNS, 1)
    assert found[two].by_others > 0
    assert found[two].kept < loose[two].kept
    assert {at for at, _ in found[two].after} == {one}
    assert sum(chance for _, chance in found[two].after) == found[two].by_others
    for at in range(len(after)):
        if at != two:
            assert found[at] == loose[at]


def test_the_example_is_run_together_twice_with_the_same_result() -> None:
    outlook, (_, after) = six_jobs(), rounds()
    assert set(outlook.slips) == {one.job for one in outlook.placed}
    again = slips_of(outlook.firm, outlook.roads, outlook.plans, after, SETTINGS)
    assert again == outlook.slips
    assert all(one.by_others <= 1 - one.kept for one in again.values())
