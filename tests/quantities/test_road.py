from __future__ import annotations

import pytest

from moveplan.estimate import Provenance
from moveplan.quantities.policy import Policy
from moveplan.quantities.road import drive_of
from tests.quantities.plans import edited, plan_of

POLICY = Policy({})


@pytest.mark.parametrize(
    ("km", "limit"), [(8, "speed_urban"), (30, "speed_mixed"), (79, "speed_mixed"), (81, "speed_motorway")]
)
def test_a_drive_is_reckoned_from_its_distance(km: int, limit: str) -> None:
    found = drive_of(edited(("distance: 30 km", f"distance: {km} km")), "old", "new", POLICY)
    assert found.likely == pytest.approx(60 * km / POLICY[limit])
    assert found.low == pytest.approx(POLICY["drive_low"] * found.likely)
    assert found.high == pytest.approx(POLICY["drive_high"] * found.likely)


def test_a_long_drive_has_breaks() -> None:
    found = drive_of(edited(("distance: 30 km", "distance: 400 km")), "old", "new", POLICY)
    assert found.likely > 60 * 400 / POLICY["speed_motorway"] + 10


def test_given_times_are_taken_as_they_are() -> None:
    plan = edited(("distance: 30 km", "distance: 30 km, drive: {low: 25 min, likely: 35 min, high: 70 min}"))
    found = drive_of(plan, "new", "old", POLICY)
    assert (found.low, found.likely, found.high) == (25, 35, 70)
    assert found.provenance is Provenance.GIVEN


def test_there_is_no_drive_within_a_place() -> None:
    assert drive_of(plan_of(), "old", "old", POLICY).high == 0
    assert drive_of(plan_of(), "old", "nowhere", POLICY).high == 0
