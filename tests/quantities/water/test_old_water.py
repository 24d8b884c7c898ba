"""Old water is shared out: nothing is drawn that is not there, and every litre goes somewhere."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from moveplan.quantities.containers.tubs import arrange
from moveplan.quantities.water.old_water import catch_depth_m, drawable_l, share_out
from tests.quantities.plans import system

REEF = system()
BARE = arrange(REEF, 60.0, 1.36)
FLOOR_L_CM = 0.88 * 0.43 * 10
"""Water of one centimetre of depth in the tank of 90 × 45 cm with glass of 10 mm. [l/cm]"""


def test_what_stands_under_the_last_five_centimetres_is_not_kept() -> None:
    assert drawable_l(REEF, 178.0) == pytest.approx(178.0 - 5 * FLOOR_L_CM)
    assert drawable_l(REEF, 10.0) == 0.0


def test_a_hand_worked_share() -> None:
    """178 l 40 cm deep; 10 cm for the catch are 37.8 l: 140.2 l may go; 80 l for animals, 3 l for damp leave 57.2 l."""
    old, tubs = share_out(REEF, 178.0, BARE, 80.0, 100.0, fish=True)
    assert old.pool_l == pytest.approx(37.8, abs=0.05)
    assert tubs.kept_l == pytest.approx(178.0 - 37.84 - 80.0 - 3.0)
    assert old.drawn_l == pytest.approx(140.2, abs=0.05)
    assert (old.lent_l, old.lowered_l) == pytest.approx((0.0, 0.0))
    less, fewer = share_out(REEF, 178.0, BARE, 80.0, 20.0, fish=True)
    assert fewer.kept_l == pytest.approx(20.0)
    assert less.lowered_l == pytest.approx(37.2, abs=0.05)


def test_fish_are_caught_in_a_hand_of_water_less_in_a_low_tank() -> None:
    """12 cm from 48 cm on; a quarter of 30 cm; and never less than what nobody keeps."""
    depths = (
        catch_depth_m(replace(REEF, tank=replace(REEF.tank, water_height_m=height)))
        for height in (0.6, 0.48, 0.3, 0.15)
    )
    assert list(depths) == pytest.approx([0.12, 0.12, 0.075, 0.05])


def test_without_fish_more_may_be_drawn() -> None:
    with_fish, without = (share_out(REEF, 178.0, BARE, 0.0, 500.0, fish=fish)[1] for fish in (True, False))
    assert without.kept_l - with_fish.kept_l == pytest.approx(5 * FLOOR_L_CM)


@given(st.floats(1, 900), st.floats(0, 900), st.floats(0, 900), st.booleans())
def test_every_litre_goes_somewhere_and_none_comes_from_nothing(
    there_l: float,
    animals_l: float,
    wished_l: float,
    fish: bool,
) -> None:
    old, tubs = share_out(REEF, there_l, BARE, animals_l, wished_l, fish=fish)
    assert old.drawn_l + old.lowered_l + old.pool_l == pytest.approx(there_l)
    assert old.drawn_l <= there_l - old.pool_l + 1e-6
    assert old.drawn_l + old.lent_l == pytest.approx(animals_l + tubs.used_l + tubs.kept_l)
    assert tubs.kept_l <= wished_l + 1e-6
    assert min(old.lent_l, tubs.kept_l) == pytest.approx(0.0, abs=1e-6), "nothing is kept while some is lent"
