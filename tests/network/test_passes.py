from __future__ import annotations

import pytest

from moveplan.network.arcs import arcs_of
from moveplan.network.graph import Network
from moveplan.network.passes import PositiveCycleError, early_starts
from tests.network.builders import link, passes, task


def _early(network: Network) -> dict[str, int]:
    return {t.id: at for t, at in zip(network.tasks, early_starts(arcs_of(network)), strict=True)}


@pytest.mark.parametrize(
    ("relation", "gap", "starts"),
    [("FS", 5, 15), ("FS", -4, 6), ("SS", 5, 5), ("FF", 5, 8), ("SF", 9, 2), ("SF", 0, 0)],
)
def test_each_relation_counts_its_own_ends(relation: str, gap: int, starts: int) -> None:
    network = Network((task("a", 10), task("b", 7)), (link("a", "b", relation, gap),))
    assert _early(network) == {"a": 0, "b": starts}


def test_a_greatest_gap_moves_the_first_task_late() -> None:
    network = Network(
        (task("long", 100), task("a", 10), task("b", 10)),
        (link("long", "b"), link("a", "b", "FS", 0, 20)),
    )
    assert _early(network) == {"long": 0, "a": 70, "b": 100}


def test_no_least_gap_leaves_only_the_greatest() -> None:
    network = Network((task("a", 10, not_before=50), task("b", 10)), (link("a", "b", "SS", None, 5),))
    early, late, _ = passes(network)
    assert early == [50, 0]
    assert late == [50, 50]


def test_late_starts_keep_greatest_gaps_and_finish_by() -> None:
    network = Network(
        (task("a", 10), task("b", 10, finish_by=40), task("end", 100)),
        (link("a", "b", "FS", 0, 5),),
    )
    _, late, finish = passes(network)
    assert finish == 100
    assert late == [20, 30, 0]


def test_a_contradiction_is_handed_over_arc_by_arc() -> None:
    network = Network(
        (task("catch", 60), task("drive", 240), task("release", 90)),
        (link("catch", "drive"), link("drive", "release"), link("catch", "release", "SS", None, 200)),
    )
    with pytest.raises(PositiveCycleError) as caught:
        early_starts(arcs_of(network))
    assert sum(arc.weight for arc in caught.value.cycle) == 100
    heads = [arc.head for arc in caught.value.cycle]
    assert heads[-1] == caught.value.cycle[0].tail
    assert sorted(heads) == [0, 1, 2]


def test_an_empty_network_ends_at_once() -> None:
    assert passes(Network(())) == ([], [], 0)
