"""Fresh water against IAPWS-95 and IAPWS-97 by the iapws library, run here."""

from __future__ import annotations

import pytest
from iapws import IAPWS97
from iapws.iapws97 import _PSat_T

from moveplan.science.gas.dissolved import water_vapour_pressure_kpa
from moveplan.science.water.seawater import density_kg_m3, heat_capacity_j_kg_k

TEMPERATURES = [1.0, 4.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0]


@pytest.mark.parametrize("temperature", TEMPERATURES)
def test_density_of_fresh_water(temperature: float) -> None:
    water = IAPWS97(T=temperature + 273.15, P=0.101325)
    assert density_kg_m3(temperature, 0.0) == pytest.approx(water.rho, abs=0.01)


@pytest.mark.parametrize("temperature", TEMPERATURES)
def test_heat_capacity_of_fresh_water(temperature: float) -> None:
    water = IAPWS97(T=temperature + 273.15, P=0.101325)
    assert heat_capacity_j_kg_k(temperature, 0.0) == pytest.approx(1000.0 * water.cp, rel=5e-4)


@pytest.mark.parametrize("temperature", TEMPERATURES)
@pytest.mark.parametrize("salinity", [0.0, 35.0])
def test_vapour_pressure(temperature: float, salinity: float) -> None:
    fresh_kpa = 1000.0 * _PSat_T(temperature + 273.15)
    lowered = fresh_kpa * (
        1.0 - 5.4e-4 * salinity
    )  # Raoult's law, Witting (1908) as in Weiss and Price (1980)
    assert water_vapour_pressure_kpa(temperature, salinity) == pytest.approx(lowered, rel=2e-3)
