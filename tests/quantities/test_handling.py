from __future__ import annotations

import pytest

from moveplan.estimate import Estimate, Provenance
from moveplan.quantities.handling import Handling, rates, together
from tests.quantities.plans import PLACE


@pytest.mark.parametrize("name", sorted(rates()))
def test_every_row_is_in_order_and_says_what_it_is(name: str) -> None:
    rate = rates()[name]
    assert 0 < rate.low <= rate.likely <= rate.high
    assert rate.per
    assert rate.note


def test_pieces_multiply_and_hands_divide() -> None:
    found = Handling({}).work("rock-out", 30.0, hands=1.5)
    assert (found.low, found.likely, found.high) == pytest.approx((6.0, 12.0, 24.0))
    assert found.unit == "min"
    assert found.provenance is Provenance.ASSUMED
    assert found.source == "common practice, no source"
    assert found.basis == (
        "lifting rock out piece by piece, looking for hidden animals, laying it wet into tubs: 30 × 0.6 min a kg by "
        "1.5 at a time"
    )


def test_the_plans_own_rate_carries_low_and_high_along() -> None:
    found = Handling({"rock-out": 1.2}).work("rock-out", 10.0)
    assert (found.low, found.likely, found.high) == pytest.approx((6.0, 12.0, 24.0))
    assert found.provenance is Provenance.GIVEN


def test_carrying_counts_the_way_there_and_back_the_stairs_and_the_pairs() -> None:
    # 27 m at 0.9 m/s is half a minute, 20 steps at 0.025 min as much: 2 min there and back, 2 min at the vehicle.
    two = Handling({}).carry(10, PLACE, 2)
    assert two.likely == pytest.approx(10 * (2 * (0.5 + 0.5) + 2))
    three = Handling({}).carry(10, PLACE, 3)
    assert three.likely == pytest.approx(two.likely / 1.5)
    assert two.low < two.likely < two.high
    assert two.basis == "10 carries over 27 m and 20 steps there and back, 4.0 min each, 2 people in pairs"


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
