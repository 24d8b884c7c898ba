"""Chances by the number of what may fail, and no entry for what the durations and hold points hold already."""

from __future__ import annotations

from math import comb

import pytest

from moveplan.risk.register.default import default_register, struck, table
from moveplan.risk.register.ranked import register_of
from moveplan.risk.register.units import chance_of_any, units_of
from tests.examples import NAMES, scheduled

MOVES = [name for name in NAMES if name != "impossible_dates"]
NAMED = ("helper-hurt", "cold-container", "rock-without-air", "chilled-new-water", "wrong-test")


@pytest.mark.parametrize("units", [1, 2, 5, 12])
def test_the_chance_of_any_is_that_of_a_binomial(units: int) -> None:
    each = 0.03
    several = sum(comb(units, k) * each**k * (1 - each) ** (units - k) for k in range(1, units + 1))
    assert chance_of_any(each, units) == pytest.approx(several, abs=1e-6)


def test_more_pumps_fail_more_often_and_less_hangs_on_each() -> None:
    """The expected loss of animals stays the same, but for two that fail at once."""
    one, three = (chance_of_any(0.02, units) * 1 / units for units in (1, 3))
    assert chance_of_any(0.02, 3) > 2.9 * chance_of_any(0.02, 1)
    assert one == pytest.approx(three, rel=0.03)


@pytest.mark.parametrize("name", MOVES)
def test_what_there_is_none_of_does_not_fail(name: str) -> None:
    project, schedule = scheduled(name)
    found = {entry.id: entry for entry in default_register(project, schedule)}
    for risk, row in table("register").items():
        units = units_of(project, row.get("units", ""), struck(project, row["tasks"]))
        if risk in found:
            assert units > 0
            assert found[risk].probability == pytest.approx(chance_of_any(row["probability"], units))


def test_the_house_move_has_what_usually_goes_wrong_and_is_in_no_duration() -> None:
    found = {entry.id for entry in register_of(*scheduled("house_move"))}
    assert set(NAMED) <= found


def test_nothing_is_counted_twice() -> None:
    """A hold point that is asked again takes its time itself; weather, traffic and deliveries are in the spreads."""
    holds = {key for key, row in table("holds").items() if row["fails"] > 0}
    delaying = {risk: row for risk, row in table("register").items() if row["delay_min"]}
    assert not [risk for risk, row in delaying.items() if holds & set(row["tasks"])]
    assert not {"traffic-jam", "late-parcel", "bad-weather", "water-does-not-match"} & set(delaying)
