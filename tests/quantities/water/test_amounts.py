from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.estimate import Estimate, Provenance
from moveplan.quantities.water.amounts import production_time, proposed_share, summed, water_of
from tests.quantities.plans import MAKING, system

TOTAL = Estimate(190.0, 200.0, 205.0, "l", "system")


@pytest.mark.parametrize(
    ("nitrate", "share"), [(0.0, 0.6), (10.0, 0.6), (10.1, 0.4), (40.0, 0.4), (41.0, 0.25)]
)
def test_the_share_of_old_water_follows_its_nitrate(nitrate: float, share: float) -> None:
    found, why = proposed_share(replace(system(), nitrate_mg_l=nitrate))
    assert found == share
    assert f"{nitrate:g} mg/l" in why


def test_old_and_new_water_make_up_the_system() -> None:
    found = water_of(system(), TOTAL, 120.0, "six tubs", MAKING)
    assert found.kept.likely + found.new.likely == pytest.approx(200.0)
    assert found.spare.likely == pytest.approx(0.2 * 200.0)
    assert found.spare.provenance is Provenance.ASSUMED
    for part in (found.kept, found.new, found.spare, found.purified, found.salt):
        assert part.low <= part.likely <= part.high
        assert part.basis


def test_more_old_water_than_needed_leaves_nothing_to_make_but_the_spare() -> None:
    found = water_of(system(), TOTAL, 300.0, "many tubs", MAKING)
    assert found.new.high == 0.0
    assert found.purified.likely > 0.0


def test_no_water_at_all_needs_no_salt() -> None:
    nothing = Estimate(0.0, 0.0, 0.0, "l", "empty")
    found = water_of(system(), nothing, 0.0, "no tub", MAKING)
    assert (found.purified.likely, found.salt.likely) == (0.0, 0.0)


def test_a_moist_mix_needs_more_of_it() -> None:
    dry = water_of(system(), TOTAL, 100.0, "", replace(MAKING, salt_moisture=0.0)).salt
    moist = water_of(system(), TOTAL, 100.0, "", replace(MAKING, salt_moisture=0.2)).salt
    assert moist.likely == pytest.approx(dry.likely / 0.8)


def test_water_of_two_systems_adds_up() -> None:
    one = water_of(system(), TOTAL, 120.0, "", MAKING)
    assert summed((one,)) is one
    both = summed((one, one))
    for name in ("kept", "new", "spare", "purified", "salt"):
        assert getattr(both, name).likely == pytest.approx(2 * getattr(one, name).likely)
    assert both.kept.basis == "2 systems together"


def test_a_unit_at_its_rated_conditions_makes_its_rated_output_less_the_osmotic_pressure() -> None:
    rated = replace(MAKING, water_temperature_c=25.0, feed_pressure_bar=4.14)
    found = production_time(Estimate(200.0, 200.0, 200.0, "l", ""), rated, 0.2)
    assert found.likely == pytest.approx(1440.0, rel=0.06)
    assert found.low < found.likely < found.high
    cold = production_time(
        Estimate(200.0, 200.0, 200.0, "l", ""), replace(rated, water_temperature_c=10.0), 0.2
    )
    assert cold.likely > 1.3 * found.likely
