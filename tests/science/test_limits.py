from __future__ import annotations

import pytest

from moveplan.errors import OutOfRangeError
from moveplan.science.limits import KnownAs, Limit, limits


@pytest.mark.parametrize("limit", limits().values(), ids=limits())
def test_every_limit_says_what_it_is_and_where_it_comes_from(limit: Limit) -> None:
    assert limit.low <= limit.value <= limit.high
    assert limit.meaning
    assert limit.unit
    assert limit.source
    if limit.source.startswith("common practice"):
        assert limit.known_as in {KnownAs.COMMON_PRACTICE, KnownAs.POLICY}


def test_the_defaults_that_decide_a_safe_time_are_pinned() -> None:
    wanted = {
        "oxygen_alarm_share": 0.6,
        "carbon_dioxide_limit": 15.0,
        "ammonia_limit": 0.05,
        "temperature_floor": 22.0,
        "safety_factor": 0.7,
        "stress_transport": 2.0,
        "ammonia_quotient_fasted": 0.10,
        "respiratory_quotient": 0.85,
    }
    assert {name: limits()[name].value for name in wanted} == wanted


def test_a_limit_outside_its_own_range_is_refused() -> None:
    with pytest.raises(OutOfRangeError) as caught:
        Limit("safety_factor", 1.5, "-", 0.3, 1.0, "share", "policy", KnownAs.POLICY)
    assert str(caught.value) == "safety_factor = 1.5 is outside 0.3 to 1 (policy)"


def test_limits_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        limits()["oxygen_alarm_share"] = limits()["oxygen_stop_share"]  # type: ignore[index]
