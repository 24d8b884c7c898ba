"""Short ways to write networks in tests."""

from __future__ import annotations

from collections.abc import Mapping

from moveplan.estimate import exactly
from moveplan.network.graph import Network
from moveplan.network.link import Link, Relation
from moveplan.network.task import Task


def task(name: str, minutes: int, **more: object) -> Task:
    return Task(id=name, title=name, estimate=exactly(minutes, "min", "test"), **more)  # type: ignore[arg-type]


def plain(table: Mapping[str, tuple[str, int]]) -> Network:
    """A network from activity -> (letters of predecessors, duration)."""
    links = [Link(before, after) for after, (befores, _) in table.items() for before in befores]
    return Network(tuple(task(name, minutes) for name, (_, minutes) in table.items()), tuple(links))


def link(
    before: str, after: str, relation: str = "FS", least: int | None = 0, most: int | None = None
) -> Link:
    kinds = {
        "FS": Relation.FINISHTOSTART,
        "SS": Relation.STARTTOSTART,
        "FF": Relation.FINISHTOFINISH,
        "SF": Relation.STARTTOFINISH,
    }
    return Link(before, after, kinds[relation], least, most)
