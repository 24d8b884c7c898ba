"""What a task is where nothing more is said of it."""

from __future__ import annotations

from moveplan.estimate import exactly
from moveplan.network.task import Kind, Task, Timing


def test_a_task_of_which_nothing_more_is_said_is_plain_work() -> None:
    task = Task(id="lift", title="Lift", estimate=exactly(30, "min", "as told"))
    assert task.kind is Kind.WORK
    assert task.may_pause is False
    assert task.timing is Timing.EARLY
    assert task.margin_min == 0
    assert (task.not_before, task.finish_by, task.due, task.repeats, task.crew) == (None,) * 5
    assert (task.vehicles, task.gear, task.larger_crews, task.steps, task.cautions) == ((),) * 5
