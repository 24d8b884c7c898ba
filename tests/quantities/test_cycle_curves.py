from __future__ import annotations

import numpy as np
import pytest

from moveplan.quantities.cycle import cycle_of, dip_after
from moveplan.science.cycling import days_to_limit


@pytest.mark.parametrize("seeding", ["bare", "rock"])
def test_the_curve_of_a_cycle_passes_both_limits_when_the_estimate_says(seeding: str) -> None:
    cycle = cycle_of(seeding, 25.5)
    day = np.array(cycle.curve.day)
    for line, expected in ((cycle.curve.ammonia, cycle.ammonia), (cycle.curve.nitrite, cycle.nitrite)):
        passed = float(np.ravel(days_to_limit(day, np.array(line)[:, None], 0.25))[0])
        assert abs(passed - expected.likely) < 0.5
    assert 6 < day[-1] - cycle.time.likely / 1440 < 8


def test_the_curve_of_a_dip_rises_as_high_as_the_estimate_says() -> None:
    dip = dip_after(0.2, 25.5, 9.0)
    assert max(dip.curve.ammonia) == pytest.approx(dip.ammonia.likely, abs=0.01)
    assert max(dip.curve.nitrite) == pytest.approx(dip.nitrite.likely, abs=0.01)
    assert dip.curve.day[-1] >= 14
