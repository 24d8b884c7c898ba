"""Published worked examples of the critical path method, and networkx on random networks."""

from __future__ import annotations

import random

import networkx as nx
import pytest

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.scheduling.dates.critical import Times, times
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.problem import SchedulingProblem
from moveplan.scheduling.solve import solve
from tests.network.builders import passes, plain, task

Row = tuple[str, int, int, int, int, int | None]

# Hillier and Lieberman, "Introduction to Operations Research", 8th ed., chapter 22, table 22.1: construction
# project, weeks.  Predecessors and durations partly recalled; the book's answer of 44 weeks agrees.
# activity: predecessors, duration, early start, late start, total float, free float
CONSTRUCTION: dict[str, Row] = {
    "A": ("", 2, 0, 0, 0, 0), "B": ("A", 4, 2, 2, 0, 0), "C": ("B", 10, 6, 6, 0, 0),
    "D": ("C", 6, 16, 20, 4, 0), "E": ("C", 4, 16, 16, 0, 0), "F": ("E", 5, 20, 20, 0, 0),
    "G": ("D", 7, 22, 26, 4, 0), "H": ("EG", 9, 29, 33, 4, 0), "I": ("C", 7, 16, 18, 2, 2),
    "J": ("FI", 8, 25, 25, 0, 0), "K": ("J", 4, 33, 34, 1, 1), "L": ("J", 5, 33, 33, 0, 0),
    "M": ("H", 2, 38, 42, 4, 4), "N": ("KL", 6, 38, 38, 0, 0),
}  # fmt: skip

# Heizer and Render, "Operations Management", and Render, Stair and Hanna, "Quantitative Analysis for
# Management": installation of air-pollution control, weeks (recalled; 15 weeks).
INSTALLATION: dict[str, Row] = {
    "A": ("", 2, 0, 0, 0, 0), "B": ("", 3, 0, 1, 1, 0), "C": ("A", 2, 2, 2, 0, 0),
    "D": ("AB", 4, 3, 4, 1, 1), "E": ("C", 4, 4, 4, 0, 0), "F": ("C", 3, 4, 10, 6, 6),
    "G": ("DE", 5, 8, 8, 0, 0), "H": ("FG", 2, 13, 13, 0, 0),
}  # fmt: skip

# Anderson, Sweeney and Williams, "An Introduction to Management Science", PERT chapter: product development,
# weeks (recalled; 17 weeks).
DEVELOPMENT: dict[str, Row] = {
    "A": ("", 6, 0, 0, 0, None), "B": ("", 2, 0, 7, 7, None), "C": ("A", 3, 6, 10, 4, None),
    "D": ("A", 5, 6, 7, 1, None), "E": ("A", 3, 6, 6, 0, None),
    "F": ("C", 2, 9, 13, 4, None), "G": ("D", 3, 11, 12, 1, None),
    "H": ("BE", 4, 9, 9, 0, None), "I": ("H", 2, 13, 13, 0, None),
    "J": ("FGI", 2, 15, 15, 0, None),
}  # fmt: skip


def _times(network: Network, finish: int) -> dict[str, Times]:
    problem = SchedulingProblem(network, 0, finish)
    return times(problem, solve(problem, Effort(seconds=0.2, engine="serial")))


@pytest.mark.parametrize(
    ("table", "finish"), [(CONSTRUCTION, 44), (INSTALLATION, 15), (DEVELOPMENT, 17)], ids=["44", "15", "17"]
)
def test_published_examples_are_met_exactly(table: dict[str, Row], finish: int) -> None:
    network = plain({name: (row[0], row[1]) for name, row in table.items()})
    early, late, end = passes(network)
    rows = _times(network, finish)
    assert end == finish
    for at, (name, row) in enumerate(table.items()):
        assert (early[at], late[at]) == (row[2], row[3]), name
        assert (rows[name].early_start, rows[name].late_start) == (row[2], row[3]), name
        assert rows[name].total_float_min == row[4], name
        if row[5] is not None:
            assert rows[name].free_float_min == row[5], name


def _random_network(seed: int, size: int) -> Network:
    draw = random.Random(seed)
    links = [
        Link(f"t{a}", f"t{b}", min_gap_min=draw.randint(0, 9))
        for b in range(1, size)
        for a in sorted(draw.sample(range(max(0, b - 12), b), k=min(b, draw.randint(1, 3))))
    ]
    return Network(tuple(task(f"t{i}", draw.randint(0, 50)) for i in range(size)), tuple(links))


@pytest.mark.parametrize("seed", range(6))
def test_early_and_late_starts_and_floats_agree_with_networkx(seed: int) -> None:
    """Longest paths found by an independent library on the same arcs."""
    network = _random_network(seed, 120)
    early, late, finish = passes(network)
    rows = _times(network, finish)
    minutes = {t.id: t.minutes for t in network.tasks}
    graph: nx.MultiDiGraph[str] = nx.MultiDiGraph()
    graph.add_nodes_from(minutes)
    for name, lasts in minutes.items():
        graph.add_edge("begin", name, weight=0)
        graph.add_edge(name, "end", weight=lasts)
    for arc in network.links:
        graph.add_edge(arc.before, arc.after, weight=minutes[arc.before] + (arc.min_gap_min or 0))
    assert nx.dag_longest_path_length(graph, weight="weight") == finish
    negated: nx.MultiDiGraph[str] = nx.MultiDiGraph()
    negated.add_edges_from((a, b, {"weight": -w}) for a, b, w in graph.edges(data="weight", default=0))
    from_begin = nx.single_source_bellman_ford_path_length(negated, "begin")
    to_end = nx.single_source_bellman_ford_path_length(negated.reverse(), "end")
    for at, t in enumerate(network.tasks):
        assert early[at] == -from_begin[t.id]
        assert late[at] == finish + to_end[t.id]
        assert rows[t.id].total_float_min == finish + to_end[t.id] + from_begin[t.id]
