"""The examples of the repository, composed and scheduled once in a process, whatever asks for them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from moveplan.pipeline import Settings, compose, schedule
from moveplan.plan.move import Plan
from moveplan.planfile import read_plan
from moveplan.practice.project import Project
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Schedule

EXAMPLES = Path(__file__).parents[1] / "examples"
NAMES = tuple(sorted(path.stem for path in EXAMPLES.glob("*.yaml")))


def plan(name: str, *changes: str) -> Plan:
    """What the keeper of an example told, with some keys set otherwise."""
    return read_plan(EXAMPLES / f"{name}.yaml", changes=changes)


@cache
def project(name: str, *changes: str) -> Project:
    """What there is to do in it."""
    return compose(plan(name, *changes))


@cache
def scheduled(name: str) -> tuple[Project, Schedule]:
    """An example on its day, scheduled by the quick engine."""
    return schedule(project(name), Settings(effort=Effort(seconds=0.1, engine="serial")))
