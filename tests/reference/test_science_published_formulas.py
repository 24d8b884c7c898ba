"""Formulas as printed in their papers, coded a second time here, against the libraries that the product calls."""

from __future__ import annotations

import math

import pytest

from moveplan.science.gas.dissolved import (
    oxygen_saturation_mg_l,
    oxygen_solubility_umol_kg,
    water_vapour_pressure_kpa,
)
from moveplan.science.water.seawater import (
    density_kg_m3,
    salinity_from_conductivity_psu,
    salinity_from_specific_gravity_psu,
    specific_gravity,
)

GRID = [(t, s) for t in (10.0, 18.0, 25.0, 30.0, 35.0) for s in (0.0, 28.0, 33.0, 35.0, 40.0)]


def _polynomial(x: float, *coefficients: float) -> float:
    return math.fsum(c * x**power for power, c in enumerate(coefficients))


def _density_1981(temperature_c: float, salinity: float) -> float:
    """Millero and Poisson (1981), Deep-Sea Res. 28A, 625-629 (recalled), on IPTS-68."""
    t = 1.00024 * temperature_c
    fresh = _polynomial(t, 999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9)
    first = _polynomial(t, 8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9)
    second = _polynomial(t, -5.72466e-3, 1.0227e-4, -1.6546e-6)
    return float(fresh + first * salinity + second * salinity**1.5 + 4.8314e-4 * salinity**2)


@pytest.mark.parametrize(("temperature", "salinity"), GRID)
def test_density_agrees_with_the_equation_of_state_of_1980(temperature: float, salinity: float) -> None:
    assert density_kg_m3(temperature, salinity) == pytest.approx(
        _density_1981(temperature, salinity), abs=0.012
    )


@pytest.mark.parametrize("salinity", [20.0, 30.0, 35.0, 41.0])
@pytest.mark.parametrize(("sample", "reference"), [(25.0, 25.0), (20.0, 20.0), (26.0, 15.556), (22.0, 4.0)])
def test_salinity_comes_back_from_specific_gravity(salinity: float, sample: float, reference: float) -> None:
    ratio = _density_1981(sample, salinity) / _density_1981(reference, 0.0)
    assert specific_gravity(salinity, sample, reference) == pytest.approx(ratio, abs=1.5e-5)
    assert salinity_from_specific_gravity_psu(ratio, sample, reference) == pytest.approx(salinity, abs=0.02)


STANDARD_MS_CM = 42.914
"""Conductivity of standard sea water of salinity 35 at 15 °C; Culkin and Smith (1980), recalled. [mS/cm]"""


def _salinity_1978(conductivity_ms_cm: float, temperature_c: float) -> float:
    """UNESCO technical papers in marine science 37 (1981), practical salinity at the surface (recalled), on IPTS-68."""
    t = 1.00024 * temperature_c
    by_warmth = _polynomial(t, 0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9)
    root = math.sqrt(conductivity_ms_cm / STANDARD_MS_CM / by_warmth)
    apart = _polynomial(root, 0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144)
    at_15 = _polynomial(root, 0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081)
    return at_15 + (t - 15.0) / (1.0 + 0.0162 * (t - 15.0)) * apart


def test_standard_sea_water_has_a_salinity_of_35_by_its_conductivity() -> None:
    """The check value of the scale: a ratio of 1 at 15 °C is 35."""
    assert _salinity_1978(STANDARD_MS_CM, 15.0 / 1.00024) == pytest.approx(35.0, abs=1e-4)
    assert salinity_from_conductivity_psu(STANDARD_MS_CM, 15.0 / 1.00024) == pytest.approx(35.0, abs=1e-4)


@pytest.mark.parametrize("temperature", [10.0, 20.0, 25.0, 30.0])
@pytest.mark.parametrize("conductivity", [30.0, 45.0, 50.0, 53.0, 56.0])
def test_salinity_by_conductivity_is_that_of_the_scale_of_1978(
    conductivity: float, temperature: float
) -> None:
    wanted = _salinity_1978(conductivity, temperature)
    assert salinity_from_conductivity_psu(conductivity, temperature) == pytest.approx(wanted, abs=1e-3)


def _solubility_1992(temperature_c: float, salinity: float) -> float:
    """Garcia and Gordon (1992), Limnol. Oceanogr. 37, 1307-1312, equation 8 (recalled), on IPTS-68."""
    t = 1.00024 * temperature_c
    x = math.log((298.15 - t) / (273.15 + t))
    fresh = _polynomial(x, 5.80871, 3.20291, 4.17887, 5.10006, -9.86643e-2, 3.80369)
    salt = _polynomial(x, -7.01577e-3, -7.70028e-3, -1.13864e-2, -9.51519e-3)
    return math.exp(fresh + salinity * salt - 2.75915e-7 * salinity**2)


@pytest.mark.parametrize(("temperature", "salinity"), GRID)
def test_oxygen_solubility_agrees_with_the_paper(temperature: float, salinity: float) -> None:
    wanted = _solubility_1992(temperature, salinity)
    assert oxygen_solubility_umol_kg(temperature, salinity) == pytest.approx(wanted, rel=1e-9)


def _saturation_1984(temperature_c: float, salinity: float) -> float:
    """Benson and Krause (1984), Limnol. Oceanogr. 29, 620-632 (recalled), mg/l at 1 atm."""
    kelvin = temperature_c + 273.15
    fresh = (
        -139.34411
        + 1.575701e5 / kelvin
        - 6.642308e7 / kelvin**2
        + 1.243800e10 / kelvin**3
        - 8.621949e11 / kelvin**4
    )
    return math.exp(fresh - salinity * (1.7674e-2 - 10.754 / kelvin + 2140.7 / kelvin**2))


@pytest.mark.parametrize(("temperature", "salinity"), GRID)
def test_oxygen_by_volume_agrees_with_an_older_fit(temperature: float, salinity: float) -> None:
    wanted = _saturation_1984(temperature, salinity)
    assert oxygen_saturation_mg_l(temperature, salinity) == pytest.approx(wanted, rel=1.5e-3)


@pytest.mark.parametrize("pressure_kpa", [75.0, 90.0, 105.0])
def test_oxygen_follows_the_pressure_of_dry_air(pressure_kpa: float) -> None:
    vapour = water_vapour_pressure_kpa(26.0, 35.0)
    ratio = oxygen_saturation_mg_l(26.0, 35.0, pressure_kpa) / oxygen_saturation_mg_l(26.0, 35.0)
    assert ratio == pytest.approx((pressure_kpa - vapour) / (101.325 - vapour), rel=1e-12)
