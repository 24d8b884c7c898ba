"""Every hold point of every way has its own row of chances; none falls back on the row of the others unseen."""

from __future__ import annotations

import pytest

from moveplan.network.task import Kind
from moveplan.risk.prepared.compile import of_key
from moveplan.risk.register.default import table
from tests.examples import project
from tests.practice.ways.test_fitting import CHOSEN


@pytest.mark.parametrize("name", CHOSEN)
def test_each_hold_point_has_a_row(name: str) -> None:
    rows = table("holds")
    for task in project(name).network.tasks:
        if task.kind is Kind.HOLD_POINT:
            assert of_key(rows, task.id) is not rows["other"], task.id
