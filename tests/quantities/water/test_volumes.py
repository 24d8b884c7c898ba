from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.estimate import Provenance
from moveplan.quantities.water.volumes import empty_tank_kg, masses, volumes
from moveplan.units import retold
from tests.quantities.plans import TANK, system


def test_a_sump_that_was_assumed_says_so() -> None:
    assert volumes(system(), Provenance.GIVEN).sump.provenance is Provenance.GIVEN
    assert volumes(system(), Provenance.GIVEN, Provenance.ASSUMED).sump.provenance is Provenance.ASSUMED


def test_water_is_geometry_less_rock_and_sand() -> None:
    found = volumes(replace(system(), tank=TANK, sump_l=30.0), Provenance.GIVEN)
    gross = 1000 * 0.98 * 0.48 * 0.45
    rock_and_sand = 1000 * (20 / 2830 + 18 / 2935)
    assert found.displaced.likely == pytest.approx(rock_and_sand)
    assert found.tank.likely == pytest.approx(gross - rock_and_sand)
    assert found.total.likely == pytest.approx(found.tank.likely + 30.0)
    assert found.total.low < found.total.likely < found.total.high
    assert found.tank.provenance is Provenance.COMPUTED


def test_displacement_is_only_as_sure_as_the_rock() -> None:
    assert volumes(system(), Provenance.GIVEN).displaced.provenance is Provenance.COMPUTED
    assert volumes(system(), Provenance.ASSUMED).displaced.provenance is Provenance.ASSUMED


def test_more_rock_than_tank_leaves_no_water_and_no_negative_water() -> None:
    found = volumes(replace(system(), tank=TANK, rock_kg=2000.0), Provenance.GIVEN)
    assert found.tank.low == found.tank.likely == found.tank.high == 0.0


def test_an_empty_tank_weighs_its_panes() -> None:
    found = empty_tank_kg(TANK)
    # Five panes of float glass of 2,500 kg/m³: base and four sides, corners counted once.
    panes = 1.0 * 0.5 * 0.5 - 0.98 * 0.48 * 0.49
    assert found.likely == pytest.approx(2500 * panes)
    assert found.high == pytest.approx(1.15 * found.likely)
    acrylic = empty_tank_kg(replace(TANK, material="acrylic"))
    assert acrylic.likely == pytest.approx(1190 * panes)
    assert "acrylic" in acrylic.basis


def test_the_running_mass_is_the_sum_of_its_parts() -> None:
    one = system()
    found = masses(one, volumes(one, Provenance.GIVEN))
    parts = (found.tank, found.stand, found.rock_wet, found.sand_wet, found.water)
    for end in ("low", "likely", "high"):
        assert getattr(found.full, end) == pytest.approx(sum(getattr(part, end) for part in parts))
    assert found.rock_wet.likely == pytest.approx(1.36 * 20)
    assert found.sand_wet.likely == pytest.approx(1.3 * 18)
    assert found.floor.likely == pytest.approx(found.full.likely * 9.80665 / 0.9 / 0.45 / 1000, rel=1e-4)


def test_what_was_given_in_inches_comes_back_as_given() -> None:
    tank = replace(
        TANK, length_m=20 * 0.0254, width_m=12 * 0.0254, wall_m=0.25 * 0.0254, base_m=0.25 * 0.0254
    )
    one = replace(system(), tank=tank)
    found = masses(one, volumes(one, Provenance.GIVEN))
    assert retold(found.floor.basis, "us").endswith(" on 20 in × 12 in")
    assert retold(found.tank.basis, "us").startswith("panes of 0.25 in glass, base 0.25 in;")


def test_the_water_area_leaves_out_the_glass() -> None:
    assert TANK.inner_area_m2 == pytest.approx(0.98 * 0.48)
