"""Carbonate chemistry against PyCO2SYS (Humphreys et al. 2022, Geosci. Model Dev. 15, 15-43), run here."""

from __future__ import annotations

import numpy as np
import PyCO2SYS
import pytest

from moveplan.science.filter.ammonia import PhScale, unionised_fraction
from moveplan.science.gas.transit import Stay, TransitLimits, safe_time, water_states
from moveplan.science.water.carbonate import inorganic_carbon_mmol_kg, ph_total_of
from moveplan.science.water.carbonate_constants import (
    carbon_dioxide_by_pressure_mol_kg_atm,
    constants,
    ph_nbs_minus_total,
)
from moveplan.science.water.seawater import density_kg_m3

LUEKER = {"opt_k_carbonic": 10}
GRID = np.array([(t, s) for t in (5.0, 15.0, 22.0, 26.0, 30.0, 34.0) for s in (20.0, 30.0, 35.0, 39.0)])
TEMPERATURE, SALINITY = GRID.T
SETTING = {"temperature": TEMPERATURE, "salinity": SALINITY, **LUEKER}


def test_every_constant_agrees() -> None:
    theirs = PyCO2SYS.sys(2300, 400, 1, 4, **SETTING)
    ours = constants(TEMPERATURE, SALINITY)
    by_pressure = theirs["k_CO2"] * theirs["fCO2"] / theirs["pCO2"]
    pairs = [
        (ours.k0, by_pressure),
        (ours.k1, theirs["k_carbonic_1"]),
        (ours.k2, theirs["k_carbonic_2"]),
        (ours.boric, theirs["k_borate"]),
        (ours.water, theirs["k_water"]),
        (ours.total_boron, theirs["total_borate"] * 1e-6),
        (carbon_dioxide_by_pressure_mol_kg_atm(TEMPERATURE, SALINITY), by_pressure),
    ]
    for our, their in pairs:
        np.testing.assert_allclose(our, their, rtol=1e-6)


@pytest.mark.parametrize("alkalinity", [1.5, 2.3, 4.0])
@pytest.mark.parametrize("pressure", [150.0, 400.0, 3000.0, 40_000.0])
def test_ph_and_inorganic_carbon_agree(alkalinity: float, pressure: float) -> None:
    theirs = PyCO2SYS.sys(1000 * alkalinity, pressure, 1, 4, **SETTING)
    every = np.ones_like(TEMPERATURE)
    carbon = inorganic_carbon_mmol_kg(alkalinity * every, pressure * every, TEMPERATURE, SALINITY)
    np.testing.assert_allclose(carbon, theirs["dic"] / 1000, rtol=2e-4)
    nothing = np.zeros_like(every)
    known = constants(TEMPERATURE, SALINITY)
    ph = ph_total_of(alkalinity * every / 1000, carbon / 1000, nothing, known, nothing)
    np.testing.assert_allclose(ph, theirs["pH_total"], atol=5e-4)


def test_the_step_between_the_scales_agrees() -> None:
    theirs = PyCO2SYS.sys(2300, 8.0, 1, 3, **SETTING)
    step = theirs["pH_nbs"] - theirs["pH_total"]
    np.testing.assert_allclose(ph_nbs_minus_total(TEMPERATURE, SALINITY), step, atol=1e-6)


@pytest.mark.parametrize("temperature", [15.0, 26.0, 30.0])
def test_unionised_ammonia_on_the_total_scale_agrees(temperature: float) -> None:
    theirs = PyCO2SYS.sys(
        2300, 8.0, 1, 3, salinity=35.0, temperature=temperature, total_ammonia=10.0, **LUEKER
    )
    fraction = float(theirs["NH3"]) / 10.0
    ours = unionised_fraction(8.0, temperature, 35.0, PhScale.TOTAL)
    assert ours == pytest.approx(fraction, rel=0.03), "their constant is another fit, within 3 %"


def _ph_in_a_bag(stay: Stay, hours: float) -> float:
    """Share out the carbon of a bag between water and gas: the pressure at which PyCO2SYS finds it all."""
    mass = stay.water_l * density_kg_m3(stay.temperature_c, stay.salinity_psu) / 1000.0
    setting = {"salinity": stay.salinity_psu, "temperature": stay.temperature_c, **LUEKER}
    start = PyCO2SYS.sys(1000 * stay.alkalinity_mmol_kg, 400.0, 1, 4, **setting)
    ammonia = stay.ammonia_mg_n_h * hours / 14.0067 * 1000.0 / mass
    alkalinity = 1000 * stay.alkalinity_mmol_kg + ammonia
    carbon = float(start["dic"]) * mass + stay.oxygen_use_mg_h * hours / 31.9988 * 0.85 * 1000.0
    per_uatm = stay.gas_l / (0.0820574 * (stay.temperature_c + 273.15))
    pressures = np.geomspace(50.0, 200_000.0, 4000)
    water = PyCO2SYS.sys(alkalinity, pressures, 1, 4, total_ammonia=ammonia, **setting)
    total = water["dic"] * mass + pressures * per_uatm
    return float(np.interp(carbon, total, water["pH_nbs"]))


@pytest.mark.parametrize(("water_l", "gas_l"), [(2.0, 4.0), (4.0, 1.0), (1.0, 8.0)])
@pytest.mark.parametrize("hours", [2.0, 12.0, 30.0])
def test_the_water_of_a_closed_bag_agrees(water_l: float, gas_l: float, hours: float) -> None:
    stay = Stay(water_l, gas_l, 26.0, 35.0, 10.4326, 0.45666, 1.0, 0.0, 26.0, 20.0)
    assert water_states([stay], [hours])[0].ph_nbs == pytest.approx(_ph_in_a_bag(stay, hours), abs=0.002)


@pytest.mark.parametrize("gas_l", [0.0, 0.5, 4.0, 8.0])
def test_the_limit_times_are_when_the_water_is_at_the_limit(gas_l: float) -> None:
    stay = Stay(2.0, gas_l, 26.0, 35.0, 10.4326, 0.45666, 1.0, 0.0, 26.0, 20.0)
    found = safe_time(stay, TransitLimits(4.0, 15.0, 0.0115, 22.0, 29.0, 24.0, 0.7, 8.2))
    at_carbon_dioxide = water_states([stay], [found.carbon_dioxide_h])[0]
    assert at_carbon_dioxide.carbon_dioxide_mg_l == pytest.approx(15.0, rel=1e-6)
    if found.ammonia_h < np.inf:
        at_ammonia = water_states([stay], [found.ammonia_h])[0]
        assert at_ammonia.unionised_mg_n_l == pytest.approx(0.0115, rel=1e-4)
