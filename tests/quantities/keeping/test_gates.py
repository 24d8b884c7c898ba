from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.quantities.keeping.gates import NitrogenGates, fish_alone, nitrogen_gates
from tests.examples import plan


def test_limits_follow_from_who_lives_there() -> None:
    """1.0 for a reef, 3.0 where fish live alone; sources beside the limits."""
    found = plan("house_move")
    assert nitrogen_gates(found, "display") == NitrogenGates(0.25, 1.0)
    fish = tuple(group for group in found.livestock if fish_alone([group]))
    assert fish
    assert nitrogen_gates(replace(found, livestock=fish), "display") == NitrogenGates(0.25, 3.0)
    assert nitrogen_gates(replace(found, livestock=()), "display").nitrite == 1.0


@pytest.mark.parametrize(("name", "field"), [("gate_total_ammonia", "ammonia"), ("gate_nitrite", "nitrite")])
def test_a_plan_sets_its_own(name: str, field: str) -> None:
    found = replace(plan("house_move"), policy={name: 0.12})
    assert getattr(nitrogen_gates(found, "display"), field) == 0.12
