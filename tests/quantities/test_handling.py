from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.estimate import Estimate, Provenance
from moveplan.quantities.handling import Handling, together
from moveplan.science.carrying.hand_work import rates
from tests.quantities.plans import PLACE


@pytest.mark.parametrize("name", sorted(rates()))
def test_every_row_is_in_order_and_says_what_it_is(name: str) -> None:
    rate = rates()[name]
    assert 0 < rate.low <= rate.likely <= rate.high
    assert rate.per
    assert rate.note


def test_pieces_multiply_and_hands_divide() -> None:
    """30 kg at 0.25, 0.45 and 0.9 min a kg are 7.5, 13.5 and 27 min of one, and 5, 9 and 18 by one and a half."""
    found = Handling({}).work("rock-out", 30.0, hands=1.5)
    assert (found.low, found.likely, found.high) == pytest.approx((5.0, 9.0, 18.0))
    assert found.unit == "min"
    assert found.provenance is Provenance.ASSUMED
    assert found.source == "common practice, no source"
    assert found.basis == f"{rates()['rock-out'].note}: 30 × 0.45 min a kg by 1.5 at a time"


def test_the_plans_own_rate_carries_low_and_high_along() -> None:
    """1.2 min a kg in place of 0.45: low and high as 0.25 and 0.9 to it, 10 kg."""
    found = Handling({"rock_out": 1.2}).work("rock-out", 10.0)
    assert (found.low, found.likely, found.high) == pytest.approx((12 * 25 / 45, 12.0, 24.0))
    assert found.provenance is Provenance.GIVEN


LEVEL = replace(PLACE, carry_m=25.0, steps=0)
STAIRS = replace(LEVEL, steps=14)


def test_cans_are_carried_by_one_and_tubs_by_two() -> None:
    """25 m at 0.9 m/s there and 1.2 m/s back and 20 s a can are 68.6 s, with a rest allowance of 15 % 1.31 min."""
    cans = Handling({}).carry(15, 0, LEVEL, 2)
    assert cans.likely == pytest.approx(9.9, abs=0.05)
    tubs = Handling({}).carry(0, 12, STAIRS, 2)
    assert tubs.likely == pytest.approx(27.8, abs=0.05)
    assert tubs.low < tubs.likely < tubs.high
    both = Handling({}).carry(15, 12, STAIRS, 2)
    assert both.likely == pytest.approx(tubs.likely + Handling({}).carry(15, 0, STAIRS, 2).likely)
    assert both.basis == (
        "15 things by one person, 1.7 min each and 12 things by two people, 2.3 min each: 25 m and over 14 steps "
        "there and back, rests included, 2 carrying"
    )


def test_three_who_carry_make_one_and_a_half_pairs_and_one_carries_all_alone() -> None:
    one, two, three = (Handling({}).carry(0, 10, STAIRS, people).likely for people in (1, 2, 3))
    assert three == pytest.approx(two / 1.5)
    assert one == two
    assert "10 things by one person" in Handling({}).carry(0, 10, STAIRS, 1).basis


def test_glass_is_slow_on_stairs_however_light_it_is() -> None:
    """10 m at 0.4 and 1.2 m/s, 48 steps at 5 s down and 0.55 s up, 40 s to take hold: 339.7 s, with rests 6.51 min."""
    attic = replace(PLACE, carry_m=10.0, steps=48)
    glass = Handling({}).carry(0, 0, attic, 2, glass=1)
    assert glass.likely == pytest.approx(6.51, abs=0.005)
    assert glass.likely > 2 * Handling({}).carry(0, 1, attic, 2).likely
    assert glass.likely < Handling({}).carry(0, 0, attic, 2, teams=1).likely
    assert "1 of glass by two people, 6.5 min each" in glass.basis


def test_a_lift_that_carries_the_tank_saves_the_stairs() -> None:
    high = replace(PLACE, carry_m=25.0, steps=60)
    by_lift = Handling({}).carry(10, 10, replace(high, lift=True), 2)
    assert by_lift.likely < Handling({}).carry(10, 10, high, 2).likely
    assert by_lift.likely > Handling({}).carry(10, 10, LEVEL, 2).likely
    assert "by the lift" in by_lift.basis
    assert "steps" not in by_lift.basis


def test_durations_that_follow_each_other_add_up_with_their_reasons() -> None:
    parts = (
        Estimate(1, 2, 3, "min", "first", Provenance.ASSUMED, "a book"),
        Estimate(10, 20, 30, "min", "second", Provenance.GIVEN, "a book"),
    )
    found = together(*parts)
    assert (found.low, found.likely, found.high) == (11, 22, 33)
    assert found.basis == "first; then second"
    assert found.source == "a book"
    assert found.provenance is Provenance.COMPUTED
    assert found.inputs == (("part 1", parts[0]), ("part 2", parts[1]))
    assert together(*parts, basis="in one word").basis == "in one word"
    assert together(parts[0]).provenance is Provenance.ASSUMED
