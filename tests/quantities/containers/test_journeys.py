"""Hours in containers: parts that add up, delays on top, in quarters of an hour."""

from __future__ import annotations

from moveplan.estimate import Estimate
from moveplan.quantities.containers.journeys import guessed, journeys_of
from moveplan.quantities.leg.legs import plain_leg
from moveplan.quantities.safe_time.boxes import Journey
from tests.quantities.plans import plan_of


def of(minutes: float) -> Estimate:
    """A duration without a spread. [min]."""
    return Estimate(minutes, minutes, minutes, "min", "for the test")


TIMES = {
    "rock-out": of(30),
    "lower": of(30),
    "catch": of(60),
    "drain": of(30),
    "fill": of(60),
    "rock-in": of(60),
}


def test_waiting_and_sealed_hours_are_parts_of_those_before_the_road() -> None:
    found = journeys_of(3.0, 1.0, 2.0, 2.0, 1.0)
    assert found.whole == Journey(3.0, 1.0, 2.0)
    assert found.waiting == Journey(2.0, 0.0, 0.0)
    assert found.bagged == Journey(1.0, 1.0, 2.0)


def test_nobody_waits_longer_than_there_is_before_the_road() -> None:
    found = journeys_of(1.0, 0.0, 1.0, 5.0, 1.0)
    assert (found.waiting.before_h, found.bagged.before_h) == (1.0, 0.0)


def test_delays_come_on_top_and_hours_are_rounded_up_to_a_quarter() -> None:
    # 2 h × 1.3 = 2.6 h, 0.5 h × 1.3 = 0.65 h, 1 h × 1.3 = 1.3 h.
    assert journeys_of(2.0, 0.5, 1.0, 1.0, 1.3).whole == Journey(2.75, 0.75, 1.5)


def test_the_guess_follows_the_work_between() -> None:
    plan = plan_of()
    ways = guessed(TIMES, of(60), plain_leg(plan), standing=False)
    fish, snails, corals = ways("fish"), ways("snail"), ways("sps-coral")
    # Fish: catch, drain, and half an hour: 2 h; others from before the water is lowered; the road 1.5 h; after it 2 h
    # of work and one more.
    assert fish.whole == journeys_of(2.0, 1.5, 3.0, 1.5, 1.3).whole
    assert fish.whole.before_h < snails.whole.before_h < corals.whole.before_h
    standing = guessed(TIMES, of(60), plain_leg(plan), standing=True)("fish")
    assert standing.whole.after_h < fish.whole.after_h, "a tank that runs is not filled first"
