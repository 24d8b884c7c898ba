"""Another way of moving is offered where the plan's own cannot be done, and what is offered can be carried out."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from moveplan.scheduling.improve import result
from moveplan.scheduling.schedule import Placement
from moveplan.scheduling.state.desk import Spot
from moveplan.scheduling.state.model import Model
from tests.cli.command import QUICK, Run
from tests.verifier import verifier

CROWDED = {
    "--timezone": "Australia/Sydney",
    "--purpose": "house-move",
    "--move-day": "2027-02-06",
    "--people": "Ann, Bo",
    "--old-floor": "2",
    "--new-floor": "0",
    "--water": "190 l/day",
    "--tank": "60 x 40 x 40 cm",
    "--animals": "1 chromis, 1 mandarin, 2 palette-tang, 3 turbo-snail, 3 soft-coral",
    "--distance": "0.3 km",
    "--payload": "1200 kg",
}
"""Too large fish for a small tank: one day in a hundred has them in their boxes for too long. Invented."""


def _new(run: Run, path: Path, options: dict[str, str]) -> Path:
    words = [word for row in options.items() for word in row]
    assert run("new", path, "--no-questions", *words).status == 0
    return path


@pytest.fixture
def plan(run: Run, tmp_path: Path) -> Path:
    """Too much for two people who have to go at half past one."""
    path = _new(run, tmp_path / "plan.yaml", CROWDED)
    text = path.read_text("utf-8").replace("# moving-day: 06:30-23:00", "moving-day: 06:30-13:30")
    longer = "# hours: {mon-fri: 18:00-21:00, sat-sun: 09:00-18:00}"
    assert longer in text
    path.write_text(text.replace(longer, longer[2:].replace("18:00}", "13:30}")), "utf-8")
    return path


def _built(run: Run, plan: Path, out: Path, *more: str) -> tuple[int, dict[str, Any]]:
    status = run("build", plan, "--now", "2026-11-28 18:40", "--out", out, "--runs", "0", *more).status
    return status, json.loads((out / "result.json").read_text("utf-8"))


def test_the_way_that_is_offered_can_be_carried_out(run: Run, plan: Path, tmp_path: Path) -> None:
    """Animals are not given away for want of time."""
    status, data = _built(run, plan, tmp_path / "first")
    assert (status, data["status"]) == (1, "cannot-be-done")
    (problem,) = data["problems"]
    assert "shut-down" not in json.dumps(problem)
    offer = problem["remedy"].split('write "way: hold-over" (')[1]
    assert offer.startswith("the animals wait in a holding tank between two days; tried: settled by 2027-")
    assert "danger" not in offer
    text = plan.read_text("utf-8")
    plan.write_text(text.replace("purpose: house-move", "purpose: house-move\nway: hold-over"), "utf-8")
    status, data = _built(run, plan, tmp_path / "second")
    assert (status, data["status"] in ("ok", "tight"), data["problems"]) == (0, True, [])
    assert list(verifier.faults(data)) == []


def test_a_way_whose_schedule_breaks_a_promise_is_not_offered(
    run: Run, plan: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Everything that the engine places comes out a quarter of an hour too long."""
    whole = result.placement_of

    def broken(model: Model, position: int, spot: Spot) -> Placement:
        stands = whole(model, position, spot)
        return replace(stands, finish=stands.finish + 15)

    monkeypatch.setattr(result, "placement_of", broken)
    status, data = _built(run, plan, tmp_path / "first", *QUICK)
    assert (status, data["status"] in ("cannot-be-done", "undecided")) == (1, True)
    assert "way:" not in data["problems"][0]["remedy"]


def test_a_safe_way_is_offered_where_the_own_is_not(run: Run, tmp_path: Path) -> None:
    """A day of more water, more fish and a longer way is over the limit by seven times, the holding tank far below."""
    animals = CROWDED["--animals"].replace("2 palette-tang", "4 palette-tang")
    larger = {"--animals": animals, "--tank": "80 x 50 x 50 cm", "--distance": "10 km"}
    plan = _new(run, tmp_path / "plan.yaml", CROWDED | larger)
    plan.write_text(plan.read_text("utf-8") + "safe-time-risk: 0.2 %\n", "utf-8")
    status, data = _built(run, plan, tmp_path / "first", "--runs", "2000")
    assert (status, data["status"]) == (1, "unsafe")
    assert data["problems"][0]["message"].endswith("; the plan accepts 0.2 %")
    offer = (
        'write "way: hold-over" (the animals wait in a holding tank between two days; tried: settled by 2027-'
    )
    assert offer in data["problems"][0]["remedy"]
    text = plan.read_text("utf-8")
    plan.write_text(text.replace("purpose: house-move", "purpose: house-move\nway: hold-over"), "utf-8")
    status, data = _built(run, plan, tmp_path / "second", "--runs", "2000")
    assert (status, data["status"] in ("ok", "tight")) == (0, True)
