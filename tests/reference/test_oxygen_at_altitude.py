"""Oxygen at 0, 1,600 and 3,000 m against the equations of Benson and Krause, written out here.

Benson and Krause (1984), Limnol. Oceanogr. 29, 620-632, for salinity at one atmosphere; the factor of pressure of
Benson and Krause (1980), Limnol. Oceanogr. 25, 662-671, as the US Geological Survey tabulates it (all recalled). The
program uses the newer fit of Garcia and Gordon (1992) and the share of dry air alone: both agree within half a percent.
"""

from __future__ import annotations

import math

import pytest

from moveplan.science.gas.dissolved import oxygen_saturation_mg_l, pressure_at_altitude_kpa

ATMOSPHERE_KPA = 101.325
HEIGHTS = (0.0, 1600.0, 3000.0)


def at_one_atmosphere_mg_l(temperature_c: float, salinity: float) -> float:
    kelvin = temperature_c + 273.15
    terms = (-139.34411, 1.575701e5, -6.642308e7, 1.243800e10, -8.621949e11)
    fresh = sum(term / kelvin**power for power, term in enumerate(terms))
    return math.exp(fresh - salinity * (1.7674e-2 - 10.754 / kelvin + 2140.7 / kelvin**2))


def factor_of_pressure(temperature_c: float, pressure_kpa: float) -> float:
    """P [(1 - u/P)(1 - theta P)] / [(1 - u)(1 - theta)] in atmospheres; u: vapour, theta: non-ideal oxygen."""
    kelvin, pressure = temperature_c + 273.15, pressure_kpa / ATMOSPHERE_KPA
    vapour = math.exp(11.8571 - 3840.70 / kelvin - 216961 / kelvin**2)
    theta = 0.000975 - 1.426e-5 * temperature_c + 6.436e-8 * temperature_c**2
    here = pressure * (1 - vapour / pressure) * (1 - theta * pressure)
    return here / ((1 - vapour) * (1 - theta))


@pytest.mark.parametrize(("celsius", "printed"), [(20.0, 9.09), (25.0, 8.26), (30.0, 7.56)])
def test_the_equations_are_those_of_the_printed_table(celsius: float, printed: float) -> None:
    """Fresh water at 760 mmHg, table of the Geological Survey, to its two places; recalled."""
    assert at_one_atmosphere_mg_l(celsius, 0.0) == pytest.approx(printed, abs=0.006)


@pytest.mark.parametrize("height_m", HEIGHTS)
@pytest.mark.parametrize("celsius", [20.0, 24.0, 26.0, 28.0, 30.0])
@pytest.mark.parametrize("salinity", [0.0, 30.0, 35.0, 38.0])
def test_oxygen_at_a_height(height_m: float, celsius: float, salinity: float) -> None:
    pressure = float(pressure_at_altitude_kpa(height_m))
    wanted = at_one_atmosphere_mg_l(celsius, salinity) * factor_of_pressure(celsius, pressure)
    assert oxygen_saturation_mg_l(celsius, salinity, pressure) == pytest.approx(wanted, rel=5e-3)


def test_a_third_is_missing_at_three_thousand_metres() -> None:
    """Of 6.66 mg/l at the sea, 26 °C and salinity 35: 4.54 are left, so a limit in mg/l would never be kept there."""
    sea, high = (
        float(oxygen_saturation_mg_l(26.0, 35.0, pressure_at_altitude_kpa(height)))
        for height in (0.0, 3000.0)
    )
    assert high / sea == pytest.approx(factor_of_pressure(26.0, 70.11), rel=2e-3)
    assert high < 5.0 < sea
