"""A network in layers: a task stands below everything it waits for, and only links that say something new are drawn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import networkx as nx


@dataclass(frozen=True, slots=True)
class Layers:
    """Tasks by number.

    Parameters
    ----------
    rows : tuple of tuple of int
        Layer after layer; a layer that is wider than a row takes several. [-]
    links : tuple of (int, int)
        From and to; what follows from others is left out. [-]
    """

    rows: tuple[tuple[int, ...], ...]
    links: tuple[tuple[int, int], ...]


def layered(
    numbers: Iterable[int], links: Iterable[tuple[int, int]], first: frozenset[int], width: int
) -> Layers:
    """Put tasks into layers.

    Parameters
    ----------
    numbers : iterable of int
        Numbers of the tasks, in order of start. [-]
    links : iterable of (int, int)
        What waits for what; a link that runs against the order of the numbers is left out. [-]
    first : frozenset of int
        Tasks that stand first in their row. [-]
    width : int
        Most tasks in a row. [-]

    Returns
    -------
    Layers
        Rows from top to bottom, and the links worth drawing. [-]

    References
    ----------
    Aho, A. V.; Garey, M. R.; Ullman, J. D. (1972), The transitive reduction of a directed graph, SIAM Journal on
    Computing 1(2), 131-137: of a graph without cycles there is one smallest graph with the same paths.

    Examples
    --------
    >>> layered((1, 2, 3, 4), ((1, 2), (1, 3), (2, 3), (3, 1)), frozenset({4}), 3)
    Layers(rows=((4, 1), (2,), (3,)), links=((1, 2), (2, 3)))
    """
    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(numbers)
    graph.add_edges_from((before, after) for before, after in links if before < after)
    layers = [
        sorted(layer, key=lambda at: (at not in first, at)) for layer in nx.topological_generations(graph)
    ]
    return Layers(
        tuple(row for layer in layers for row in _in_rows(layer, width)),
        tuple(sorted(nx.transitive_reduction(graph).edges)),
    )


def _in_rows(layer: Sequence[int], width: int) -> Iterable[tuple[int, ...]]:
    """Share a layer out over rows that are as even as can be."""
    count = -(-len(layer) // width)
    share, more = divmod(len(layer), count)
    at = 0
    for row in range(count):
        end = at + share + (row < more)
        yield tuple(layer[at:end])
        at = end


def tracks_of(spans: Iterable[tuple[int, int]]) -> tuple[int, ...]:
    """Give each span of rows a track beside the rows; spans that overlap have different ones.

    Parameters
    ----------
    spans : iterable of (int, int)
        First and last row, in order of the first. [-]

    Examples
    --------
    >>> tracks_of(((0, 3), (1, 2), (3, 5)))
    (0, 1, 1)
    """
    free_from: list[int] = []
    tracks = []
    for first, last in spans:
        track = next((at for at, free in enumerate(free_from) if free < first), len(free_from))
        free_from[track : track + 1] = [last]
        tracks.append(track)
    return tuple(tracks)
