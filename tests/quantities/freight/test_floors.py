from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.estimate import Estimate, exactly
from moveplan.quantities.freight.floors import floor_needs_engineer
from moveplan.science.limits import limits
from tests.quantities.plans import PLACE

SUSPENDED = limits()["engineer_suspended_floor"].value
ANY = limits()["engineer_any_floor"].value


def heavy(mass_kg: float) -> Estimate:
    """A running mass without spread."""
    return exactly(mass_kg, "kg", "test")


def test_a_slab_on_the_ground_needs_no_engineer() -> None:
    assert not floor_needs_engineer(replace(PLACE, floor_kind="slab"), heavy(5000.0), {})


@pytest.mark.parametrize("floor", [0, 1, 7])
def test_a_suspended_floor_needs_one_above_the_limit(floor: int) -> None:
    limit = SUSPENDED if floor == 0 else min(SUSPENDED, ANY)
    place = replace(PLACE, floor=floor)
    assert not floor_needs_engineer(place, heavy(limit), {})
    assert floor_needs_engineer(place, heavy(limit + 1), {})


def test_the_high_end_counts_and_the_plan_may_be_stricter() -> None:
    spread = Estimate(100.0, 100.0, SUSPENDED + 1, "kg", "test")
    assert floor_needs_engineer(replace(PLACE, floor=0), spread, {})
    assert floor_needs_engineer(replace(PLACE, floor=0), heavy(90.0), {"engineer_suspended_floor": 80.0})
