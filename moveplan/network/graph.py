"""A whole network, with the checks that make it one."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.network.link import Hold, Link
from moveplan.network.task import Task


@dataclass(frozen=True, slots=True)
class Network:
    """Tasks, links and gear held between tasks.

    Parameters
    ----------
    tasks : tuple of Task
        In the order in which people should read them.
    links : tuple of Link
        What waits for what.
    holds : tuple of Hold
        Gear in use from one task to another.
    milestones : tuple of (str, str)
        Name and task id: ``ready`` is when that task finishes and the move day may begin,
        ``settled`` when the last animal is home and safe.
    """

    tasks: tuple[Task, ...]
    links: tuple[Link, ...] = ()
    holds: tuple[Hold, ...] = ()
    milestones: tuple[tuple[str, str], ...] = ()

    def task(self, task_id: str) -> Task:
        """Find a task by its id; KeyError where there is none."""
        for task in self.tasks:
            if task.id == task_id:
                return task
        raise KeyError(task_id)
