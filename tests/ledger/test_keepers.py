"""The accounts of keepers at random close; ``KEEPERS=300`` tries so many of them, ``KEEPERS_FROM=40`` others."""

from __future__ import annotations

import os
from datetime import datetime
from pathlib import Path

import pytest
import yaml

from moveplan.planfile import read_plan
from moveplan.planfile.editor import plan_schema
from tests.cli.command import Run
from tests.ledger.built import built
from tests.ledger.checker import ledger_faults
from tests.ledger.keepers import WAYS, keeper, known

FIRST = int(os.environ.get("KEEPERS_FROM", "0"))
FOUND = (41, 45, 76)
"""Keepers whose plans had a fault once: water too old, water out of reach, and a long day without a break."""
NUMBERS = tuple(dict.fromkeys((*range(FIRST, FIRST + int(os.environ.get("KEEPERS", "12"))), *FOUND)))
READ = 84
"""Keepers whose plan is only read, 10 ms each."""
DEFINITIONS = plan_schema()["$defs"]
NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001


def _written(number: int, folder: Path) -> Path:
    plan = folder / f"keeper_{number}.yaml"
    plan.write_text(yaml.safe_dump(known(keeper(number), DEFINITIONS), sort_keys=False), "utf-8")
    return plan


@pytest.mark.parametrize("number", NUMBERS)
def test_its_accounts_close(number: int, run: Run, tmp_path: Path) -> None:
    result = built(run, _written(number, tmp_path), tmp_path / "out")
    assert result["status"] in ("ok", "tight", "unsafe", "cannot-be-done", "undecided")
    assert ledger_faults(result) == []


def test_keepers_are_of_every_kind_and_their_plans_are_without_fault(tmp_path: Path) -> None:
    plans = [read_plan(_written(number, tmp_path), NOW) for number in range(READ)]
    lengths = [plan.systems[0].tank.length_m for plan in plans]
    assert {(plan.purpose, plan.way) for plan in plans if plan.way} == set(WAYS)
    assert {plan.units for plan in plans} == {"metric", "us"}
    assert min(lengths) < 0.4
    assert max(lengths) > 2
    days = [plan.dates.move_days[0] for plan in plans if plan.dates]
    assert {day.month for day in days} == set(range(1, 13))
    assert keeper(3) == keeper(3) != keeper(4)
