"""What a plan says of stress on the road reaches the gas of its containers."""

from __future__ import annotations

from typing import Any

import pytest

from moveplan.quantities.safe_time import gas_hours
from moveplan.science.gas.ends import gas_limits
from moveplan.science.gas.vessels import GasLimits, Phase, Vessels
from tests.quantities.plans import group, packed


def test_transport_stress_is_that_of_the_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[Any] = []

    def counted(vessels: Vessels, phases: Any, limits: GasLimits) -> Any:
        seen.append(vessels.road_factor)
        return gas_limits(vessels, phases, limits)

    monkeypatch.setattr(gas_hours, "gas_limits", counted)
    packed(group("tang", "yellow-tang", 8.0), policy={"stress_transport": 3.0})
    assert set(seen) == {3.0}


def test_more_stress_on_the_road_shortens_a_lidded_tub() -> None:
    """At rest the handling factor settles at 1.5; on the road it is at least what the plan says."""
    hours = [
        float(
            gas_limits(
                Vessels(25.0, 25.0, 0.2, 26.0, 35.0, 30.0, road_factor=road),
                [Phase(1.0, on_road=True)],
                GasLimits(4.0, 60.0),
            )[0][0]
        )
        for road in (1.5, 2.0, 3.0)
    ]
    assert hours[0] > hours[1] > hours[2]
