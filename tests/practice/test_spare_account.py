"""Spare water that makes up for what runs to the animals: one account for all tubes, none of it promised twice."""

from __future__ import annotations

import pytest

from moveplan.estimate import Estimate
from moveplan.practice.phases.day.release import covered_min, spare_beyond
from moveplan.quantities.water.ramps import Ramp


def ramp(minutes: float, flow_l_h: float, afloat_min: float = 0.0) -> Ramp:
    time = Estimate(minutes / 2, minutes, 2 * minutes, "min", "for the test")
    return Ramp(time, 2.0, 3.0, 0.5, 8.0, flow_l_h, floats=False, matched=False, afloat_min=afloat_min)


DRIPS, CORALS, FISH = [ramp(30.0, 6.0)] * 2, [ramp(40.0, 9.0)], [ramp(50.0, 12.0, 20.0)] * 3
ALL = (*DRIPS, *CORALS, *FISH)


@pytest.mark.parametrize("spare_l", [5.0, 12.0, 30.0, 80.0])
def test_what_is_promised_to_all_tubes_together_is_what_there_is(spare_l: float) -> None:
    longer = spare_beyond(ALL, spare_l)
    promised = sum(
        covered_min(group, longer) / 60 * sum(one.flow_l_h for one in group)
        for group in (DRIPS, CORALS, FISH)
    )
    assert promised <= spare_l
    assert promised > spare_l - 57.0 / 12, "rounded down to five minutes each, no more"


def test_each_may_run_its_likely_time_and_all_of_them_as_much_longer() -> None:
    # 2 x 6 l/h for 30 min, 9 l/h for 40 min, 3 x 12 l/h for 30 min: 6 + 6 + 18 = 30 l; of 49 l 19 l are left, which at
    # 57 l/h in all last for 20 min.
    assert spare_beyond(ALL, 49.0) == pytest.approx((1.0, 20.0))
    assert [covered_min(group, spare_beyond(ALL, 49.01)) for group in (DRIPS, CORALS, FISH)] == [50, 60, 50]


def test_too_little_is_shared_out_and_nothing_promises_nothing() -> None:
    assert spare_beyond(ALL, 15.0) == pytest.approx((0.5, 0.0))
    assert covered_min(CORALS, spare_beyond(ALL, 15.0)) == 20
    assert covered_min(CORALS, spare_beyond(ALL, 0.0)) == 0
    assert spare_beyond([], 40.0) == (0.0, 0.0)
    assert covered_min([], (1.0, 10.0)) == 0
