"""Whole levels at once against plain lists, on networks of any shape."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.network import passes as module
from moveplan.network.arcs import arcs_of
from moveplan.network.graph import Network
from moveplan.network.levels import early_and_late, early_and_late_by_levels, longest, longest_by_levels
from moveplan.network.link import Link, Relation
from moveplan.network.passes import Passes, PositiveCycleError, passes
from tests.network.builders import task

Ties = list[tuple[int, int, int]]


@st.composite
def networks(draw: st.DrawFn) -> Network:
    """Links mostly forwards; now and then one backwards, a greatest gap, or a date."""
    size = draw(st.integers(1, 9))
    dates = st.one_of(st.none(), st.none(), st.integers(0, 9))
    tasks = tuple(task(f"t{n}", draw(st.integers(0, 9)), not_before=draw(dates)) for n in range(size))
    links = []
    for _ in range(draw(st.integers(0, 2 * size)) if size > 1 else 0):
        before, after = sorted(draw(st.permutations(range(size)))[:2])
        if draw(st.integers(0, 19)) == 0:
            before, after = after, before
        most = draw(st.one_of(st.none(), st.none(), st.none(), st.integers(5, 30)))
        links.append(
            Link(
                f"t{before}",
                f"t{after}",
                draw(st.sampled_from(list(Relation))),
                draw(st.integers(-5, 5)),
                most,
            )
        )
    return Network(tasks, tuple(links))


def _told(network: Network) -> Passes | str:
    try:
        return passes(arcs_of(network))
    except PositiveCycleError:
        return "contradiction"


@settings(max_examples=200, deadline=None)
@given(networks())
def test_levels_and_lists_agree(network: Network) -> None:
    with pytest.MonkeyPatch.context() as patch:
        by_lists = _told(network)
        patch.setattr(module, "LISTS_UP_TO", 0)
        assert _told(network) == by_lists


def test_a_ring_is_left_to_label_correcting() -> None:
    ends = np.array([0, 1, 2]), np.array([1, 2, 0]), np.array([3, -5, 1])
    assert longest(*ends, np.zeros(3, dtype=np.int64)) is None
    assert early_and_late(*ends, np.ones(3, dtype=np.int64)) is None


def test_tasks_without_links_start_at_once_and_last_until_the_end() -> None:
    none = np.array([], dtype=np.int64)
    found = early_and_late(none, none, none, np.array([4, 7, 0]))
    assert found is not None
    assert [list(part) for part in found] == [[0, 0, 0], [3, 0, 7]]


def test_lists_go_in_and_come_out_as_they_are() -> None:
    """Three tasks of 4, 7 and 2 min by hand: the third waits for both, 4 after the first and 7 after the second."""
    ends = [(0, 2, 4), (1, 2, 7)]
    assert early_and_late_by_levels(ends, [4, 7, 2]) == ([0, 0, 7], [3, 0, 7])
    assert longest_by_levels(ends, [0, 0, 9]) == [0, 0, 9]
    assert longest_by_levels(ends, [5, 0, 0]) == [5, 0, 9]
    assert longest_by_levels([], [3, 1]) == [3, 1]
