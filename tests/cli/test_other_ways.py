"""Another way of moving is offered where the plan's own cannot be done, and what is offered can be carried out."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.command import Run
from tests.verifier import verifier

OPTIONS = {
    "--timezone": "Australia/Sydney",
    "--purpose": "house-move",
    "--move-day": "2027-02-06",
    "--tank": "150 x 60 x 60 cm",
    "--animals": "5 cardinalfish, 7 urchin, 11 soft-coral, 5 gorgonian, 8 zoanthid",
    "--people": "Ann, Bo",
    "--distance": "40 km",
    "--old-floor": "2",
    "--new-floor": "0",
    "--payload": "1500 kg",
    "--water": "190 l/day",
}


CROWDED = OPTIONS | {
    "--tank": "40 x 35 x 35 cm",
    "--animals": "1 chromis, 2 mandarin, 2 palette-tang, 8 brittle-star, 10 urchin, 7 conch, 1 sea-cucumber, "
    "3 turbo-snail, 1 leather-coral, 7 soft-coral, 9 plate-coral, 1 gorgonian, 4 small-polyp-coral",
    "--distance": "0.3 km",
    "--payload": "1200 kg",
}
"""Far too many animals for a small tank: they would be in tubs for longer than is safe. Invented."""


def _new(run: Run, path: Path, options: dict[str, str]) -> Path:
    words = [word for row in options.items() for word in row]
    assert run("new", path, "--no-questions", *words).status == 0
    return path


@pytest.fixture
def plan(run: Run, tmp_path: Path) -> Path:
    """Too much for two people in a day."""
    return _new(run, tmp_path / "plan.yaml", OPTIONS)


def _built(run: Run, plan: Path, out: Path) -> tuple[int, dict[str, Any]]:
    status = run("build", plan, "--now", "2026-11-28 18:40", "--out", out, "--runs", "0").status
    return status, json.loads((out / "result.json").read_text("utf-8"))


def test_the_way_that_is_offered_can_be_carried_out(run: Run, plan: Path, tmp_path: Path) -> None:
    status, data = _built(run, plan, tmp_path / "first")
    assert (status, data["status"]) == (1, "cannot-be-done")
    (problem,) = data["problems"]
    offer = problem["remedy"].split('write "way: hold-over" (')[1]
    assert offer.startswith("the animals wait in a holding tank between two days; tried: settled by 2027-")
    assert "danger" not in offer
    text = plan.read_text("utf-8")
    plan.write_text(text.replace("purpose: house-move", "purpose: house-move\nway: hold-over"), "utf-8")
    status, data = _built(run, plan, tmp_path / "second")
    assert (status, data["status"]) == (0, "ok")
    assert list(verifier.faults(data)) == []


def test_a_safe_way_is_offered_where_the_own_is_not(run: Run, tmp_path: Path) -> None:
    plan = _new(run, tmp_path / "plan.yaml", CROWDED)
    status, data = _built(run, plan, tmp_path / "first")
    assert (status, data["status"]) == (1, "unsafe")
    offer = (
        'write "way: hold-over" (the animals wait in a holding tank between two days; tried: settled by 2027-'
    )
    assert offer in data["problems"][0]["remedy"]
    text = plan.read_text("utf-8")
    plan.write_text(text.replace("purpose: house-move", "purpose: house-move\nway: hold-over"), "utf-8")
    status, data = _built(run, plan, tmp_path / "second")
    assert (status, data["status"]) == (0, "ok")


def test_animals_are_not_given_away_for_want_of_time(run: Run, plan: Path, tmp_path: Path) -> None:
    _, data = _built(run, plan, tmp_path / "first")
    assert "shut-down" not in json.dumps(data["problems"])


def test_a_plan_that_can_be_done_is_offered_nothing(run: Run, plan: Path, tmp_path: Path) -> None:
    text = plan.read_text("utf-8")
    plan.write_text(text.replace("purpose: house-move", "purpose: house-move\nway: hold-over"), "utf-8")
    status, data = _built(run, plan, tmp_path / "out")
    assert status == 0
    assert data["problems"] == []
