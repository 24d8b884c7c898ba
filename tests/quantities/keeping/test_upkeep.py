"""What a holding system uses up, worked by hand."""

from __future__ import annotations

import pytest

from moveplan.practice.compose import project_of
from moveplan.quantities.keeping.upkeep import Upkeep
from tests.examples import plan


def upkeep(*changes: str) -> Upkeep:
    (found,) = project_of(plan("house_move_with_gap", *changes), steps=False).upkeep
    return found


def test_weekly_changes_of_six_weeks() -> None:
    """Five changes of 20 %; S kg of salt in a litre at salinity 35 and 25 °C: 1.0233 x 35 x (35.16504 / 35) / 1000
    = 0.03598 kg, over 0.94 for the moisture of the mix 0.03828 kg/l; the rest is water, and 5 % of it are lost."""
    found = upkeep()
    litres = 5 * found.change_l
    assert (found.days, found.looks, found.changes, found.batches, found.daily_l) == (42, 41, 5, 5, 0.0)
    assert found.batch_l == pytest.approx(found.change_l)
    assert found.top_up_l_day == pytest.approx(0.05 * found.change_l), "1 % a day, a change is 20 %"
    assert found.batches * found.batch_l == pytest.approx(litres)
    assert found.salt_kg == pytest.approx(0.03828 * litres, rel=0.005)
    assert found.purified_l == pytest.approx(litres * (1.0233 - 0.0360) / 0.997 * 1.05, rel=0.005)
    assert found.feed_g == pytest.approx(0.5 * 2 * 42), "half of 2 g a day"


def test_a_filter_that_does_not_keep_up_is_changed_every_day_and_mixed_for_every_week() -> None:
    """Without rock, and with far more fish, water is changed on each of 41 days, in 6 batches."""
    many = ("systems.display.rock=0 kg", "livestock.clowns.count=12", "livestock.clowns.size=12 cm")
    found = upkeep(*many)
    assert found.daily_l > 0
    assert (found.looks, found.batches, found.change_l) == (41, 6, 0.0)
    assert found.days_a_batch == 7
    assert found.batches * found.batch_l == pytest.approx(6 * 7 * found.daily_l), (
        "each batch lasts a week; one day is left over"
    )


def test_the_plan_says_how_much_is_changed_and_evaporates() -> None:
    own = upkeep("policy.holding-weekly-change=0.4", "policy.evaporation-daily=0.02")
    assert own.change_l == pytest.approx(2 * upkeep().change_l)
    assert own.top_up_l_day == pytest.approx(2 * upkeep().top_up_l_day)


def test_a_move_in_one_day_holds_nobody() -> None:
    assert project_of(plan("house_move"), steps=False).upkeep == ()
