"""A day has hours for so many trips; beyond them the plan cannot be done."""

from __future__ import annotations

import pytest

from moveplan.errors import CannotBeDoneError
from moveplan.plan.move import Plan
from moveplan.practice.compose import project_of
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.freight.freight import Load, LoadItem
from moveplan.quantities.leg.hauling import least_min
from moveplan.times import MINUTES_A_DAY
from tests.quantities.plans import edited


def with_sump(sump_l: int) -> Plan:
    """Nothing runs out of the tap at the new home, so that new water is carried there, far, a little at a time."""
    return edited(
        ("sump: 40 l", f"sump: {sump_l} l"),
        ("floor-kind: slab,", "floor-kind: slab, water: no,"),
        ("distance: 30 km", "distance: 75 km"),
        ("payload: 1100 kg", "payload: 100 kg"),
    )


def test_ten_trips_are_nineteen_ways_and_all_their_things_twice() -> None:
    plan = with_sump(10)
    facts = facts_of(plan)
    thing = LoadItem("can", 15.0)
    by_load = [
        least_min(plan, facts, tuple(Load("car", trip, (thing,) * 4) for trip in range(trips)))
        for trips in (1, 10)
    ]
    bare = least_min(plan, facts, (Load("car", 1, ()),))
    assert bare == facts.drive.low
    assert by_load[1] == pytest.approx(19 * facts.drive.low + 10 * (by_load[0] - facts.drive.low))


def test_the_largest_load_that_is_planned_is_within_a_day_and_the_next_is_told_in_one_sentence() -> None:
    """Four tanks full are the largest sump that can be meant."""
    fits, refused = 40, 720
    while refused - fits > 20:
        middle = (fits + refused) // 2
        try:
            facts_of(with_sump(middle))
            fits = middle
        except CannotBeDoneError:
            refused = middle
    plan = with_sump(fits)
    facts = facts_of(plan)
    assert MINUTES_A_DAY / 2 < least_min(plan, facts, facts.trips.loads) <= MINUTES_A_DAY
    with pytest.raises(
        CannotBeDoneError, match=r"would have to drive \d+ times to take .*; the moving day has 24 h"
    ):
        project_of(with_sump(refused))
