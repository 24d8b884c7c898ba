"""Constants and conversions of the science package against pint's registry, run here."""

from __future__ import annotations

import pint
import pytest

from moveplan.science.animals import respiration
from moveplan.science.carrying.loads import floor_pressure_kpa
from moveplan.science.gas import dissolved as gas
from moveplan.science.water import flow
from moveplan.science.water import purified as purified_water
from moveplan.science.water.carbonate import alkalinity_mmol_kg_from_dkh
from moveplan.science.water.seawater import density_kg_m3

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()


def test_physical_constants() -> None:
    assert pytest.approx(UNITS("standard_gravity").to("m/s**2").magnitude) == flow.GRAVITY_M_S2
    assert pytest.approx(UNITS("atmosphere").to("kPa").magnitude) == gas.ATMOSPHERE_KPA
    constant = UNITS("molar_gas_constant").to("liter * atmosphere / mole / kelvin").magnitude
    assert pytest.approx(constant, rel=1e-6) == gas.GAS_CONSTANT_L_ATM


def test_osmotic_pressure_is_a_pound_per_square_inch_for_100_mg_l() -> None:
    assert purified_water.osmotic_pressure_bar(100.0) == pytest.approx(
        UNITS("psi").to("bar").magnitude, rel=1e-6
    )


def test_floor_pressure_in_pounds_per_square_foot() -> None:
    mass = UNITS.Quantity(40.0, "pound").to("kg").magnitude
    side = UNITS.Quantity(1.0, "foot").to("m").magnitude
    wanted = UNITS.Quantity(40.0, "force_pound / foot**2").to("kPa").magnitude
    assert wanted == pytest.approx(1.9152, abs=1e-4)
    assert floor_pressure_kpa(mass, side, side) == pytest.approx(wanted, rel=1e-9)


def test_a_degree_of_hardness_is_10_mg_of_calcium_oxide_in_a_litre() -> None:
    milliequivalents = 2.0 * 10.0 / 56.0774  # two charges; molar mass of CaO, IUPAC atomic weights
    wanted = milliequivalents / density_kg_m3(25.0, 35.0) * 1000.0
    assert alkalinity_mmol_kg_from_dkh(1.0, 25.0, 35.0) == pytest.approx(wanted, rel=1e-4)


def test_molar_masses_add_up() -> None:
    carbon, oxygen = 12.0107, 15.9994  # IUPAC 2007
    assert pytest.approx(2 * oxygen) == respiration.OXYGEN_G_MOL
    assert pytest.approx(carbon + 2 * oxygen) == gas.CARBON_DIOXIDE_G_MOL
