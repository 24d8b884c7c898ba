from __future__ import annotations

from math import exp
from statistics import NormalDist

import pytest

from moveplan.estimate import Provenance
from moveplan.quantities.freight.road import drive_of
from moveplan.quantities.policy import Policy
from moveplan.science.limits import limits
from tests.quantities.plans import edited, plan_of

POLICY = Policy({})


@pytest.mark.parametrize(
    ("km", "minutes"), [(2, 9.6), (10, 16.0), (12, 17.6), (31, 32.8), (100, 88.0), (240, 200.0 + 15.0)]
)
def test_a_drive_is_reckoned_from_its_distance(km: int, minutes: float) -> None:
    """8 min for both ends and 75 km/h between; a break of 15 min after two hours (Highway Code rule 91, recalled)."""
    found = drive_of(edited(("distance: 30 km", f"distance: {km} km")), "old", "new", POLICY)
    assert found.likely == pytest.approx(minutes)


def test_one_drive_in_twenty_is_shorter_than_the_low_one_and_one_longer_than_the_high_one() -> None:
    found = drive_of(plan_of(), "old", "new", POLICY)
    normal = NormalDist()
    for tail, minutes in ((0.05, found.low), (0.95, found.high)):
        assert minutes == pytest.approx(found.likely * exp(0.20 * normal.inv_cdf(tail)), rel=1e-4)


@pytest.mark.parametrize("key", ["drive_ends", "drive_speed", "drive_spread", "break_after", "break_length"])
def test_every_limit_of_a_drive_moves_it(key: str) -> None:
    plan, limit = edited(("distance: 30 km", "distance: 400 km")), limits()[key]
    ends = [drive_of(plan, "old", "new", Policy({key: value})) for value in (limit.low, limit.high)]
    assert ends[0] != ends[1]


def test_given_times_are_taken_as_they_are() -> None:
    plan = edited(("distance: 30 km", "distance: 30 km, drive: {low: 25 min, likely: 35 min, high: 70 min}"))
    found = drive_of(plan, "new", "old", POLICY)
    assert (found.low, found.likely, found.high) == (25, 35, 70)
    assert found.provenance is Provenance.GIVEN


def test_there_is_no_drive_within_a_place() -> None:
    assert drive_of(plan_of(), "old", "old", POLICY).high == 0
    assert drive_of(plan_of(), "old", "nowhere", POLICY).high == 0
