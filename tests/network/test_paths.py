"""Small answers about a network that others build upon."""

from __future__ import annotations

import pytest

from moveplan.network.arcs import arcs_of
from moveplan.network.graph import Network
from moveplan.network.passes import distances_from
from tests.network.builders import check_network, link, plain, task


def test_distances_go_by_the_longest_way() -> None:
    graph = arcs_of(plain({"a": ("", 3), "b": ("a", 9), "c": ("a", 2), "d": ("bc", 4), "x": ("", 1)}))
    assert distances_from(graph, 0)[:4] == [0, 3, 3, 12]
    assert distances_from(graph, 1)[3] == 9
    assert distances_from(graph, 3)[0] is None


def test_a_task_is_found_by_its_id_and_by_no_other() -> None:
    network = plain({"a": ("", 3), "b": ("a", 9)})
    assert network.task("b") is network.tasks[1]
    with pytest.raises(KeyError):
        network.task("c")


def test_people_are_where_the_task_ends() -> None:
    assert task("drive", 30, place="old", place_after="new").ends_at == "new"
    assert task("drain", 30, place="old").ends_at == "old"
    assert task("drain", 30).ends_at == ""


def test_contradictions_name_gaps_that_are_not_plain() -> None:
    tasks = (task("fill", 60), task("warm", 120), task("stock", 30, finish_by=250))
    network = Network(tasks, (link("fill", "warm", "SS", 45), link("warm", "stock", "FS", 90)))
    (said,) = check_network(network)
    assert str(said) == (
        "from the start until stock is finished 4 h 45 min are needed; allowed are 4 h 10 min; 35 min short "
        "(tasks: fill (1 h), warm (2 h) and stock (30 min); gaps: the start of fill to the start of warm at least "
        "45 min and the finish of warm to the start of stock at least 1 h 30 min); "
        "allow 35 min more, or shorten one of these tasks by as much"
    )
