from __future__ import annotations

import pytest

from moveplan.science.fasting import GREATEST_FAST_H, fast_window_h
from moveplan.science.livestock import Feeding, kind_named

EVERY_FEEDING = pytest.mark.parametrize("feeding", Feeding)


@EVERY_FEEDING
@pytest.mark.parametrize("temperature_c", [12.0, 18.0, 22.0, 26.0, 30.0])
@pytest.mark.parametrize("mass_g", [0.2, 4.9, 5.0, 49.0, 300.0])
def test_a_window_is_in_order_and_never_above_two_days(
    feeding: Feeding, temperature_c: float, mass_g: float
) -> None:
    least, wished, most = fast_window_h(mass_g, temperature_c, feeding)
    assert 0.0 <= least <= wished <= most <= GREATEST_FAST_H


@EVERY_FEEDING
@pytest.mark.parametrize("mass_g", [2.0, 40.0, 300.0])
def test_cool_water_never_shortens_a_fast(feeding: Feeding, mass_g: float) -> None:
    windows = [fast_window_h(mass_g, temperature, feeding) for temperature in (28.0, 24.0, 20.0, 16.0)]
    assert windows == sorted(windows)


@pytest.mark.parametrize(
    ("kind", "mass_g", "window"),
    [
        ("clownfish", 12.0, (18.0, 24.0, 36.0)),
        ("yellow tang", 45.0, (12.0, 15.0, 24.0)),
        ("anthias", 15.0, (12.0, 15.0, 24.0)),
        ("pygmy goby", 0.3, (12.0, 15.0, 24.0)),
        ("grouper", 250.0, (36.0, 42.0, 48.0)),
        ("lionfish", 20.0, (18.0, 24.0, 36.0)),
        ("small polyp coral", 120.0, (24.0, 24.0, 48.0)),
        ("turbo snail", 16.0, (0.0, 0.0, 48.0)),
    ],
)
def test_who_fasts_how_long(kind: str, mass_g: float, window: tuple[float, float, float]) -> None:
    """Common practice, no source."""
    assert fast_window_h(mass_g, 26.0, kind_named(kind).feeding) == window
