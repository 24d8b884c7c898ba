"""Limits of oxygen where the air is thin."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.quantities.keeping.entry import Entry, entry_of
from tests.quantities.plans import plan_of


def entry_at(altitude_m: float, **policy: float) -> Entry:
    """Find the limits of the usual plan's tank at a height."""
    plan = replace(plan_of(), policy=policy)
    return entry_of(plan, plan.systems[0], replace(plan.places[0], altitude_m=altitude_m))


def test_at_sea_level_the_alarm_is_what_the_plan_sets() -> None:
    assert entry_at(0.0).alarm == pytest.approx(5.0)
    assert entry_at(0.0, alarm_oxygen=4.5).alarm == pytest.approx(4.5)


@pytest.mark.parametrize("altitude_m", [0.0, 1600.0, 2240.0, 3000.0])
def test_no_limit_asks_for_more_than_the_air_gives(altitude_m: float) -> None:
    """Animals that may go in are not in alarm, and a tub is not planned for what moving water does not hold."""
    found = entry_at(altitude_m)
    assert found.tub_stop < found.tub_alarm <= found.alarm < found.oxygen
    assert found.tub_alarm < found.tub_oxygen <= found.oxygen


def test_higher_up_the_alarm_is_less_until_animals_would_lack_it() -> None:
    """At 1,600 m air has 0.824 of its pressure (ISO 2533), less vapour 0.819; at 3,000 m survival has the word."""
    assert entry_at(1600.0).alarm == pytest.approx(0.819 * 5.0, abs=0.02)
    assert entry_at(3000.0).alarm == pytest.approx(entry_at(3000.0).tub_alarm)
