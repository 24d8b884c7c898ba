"""The length that is long enough: each sum done by hand."""

from __future__ import annotations

import pytest

from moveplan.network.graph import Network
from moveplan.network.horizon import safe_length_min
from tests.network.builders import link, task

A, B = task("a", 100), task("b", 70)


@pytest.mark.parametrize(
    ("name", "network", "most"),
    [
        ("nothing", Network(()), 0),
        ("one after the other", Network((A, B), (link("a", "b"),)), 100 + 70),
        ("a gap after a", Network((A, B), (link("a", "b", "FS", 30),)), 100 + 30 + 70),
        ("a gap from its start that ends within it", Network((A, B), (link("a", "b", "SS", 30),)), 100 + 70),
        ("a gap from its start that ends after it", Network((A, B), (link("a", "b", "SS", 130),)), 130 + 70),
        ("a gap to the finish of b", Network((A, B), (link("a", "b", "FF", 90),)), 100 + 90 - 70 + 70),
        ("b may lie long before a", Network((A, B), (link("a", "b", "FS", None, -300),)), 100 + 70 + 300),
        ("a greatest gap costs nothing", Network((A, B), (link("a", "b", "FS", 0, 50),)), 100 + 70),
        (
            "the latest date comes first",
            Network((task("a", 5, not_before=40), task("b", 5, not_before=900))),
            910,
        ),
        ("a date before the start is none", Network((task("a", 5, not_before=-40),)), 5),
    ],
)
def test_each_is_counted_once(name: str, network: Network, most: int) -> None:
    assert safe_length_min(network) == most


def test_dates_are_counted_from_the_start() -> None:
    assert safe_length_min(Network((task("a", 5, not_before=1000),)), start=400) == 605
