"""The way of every animal, without a hole, and the greatest gap that its safe time makes."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from moveplan.estimate import Estimate, exactly
from moveplan.network.link import Link, Relation
from moveplan.network.task import Task
from moveplan.practice.compose import project_of
from moveplan.practice.stays import longest_chain, spread_beyond_likely_min
from tests.practice.test_wording import every_plan, project
from tests.quantities.plans import edited


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
    assert longest_chain(tasks, links, "a", "d") == ["a", "c", "d"]
    assert longest_chain(tasks, links, "b", "d") == ["b", "d"]


@every_plan
def test_every_way_is_without_a_hole(name: str) -> None:
    found = project(name)
    for route in found.routes:
        assert route.stops[0].since is None
        assert route.stops[-1].until is None
        for before, after in pairwise(route.stops):
            assert before.until == after.since


@every_plan
def test_every_unfiltered_stop_has_a_safe_time_and_every_tank_has_none(name: str) -> None:
    for route in project(name).routes:
        assert route.stops[0].safe is None
        assert route.stops[-1].safe is None
        for stop in route.stops:
            if stop.safe is not None:
                assert 0 < stop.safe.estimate.low <= stop.safe.estimate.high
        assert route.allowance_min >= 0


def test_the_greatest_gap_is_the_safe_time_less_the_allowance() -> None:
    found = project("tests")
    gaps = {
        (link.before, link.after): link.max_gap_min
        for link in found.network.links
        if link.relation is Relation.STARTTOFINISH
    }
    for route in found.routes:
        safe = next(stop.safe for stop in route.stops if stop.safe is not None)
        out = next(stop.since for stop in route.stops if stop.safe is not None)
        home = [stop.until for stop in route.stops if stop.safe is not None][-1]
        assert out is not None
        assert home is not None
        greatest = gaps[out.task, home.task]
        assert greatest is not None
        # Animals that go the same way share the shortest of their gaps.
        assert greatest <= int(safe.estimate.low) - route.allowance_min
        assert greatest > 0


def test_animals_that_cannot_last_make_the_plan_unsafe_and_are_named() -> None:
    plan = edited(
        ("water-making:", "policy: {longest_aerated: 3 h, longest_sealed_air: 3 h}\nwater-making:"),
    )
    messages = [str(problem) for problem in project_of(plan).unsafe]
    assert len(messages) >= 4
    assert messages[0].startswith("plan.yaml:")
    assert any("Clownfish would be " in message and "; policy ends it; " in message for message in messages)
