"""Masses of water and salt of a move, against TEOS-10 (the gsw library) and published check values."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import gsw
import pytest

from moveplan.estimate import exactly
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.water.amounts import water_of
from moveplan.quantities.water.volumes import masses, volumes
from tests.quantities.plans import MAKING, edited, plan_of, system

TABLE: dict[str, Any] = tomllib.loads(
    (Path(__file__).parent / "data" / "main_job_seawater.toml").read_text("utf-8")
)
REEFS = [(35.0, 25.0), (33.0, 24.0), (36.5, 27.0)]


def absolute_salinity_g_kg(salinity_psu: float) -> float:
    """Absolute salinity of aquarium water, which has the reference composition: no place on the ocean."""
    composition = TABLE["reference_composition"]
    return salinity_psu * float(composition["reference_salinity_g_kg"]) / float(composition["salinity_psu"])


def density_kg_m3(salinity_psu: float, temperature_c: float) -> float:
    """Density at the surface by the TEOS-10 library."""
    absolute = absolute_salinity_g_kg(salinity_psu)
    return float(gsw.rho(absolute, gsw.CT_from_t(absolute, temperature_c, 0.0), 0.0))


@pytest.mark.parametrize("row", TABLE["density_eos_80"]["rows"], ids=lambda row: f"{row['temperature_c']} °C")
def test_the_library_stands_where_the_published_values_are(row: dict[str, float]) -> None:
    found = density_kg_m3(row["salinity_psu"], row["temperature_c"])
    assert found == pytest.approx(row["density_kg_m3"], abs=TABLE["density_eos_80"]["tolerance"])


@pytest.mark.parametrize(("salinity", "temperature"), REEFS)
def test_the_water_of_a_system_weighs_its_volume_at_that_density(salinity: float, temperature: float) -> None:
    plan = edited(
        ("salinity: 35", f"salinity: {salinity}"), ("temperature: 25 C", f"temperature: {temperature} C")
    )
    (one,) = facts_of(plan).systems
    wanted = one.volumes.total.likely / 1000 * density_kg_m3(salinity, temperature)
    # The program reckons with the same equation of state; 1e-5 is room for the temperature's rounding.
    assert one.masses.water.likely == pytest.approx(wanted, rel=1e-5)


@pytest.mark.parametrize(("salinity", "temperature"), REEFS)
def test_the_salt_of_new_water_is_its_absolute_salinity_times_its_mass(
    salinity: float, temperature: float
) -> None:
    reef = edited(
        ("salinity: 35", f"salinity: {salinity}"), ("temperature: 25 C", f"temperature: {temperature} C")
    ).systems[0]
    total = exactly(200.0, "l", "test")
    found = water_of(reef, total, 80.0, "test", MAKING)
    litres = found.new.likely + found.spare.likely
    mass = litres / 1000 * density_kg_m3(salinity, temperature)
    salt = mass * absolute_salinity_g_kg(salinity) / 1000
    assert found.salt.likely == pytest.approx(salt / (1 - MAKING.salt_moisture), rel=1e-5)
    # What is not salt is water: 5 % of it is lost on the way, and fresh water weighs 0.9970 kg/l at 25 °C.
    assert found.purified.likely == pytest.approx((mass - salt) / 0.9970 * 1.05, rel=1e-4)


def test_the_mass_of_the_salt_of_200_litres_is_what_the_trade_expects() -> None:
    # Common practice, no source: 35 to 40 g of dry mix go into a litre of reef water.
    total = exactly(200.0, "l", "test")
    found = water_of(system(), total, 0.0, "test", MAKING)
    litres = found.new.likely + found.spare.likely
    assert 35 <= 1000 * found.salt.likely / litres <= 40


def test_low_and_high_are_of_the_same_water() -> None:
    one = system()
    water = volumes(one, plan_of().provenance("systems.reef.rock"))
    weights = masses(one, water)
    assert weights.water.low / water.total.low == pytest.approx(weights.water.high / water.total.high)
