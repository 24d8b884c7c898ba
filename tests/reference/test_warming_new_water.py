"""Times to warm new water, worked by hand with t = -tau ln((T1 - Tinf) / (T0 - Tinf)), Tinf = Troom + P / UA.

Heat capacity of sea water at 25 °C and salinity 35: 1.1367 Wh/(l K), TEOS-10 (IOC, SCOR and IAPSO 2010).
"""

from __future__ import annotations

import math

import pytest

from moveplan.quantities.warming import warming_h

WH_L_K = 1.1367
ROWS = [
    # litres, from, to, W, W/K, room, hours
    (300.0, 12.0, 25.5, 600.0, 8.0, 18.0, 7.77),
    (300.0, 12.0, 25.5, 1300.0, 8.0, 18.0, 3.56),
    (300.0, 18.7, 25.5, 1300.0, 12.0, 20.0, 1.82),
    (300.0, 18.7, 25.5, 400.0, 12.0, 20.0, 6.21),
    (60.0, 15.0, 25.5, 300.0, 4.0, 18.0, 2.47),
    (200.0, 10.0, 25.5, 1440.0, 6.0, 18.0, 2.45),
    (30.0, 21.0, 25.0, 100.0, 2.66, 18.0, 1.58),
]


@pytest.mark.parametrize(("litres", "first", "last", "watts", "loss", "room", "hours"), ROWS)
def test_hours_as_by_hand(
    litres: float, first: float, last: float, watts: float, loss: float, room: float, hours: float
) -> None:
    final, tau = room + watts / loss, litres * WH_L_K / loss
    by_hand = -tau * math.log((last - final) / (first - final))
    assert by_hand == pytest.approx(hours, abs=0.02)
    # The library takes its heat capacity at the mean temperature: within 0.5 %.
    assert warming_h(litres, first, last, watts, loss, room) == pytest.approx(by_hand, rel=5e-3)


def test_heaters_that_are_too_weak_never_get_there() -> None:
    assert math.isinf(warming_h(400.0, 12.0, 25.0, 300.0, 30.0, 12.0))
