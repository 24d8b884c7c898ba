"""How far the firm's own work of a job is, by the job's journal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from moveplan.firm.values import Firm
from moveplan.journal.file.snapshot import PlannedTask
from moveplan.journal.now.standing import state_in
from moveplan.journal.state import TaskState
from moveplan.network.task import Kind, State
from moveplan.practice.under_way.story import Story

OVER = (State.COMPLETED, State.CANCELLED)
"""States of a task that is asked of nobody any more. [-]"""
States = Mapping[str, tuple[PlannedTask, TaskState]]
"""Tasks by id, as they were last agreed and as they went."""


def states_of(firm: Firm, story: Story) -> States:
    """Give the tasks of the firm's people, with how they went.

    Parameters
    ----------
    story : Story
        What has happened to the job.
    """
    return dict(_states(firm, story))


def _states(firm: Firm, story: Story) -> Iterator[tuple[str, tuple[PlannedTask, TaskState]]]:
    known = {one.id for one in firm.people}
    for task in story.agreed.tasks if story.agreed else ():
        if task.kind not in (Kind.REST, Kind.WAIT) and known & set(task.people):
            yield task.id, (task, state_in(story.state, task))


def open_tasks(states: States) -> int:
    """Count tasks that are neither done nor dropped."""
    return sum(one.state not in OVER for _, one in states.values())
