from __future__ import annotations

import numpy as np
import pytest

from moveplan.quantities.keeping.cycle import cycle_of, dip_after
from moveplan.quantities.keeping.gates import NitrogenGates
from moveplan.science.filter.cycling import days_to_limit

REEF = NitrogenGates(0.25, 1.0)


@pytest.mark.parametrize("seeding", ["bare", "rock"])
def test_the_curve_of_a_cycle_passes_both_limits_when_the_estimate_says(seeding: str) -> None:
    cycle = cycle_of(seeding, 25.5, REEF)
    day = np.array(cycle.curve.day)
    for line, limit, expected in (
        (cycle.curve.ammonia, 0.25, cycle.ammonia),
        (cycle.curve.nitrite, 1.0, cycle.nitrite),
    ):
        passed = float(np.ravel(days_to_limit(day, np.array(line)[:, None], limit))[0])
        assert abs(passed - expected.likely) < 0.5
    assert 6 < day[-1] - cycle.time.likely / 1440 < 8


def test_the_curve_of_a_dip_rises_as_high_as_the_estimate_says() -> None:
    dip = dip_after(0.2, 25.5, 9.0, REEF)
    assert max(dip.curve.ammonia) == pytest.approx(dip.ammonia.likely, abs=0.01)
    assert max(dip.curve.nitrite) == pytest.approx(dip.nitrite.likely, abs=0.01)
    assert dip.curve.day[-1] >= 14
