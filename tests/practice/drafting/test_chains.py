"""Longest chains of tasks, and what delays may add to them."""

from __future__ import annotations

import math

import pytest

from moveplan.estimate import Estimate, exactly
from moveplan.network.link import Link, Relation
from moveplan.network.task import Task
from moveplan.practice.drafting.chains import Chains, spread_beyond_likely_min


def estimate(low: float, likely: float, high: float) -> Estimate:
    """A duration with a spread."""
    return Estimate(low, likely, high, "min", "test")


def test_the_spread_of_one_duration_by_hand() -> None:
    # PERT: mean (30 + 4 * 60 + 150) / 6 = 70, variance (70 - 30) (150 - 70) / 7 = 457.1.
    wanted = 10 + 1.2816 * math.sqrt(40 * 80 / 7)
    assert spread_beyond_likely_min([estimate(30, 60, 150)]) == pytest.approx(wanted)


def test_variances_add_up_and_not_deviations() -> None:
    one, four = ([estimate(30, 60, 90)] * count for count in (1, 4))
    assert spread_beyond_likely_min(four) == pytest.approx(2 * spread_beyond_likely_min(one))


def test_sure_durations_have_no_spread() -> None:
    assert spread_beyond_likely_min([exactly(60.0, "min", "test")] * 3) == 0.0
    assert spread_beyond_likely_min([]) == 0.0


def test_the_longest_chain_follows_finish_to_start_links() -> None:
    tasks = {
        name: Task(id=name, title=name, estimate=exactly(minutes, "min", "test"))
        for name, minutes in (("a", 10), ("b", 20), ("c", 50), ("d", 5))
    }
    links = [
        Link("a", "b"),
        Link("b", "d"),
        Link("a", "c"),
        Link("c", "d"),
        Link("a", "d", Relation.STARTTOFINISH, None, 100),
    ]
    assert Chains(tasks, links).between("a", "d") == ["a", "c", "d"]
    assert Chains(tasks, links).between("b", "d") == ["b", "d"]
    known = Chains(tasks, links)
    assert [known.likely_min(first, "d") for first in ("b", "a", "b")] == [25, 65, 25]
