"""How long fish of each sort go without food; the windows are common practice, no source."""

from __future__ import annotations

from decimal import Decimal
from typing import cast

import pytest

from moveplan.plan.livestock import Livestock
from moveplan.quantities.containers.packing import Packing
from moveplan.quantities.facts import GroupFacts
from moveplan.quantities.keeping.feeding import Feeder, fast_of, feeder_of, feeders
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.metabolism import mass_g
from moveplan.science.animals.livestock import kinds
from moveplan.science.limits import limits

POLICY = Policy({})


def fish(kind: str, mass: float, temperament: str = "peaceful") -> Livestock:
    return Livestock(kind, kind, kind, 1, 8.0, mass, temperament, "display", Decimal(1))


def group(one: Livestock) -> GroupFacts:
    kind = kinds()[one.kind]
    return GroupFacts(one, kind, 1, mass_g(one, kind), cast(Packing, None))


def test_small_fish_grazers_and_plankton_pickers_are_fed_apart_and_so_are_large_hunters() -> None:
    sorts = {
        ("goby", 4.9, "peaceful"): Feeder.SMALL,
        ("goby", 5.0, "peaceful"): Feeder.ORDINARY,
        ("yellow-tang", 60.0, "territorial"): Feeder.SMALL,
        ("anthias", 12.0, "peaceful"): Feeder.SMALL,
        ("lionfish", 90.0, "predator"): Feeder.ORDINARY,
        ("lionfish", 200.0, "predator"): Feeder.LARGE,
    }
    assert {one: feeder_of(fish(*one), POLICY) for one in sorts} == sorts


def test_sorts_come_in_the_order_of_their_last_meals() -> None:
    animals = fish("goby", 2.0), fish("clownfish", 9.0), fish("grouper", 400.0, "predator")
    groups = [group(one) for one in animals]
    assert list(feeders(groups, POLICY)) == [Feeder.LARGE, Feeder.ORDINARY, Feeder.SMALL]
    assert list(feeders(groups[:1], POLICY)) == [Feeder.SMALL]


@pytest.mark.parametrize(
    ("feeder", "hours"),
    [(Feeder.ORDINARY, (20, 36, 60)), (Feeder.SMALL, (12, 24, 48)), (Feeder.LARGE, (36, 48, 84))],
)
def test_windows_of_the_fast(feeder: Feeder, hours: tuple[int, int, int]) -> None:
    fast = fast_of(feeder, POLICY)
    assert (fast.least_min, fast.greatest_min, fast.whole_min) == tuple(60 * hour for hour in hours)


def test_no_plan_can_ask_for_more_than_two_days_before_the_catch() -> None:
    greatest = [limits()[f"fast{sort}_greatest"].high for sort in ("", "_small", "_large")]
    assert greatest == [48.0, 48.0, 48.0]


def test_a_plan_may_set_its_own_window() -> None:
    own = fast_of(Feeder.ORDINARY, Policy({"fast_least": 18.0, "fast_greatest": 30.0, "fast_whole": 50.0}))
    assert (own.least_min, own.greatest_min, own.whole_min) == (1080, 1800, 3000)
    assert feeder_of(fish("goby", 9.0), Policy({"fast_small_mass": 10.0})) is Feeder.SMALL
