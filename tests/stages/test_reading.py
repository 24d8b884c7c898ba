"""A plan that no formula covers is a plan that cannot be done, which every command tells as such."""

from __future__ import annotations

import pytest

from moveplan.errors import OutOfRangeError
from moveplan.plan.move import Plan
from moveplan.practice.project import Project
from moveplan.stages import reading
from tests.quantities.plans import plan_of


def test_a_value_beyond_a_formula_is_a_reason_why_it_cannot_be_done(monkeypatch: pytest.MonkeyPatch) -> None:
    def beyond(_plan: Plan, *, steps: bool) -> Project:
        raise OutOfRangeError("temperature_c", 60.0, 0.0, 40.0, "range of the fit")

    monkeypatch.setattr(reading, "project_of", beyond)
    (reason,) = reading.compose(plan_of()).impossible
    assert str(reason) == (
        "plan.yaml:13 systems: temperature_c = 60.0 is outside 0 to 40 (range of the fit); correct the size, amount "
        "or temperature from which it follows"
    )
