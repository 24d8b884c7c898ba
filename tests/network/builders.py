"""Short ways to write networks in tests."""

from __future__ import annotations

from collections.abc import Mapping

from moveplan.errors import Problem
from moveplan.estimate import exactly
from moveplan.network.arcs import arcs_of
from moveplan.network.checks import check_gaps, check_ids, explain
from moveplan.network.graph import Network
from moveplan.network.link import Link, Relation
from moveplan.network.passes import PositiveCycleError, early_starts, late_starts
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


def passes(network: Network) -> tuple[list[int], list[int], int]:
    """Early and late starts, the finish held where the early ones put it, and that finish."""
    graph = arcs_of(network)
    early = early_starts(graph)
    finish = max((start + span.least for start, span in zip(early, graph.spans, strict=True)), default=0)
    return early, late_starts(graph, finish), finish


def check_network(network: Network, start: int = 0) -> tuple[Problem, ...]:
    """All that can be said against a network without looking at people or calendars."""
    wrong = check_ids(network) or check_gaps(network)
    if wrong:
        return wrong
    graph = arcs_of(network, None, start)
    try:
        early_starts(graph)
    except PositiveCycleError as error:
        return (explain(graph, error.cycle),)
    return ()
