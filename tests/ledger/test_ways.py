"""Every way that fits a keeper is composed, not only the one that is taken: each has an order, and its pours close."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from pathlib import Path

import pytest
import yaml

from moveplan.errors import CannotBeDoneError, OutOfRangeError
from moveplan.network.graph import Network
from moveplan.planfile import read_plan
from moveplan.planfile.editor import plan_schema
from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from moveplan.practice.ways.fitting import ways_of
from tests.ledger.keepers import keeper, known
from tests.ledger.test_keepers import NOW

DEFINITIONS = plan_schema()["$defs"]
SAMPLE = (2, 9, 18, 49, 57, 68, 114)
"""Keepers of several purposes and sizes: 49 and 57 carry animals on several trips of one vehicle, 68 has no rock, and
114 has a tank that stands long before the day."""


def composed(number: int, folder: Path) -> list[Project]:
    path = folder / f"keeper_{number}.yaml"
    path.write_text(yaml.safe_dump(known(keeper(number), DEFINITIONS), sort_keys=False), "utf-8")
    plan, found = read_plan(path, NOW), []
    for way in ways_of(plan):
        try:
            found.append(project_of(replace(plan, way=way.way), steps=False))
        except (CannotBeDoneError, OutOfRangeError):
            continue
    return found


def has_an_order(network: Network) -> bool:
    """Whether tasks can be taken one after the other, each once all that it waits for is through."""
    waits: dict[str, int] = defaultdict(int)
    after: dict[str, list[str]] = defaultdict(list)
    for link in network.links:
        if link.relation.value == "FINISHTOSTART" and (link.min_gap_min or 0) >= 0:
            waits[link.after] += 1
            after[link.before].append(link.after)
    ready = [task.id for task in network.tasks if not waits[task.id]]
    for task in ready:
        for other in after[task]:
            waits[other] -= 1
            if not waits[other]:
                ready.append(other)
    return len(ready) == len(network.tasks)


@pytest.mark.parametrize("number", SAMPLE)
def test_each_way_has_an_order_and_leaves_nothing_in_bins_and_cans(number: int, tmp_path: Path) -> None:
    projects = composed(number, tmp_path)
    assert projects
    for project in projects:
        if not project.impossible:
            assert has_an_order(project.network)
            assert _left(project) == {}


def _left(project: Project) -> dict[str, float]:
    """What is still in accounts that should be empty in the end. [l]."""
    times = {task.id: task.repeats.times for task in project.network.tasks if task.repeats}
    held: dict[str, float] = defaultdict(float)
    for pour in project.ledger.pours:
        litres = pour.litres * times.get(pour.task, 1)
        held[pour.source] -= litres
        held[pour.target] += litres
    return {
        name: round(litres, 2)
        for name, litres in held.items()
        if abs(litres) > 0.1 and not name.startswith(("system:", "tap", "drain"))
    }
