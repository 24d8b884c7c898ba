"""Short ways to write networks in tests."""

from __future__ import annotations

from collections.abc import Mapping

from moveplan.errors import Problem
from moveplan.estimate import exactly
from moveplan.network.arcs import arcs_of
from moveplan.network.checks import check_cycle, check_gaps, check_ids
from moveplan.network.floats import Floats, floats
from moveplan.network.graph import Network
from moveplan.network.link import Link, Relation
from moveplan.network.passes import passes
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


def float_table(network: Network) -> dict[str, Floats]:
    graph = arcs_of(network)
    return dict(zip((one.id for one in network.tasks), floats(graph, passes(graph)), strict=True))


def check_network(network: Network, start: int = 0) -> tuple[Problem, ...]:
    """All that can be said against a network without looking at people or calendars."""
    return check_ids(network) or check_gaps(network) or check_cycle(network, start=start)
