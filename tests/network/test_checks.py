from __future__ import annotations

from moveplan.network.graph import Network
from moveplan.network.link import Hold, Link
from tests.network.builders import check_network, link, task


def _said(network: Network) -> list[str]:
    return [str(problem) for problem in check_network(network)]


def test_a_sound_network_has_no_problem() -> None:
    assert _said(Network((task("a", 1), task("b", 1)), (Link("a", "b"),))) == []


def test_unknown_and_double_ids_are_named() -> None:
    network = Network(
        (task("a", 1, where="p.yaml:3"), task("a", 2, where="p.yaml:9")),
        (Link("a", "x", where="p.yaml:10"),),
        (Hold("tubs", 1, "a", "y"),),
        (("ready", "z"),),
    )
    assert _said(network) == [
        "p.yaml:9: the task a stands twice (first at p.yaml:3); rename one",
        'p.yaml:10: there is no task "x"; name one of the plan\'s tasks',
        'there is no task "y"; name one of the plan\'s tasks',
        'there is no task "z"; name one of the plan\'s tasks',
    ]


def test_a_greatest_gap_below_the_least_is_named() -> None:
    network = Network((task("a", 1), task("b", 1)), (link("a", "b", "FS", 90, 60),))
    assert _said(network) == [
        "b is to follow a by at least 1 h 30 min and at most 1 h; "
        "raise the greatest gap to 1 h 30 min or more, or lower the least"
    ]


def test_a_ring_is_named_task_by_task() -> None:
    two = Network(
        (task("deck", 5), task("rail", 5)), (Link("deck", "rail", where="p.yaml:4"), Link("rail", "deck"))
    )
    assert _said(two) == ["p.yaml:4: rail waits for deck and deck waits for rail; remove one of the two"]
    own = Network((task("deck", 5),), (Link("deck", "deck"),))
    assert _said(own) == ["deck waits for itself; remove that link"]
    three = Network(
        (task("a", 5), task("b", 5), task("c", 5)), (Link("a", "b"), Link("b", "c"), Link("c", "a"))
    )
    assert _said(three) == ["b waits for a, c waits for b and a waits for c; remove one of these links"]


def test_of_two_rings_that_share_a_link_the_shorter_is_named() -> None:
    names = [f"t{number}" for number in range(8)]
    ring = [Link(one, other) for one, other in zip(names, [*names[1:], names[0]], strict=True)]
    network = Network(tuple(task(name, 5) for name in names), (*ring, Link("t2", "t0")))
    (said,) = _said(network)
    assert sorted(said.partition(";")[0].replace(" and ", ", ").split(", ")) == [
        "t0 waits for t2",
        "t1 waits for t0",
        "t2 waits for t1",
    ]


def test_contradicting_gaps_come_with_their_arithmetic() -> None:
    network = Network(
        (task("catch", 60), task("drive", 240), task("release", 90)),
        (link("catch", "drive"), link("drive", "release"), link("catch", "release", "SF", None, 360)),
    )
    assert _said(network) == [
        "from the start of catch to the finish of release 6 h 30 min are needed; allowed are 6 h; "
        "30 min short (tasks: drive (4 h), release (1 h 30 min) and catch (1 h)); "
        "allow 30 min more, or shorten one of these tasks by as much"
    ]


def test_a_finish_by_before_the_earliest_finish_is_named() -> None:
    network = Network((task("a", 120), task("b", 60, finish_by=170)), (Link("a", "b"),))
    assert _said(network) == [
        "from the start until b is finished 3 h are needed; allowed are 2 h 50 min; 10 min short (tasks: "
        "a (2 h) and b (1 h)); "
        "allow 10 min more, or shorten one of these tasks by as much"
    ]


def test_a_not_before_after_a_finish_by_is_named() -> None:
    network = Network((task("a", 60, not_before=100, finish_by=130, where="p.yaml:7"),))
    assert _said(network) == [
        "p.yaml:7: from the start until a is finished 2 h 40 min are needed; allowed are 2 h 10 min; "
        "30 min short (tasks: a (1 h); gaps: a not before 1 h 40 min after the start); "
        "allow 30 min more, or shorten one of these tasks by as much"
    ]


def test_simultaneous_starts_are_no_ring() -> None:
    assert _said(Network((task("a", 5), task("b", 5)), (link("a", "b", "SS"), link("b", "a", "SS")))) == []


def test_a_limit_of_no_minutes_is_said_once() -> None:
    network = Network((task("a", 60), task("b", 30)), (link("a", "b"), link("a", "b", "SS", None, 0)))
    assert _said(network) == [
        "from the start of a to the start of b 1 h are needed; allowed are 0 min; 1 h short "
        "(tasks: b (30 min) and a (1 h)); allow 1 h more, or shorten one of these tasks by as much"
    ]


def test_dates_at_the_origin_of_time_are_dates() -> None:
    """Minute 0 is a moment like any other, 1970-01-01 00:00 UTC."""
    (said,) = map(str, check_network(Network((task("a", 90, finish_by=0),)), -60))
    assert "1 h 30 min are needed; allowed are 1 h; 30 min short" in said
