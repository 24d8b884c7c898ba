"""Carbon dioxide from pH and alkalinity, against seawater in balance with air."""

from __future__ import annotations

import numpy as np
import pytest

from moveplan.science.water.carbonate import inorganic_carbon_mmol_kg, ph_total_of
from moveplan.science.water.carbonate_constants import constants, ph_nbs_minus_total
from moveplan.science.water.ph import LEAST_UATM, MOST_UATM, carbon_dioxide_of_ph_uatm


@pytest.mark.parametrize("uatm", [200.0, 400.0, 1000.0, 3000.0])
@pytest.mark.parametrize("alkalinity", [2.0, 2.3, 4.0])
def test_it_is_the_way_back_from_carbon_dioxide_to_ph(uatm: float, alkalinity: float) -> None:
    carbon = inorganic_carbon_mmol_kg(alkalinity, uatm, 25.5, 35.0)
    known, nothing = constants(np.array([25.5]), np.array([35.0])), np.zeros(1)
    total = ph_total_of(np.array([alkalinity / 1000]), np.array([carbon / 1000]), nothing, known, nothing)
    ph = float(total[0]) + float(ph_nbs_minus_total(25.5, 35.0))
    assert carbon_dioxide_of_ph_uatm(ph, alkalinity, 25.5, 35.0) == pytest.approx(uatm, rel=0.01)


def test_readings_that_do_not_belong_together_are_kept_within_what_rooms_have() -> None:
    assert carbon_dioxide_of_ph_uatm(9.0, 1.0, 25.5, 35.0) == LEAST_UATM
    assert carbon_dioxide_of_ph_uatm(6.6, 10.0, 25.5, 35.0) == MOST_UATM
