"""Salt and water of a mix close by mass, with TEOS-10 by the gsw library: no kilogram appears or is lost.

IOC, SCOR and IAPSO (2010), The international thermodynamic equation of seawater - 2010, run here.
"""

from __future__ import annotations

from dataclasses import replace

import gsw
import pytest

from moveplan.quantities.water.amounts import LOST_SHARE, making_of, mixed_of
from tests.quantities.plans import plan_of

FRESH_KG_L = 0.9970
"""Purified water at 25 °C; IAPWS-95, recalled. [kg/l]"""


def mass_kg(litres: float, celsius: float, salinity: float) -> float:
    absolute = gsw.SA_from_SP(salinity, 0.0, 0.0, 0.0)
    return litres / 1000 * float(gsw.rho(absolute, gsw.CT_from_t(absolute, celsius, 0.0), 0.0))


@pytest.mark.parametrize("salinity", [30.0, 33.0, 35.0, 37.0])
@pytest.mark.parametrize("celsius", [22.0, 25.0, 28.0])
@pytest.mark.parametrize("moisture", [0.0, 0.06, 0.15])
def test_what_goes_in_weighs_what_comes_out(salinity: float, celsius: float, moisture: float) -> None:
    plan = plan_of()
    system = replace(plan.systems[0], salinity_psu=salinity, temperature_c=celsius)
    making = replace(making_of(plan), salt_moisture=moisture)
    purified, mix = mixed_of(system, 250.0, making)
    water_kg = FRESH_KG_L * purified.likely / (1 + LOST_SHARE[1])
    salt_kg = mix.likely * (1 - moisture)
    whole_kg = mass_kg(250.0, celsius, salinity)
    assert water_kg + salt_kg == pytest.approx(whole_kg, rel=3e-4)
    back = gsw.SP_from_SA(1000 * salt_kg / (water_kg + salt_kg), 0.0, 0.0, 0.0)
    assert back == pytest.approx(salinity, abs=0.02), "its salinity comes back"


def test_mixing_two_waters_keeps_salt_and_mass() -> None:
    """100 l at salinity 33 and 100 l at 37, by mass: 34.997 in 204.9 kg, and salt as much as in both."""
    plan = plan_of()
    making = making_of(plan)
    parts = [replace(plan.systems[0], salinity_psu=one, temperature_c=25.0) for one in (33.0, 37.0)]
    salts = [mixed_of(one, 100.0, making)[1].likely * (1 - making.salt_moisture) for one in parts]
    masses = [mass_kg(100.0, 25.0, one.salinity_psu) for one in parts]
    together = float(gsw.SP_from_SA(1000 * sum(salts) / sum(masses), 0.0, 0.0, 0.0))
    assert sum(masses) == pytest.approx(204.7, abs=0.1)
    assert together == pytest.approx(35.0, abs=0.02)
