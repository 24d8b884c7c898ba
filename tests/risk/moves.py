"""Plans with something put differently, scheduled by the quick engine."""

from __future__ import annotations

from pathlib import Path

from moveplan.planfile import read_plan
from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.solve import solve
from tests.examples import EXAMPLES


def own_tasks(folder: Path, text: str) -> tuple[Project, Schedule]:
    """A plan of own tasks from its text."""
    head = "title: Footbridge\npurpose: own-tasks\ntimezone: Europe/Dublin\nstart: 2027-03-01 08:00\n"
    return plan_of(folder, head + text)


def changed(folder: Path, name: str, old: str, new: str) -> tuple[Project, Schedule]:
    """An example with something put differently."""
    text = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    assert old in text
    return plan_of(folder, text.replace(old, new))


def plan_of(folder: Path, text: str) -> tuple[Project, Schedule]:
    """A plan from its text."""
    path = folder / "plan.yaml"
    path.write_text(text, encoding="utf-8")
    project = project_of(read_plan(path))
    return project, solve(project.scheduling, Effort(seconds=0.1, engine="serial"))
