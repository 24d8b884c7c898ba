from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.outputs.figures.layers import layered, tracks_of

LINKS = st.sets(st.tuples(st.integers(1, 14), st.integers(1, 14)), max_size=40)


def reach(links: set[tuple[int, int]]) -> set[tuple[int, int]]:
    """All pairs joined by a path, by Warshall's rule (1962), J. ACM 9(1), 11-12."""
    found = set(links)
    for through in range(1, 15):
        found |= {(a, d) for a, b in found if b == through for c, d in found if c == through}
    return found


@settings(max_examples=60, deadline=None)
@given(LINKS)
def test_layers_and_the_fewest_links_with_the_same_paths(links: set[tuple[int, int]]) -> None:
    forward = {(one, other) for one, other in links if one < other}
    found = layered(range(1, 15), sorted(links), frozenset(), 4)
    at = {number: level for level, row in enumerate(found.rows) for number in row}
    assert sorted(at) == list(range(1, 15))
    assert all(at[one] < at[other] for one, other in forward)
    assert all(1 <= len(row) <= 4 for row in found.rows)
    kept = set(found.links)
    assert kept <= forward
    assert reach(kept) == reach(forward)
    assert all(reach(kept - {link}) != reach(forward) for link in kept)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 20), st.integers(1, 6)), max_size=20))
def test_tracks_that_are_used_at_once_differ(found: list[tuple[int, int]]) -> None:
    spans = sorted((first, first + length) for first, length in found)
    tracks = tracks_of(spans)
    for at, (first, last) in enumerate(spans):
        for other in range(at):
            if spans[other][1] >= first and spans[other][0] <= last:
                assert tracks[at] != tracks[other]


def test_deciding_tasks_stand_first_and_wide_layers_are_shared_out_evenly() -> None:
    found = layered(range(1, 8), (), frozenset({6}), 4)
    assert found.rows == ((6, 1, 2, 3), (4, 5, 7))
