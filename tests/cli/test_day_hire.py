"""A van for one day, and keys on the moving day: plans that keepers make most often."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.command import Run
from tests.practice.test_arrival import EVENING, HEAD, LATER, MORNING
from tests.verifier import verifier


@pytest.mark.parametrize(
    ("access", "end", "billed_days"), [("2027-02-15 10:00", EVENING, 1), ("2027-02-20 09:00", LATER, 2)]
)
def test_a_day_is_enough(access: str, end: str, billed_days: int, run: Run, tmp_path: Path) -> None:
    """A van that is booked until the next noon stays for the night, and is billed on both days."""
    dates = f"{{move-day: 2027-02-20, access-from: {access}}}"
    plan = tmp_path / "plan.yaml"
    plan.write_text(HEAD.format(dates=dates, begin=MORNING, end=end), "utf-8")
    ran = run("build", plan, "--out", tmp_path / "out", "--solver-seconds", "0.2")
    assert (ran.status, ran.err) == (0, "")
    data = json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))
    assert list(verifier.faults(data)) == []
    ends = {task["id"]: task for task in data["tasks"]}
    assert ends["fetch-vehicle-van"]["start"] >= "2027-02-20T08:00:00+00:00"
    assert ends["no-way-back-reef"]["start"] >= ends["vehicle-here-van"]["finish"]
    assert ends["no-way-back-reef"]["start"] >= ends["keys-in-hand"]["finish"]
    days = next(line for line in data["cost"]["lines"] if line["item"] == "hire-van")
    assert days["quantity"] == billed_days
    kept = [ends[task]["finish"][:10] for task in ("fetch-vehicle-van", "return-vehicle-van")]
    assert len(set(kept)) == billed_days
