"""The moves that keepers make most often have a plan: two people and a weekend's van, or three and a van for a day."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.command import Run
from tests.verifier import verifier

TEXT = """\
title: A usual move
purpose: house-move
as-of: 2027-01-04 09:00
timezone: Europe/Dublin
currency: EUR
country: IE
dates: {{move-day: 2027-02-20}}
places:
  old: {{floor: 1, steps: 18}}
  new: {{distance: 25 km}}
systems:
  reef: {{tank: {{length: 120 cm, width: 50 cm, height: 50 cm}}, rock: 30 kg}}
livestock:
  tangs: {{kind: tang, count: 2, size: 14 cm}}
  clowns: {{kind: clownfish, count: 2, size: 7 cm}}
  corals: {{kind: small-polyp-coral, count: 10, size: 8 cm}}
  snails: {{kind: snail, count: 20}}
people: {people}
vehicles:
  van: {van}
"""
LONG = "load-space: {length: 3.4 m, width: 1.7 m, height: 1.9 m}"
WEEKEND = "{payload: 1000 kg, hire: {from: 2027-02-19 16:00, until: 2027-02-21 12:00}, " + LONG + "}"
A_DAY = "{payload: 1400 kg, hire: {from: 2027-02-20 08:00, until: 2027-02-20 20:00}, " + LONG + "}"
TWO = "{nora: {drives: yes}, sean: {}}"
THREE = "{nora: {drives: yes}, sean: {drives: yes}, una: {}}"


@pytest.mark.parametrize(
    ("people", "van"), [(TWO, WEEKEND), (THREE, A_DAY)], ids=["two, a weekend", "three, a day"]
)
def test_it_can_be_planned(people: str, van: str, run: Run, tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(TEXT.format(people=people, van=van), "utf-8")
    ran = run("build", plan, "--out", tmp_path / "out")
    data = json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))
    assert ran.status == 0, ran.out
    assert data["status"] in ("ok", "tight"), ran.out
    assert list(verifier.faults(data)) == []
    assert data["risk"]["chances"]["day_missed"] < 0.1


def test_a_day_that_is_too_short_is_told_and_does_not_end_the_program(run: Run, tmp_path: Path) -> None:
    """This heart, which has no schedule, ended the solver's process with some of its settings."""
    plan = tmp_path / "plan.yaml"
    options = {
        "--timezone": "Asia/Tokyo",
        "--units": "us",
        "--purpose": "house-move",
        "--move-day": "2027-02-06",
        "--tank": "40 x 35 x 35 cm",
        "--animals": "1 dwarf-angelfish, 1 foxface, 2 large-angelfish, 9 starfish, 4 turbo-snail, 5 zoanthid",
        "--people": "Ann, Bo, Cy, Di",
        "--distance": "60 km",
        "--old-floor": "1",
        "--new-floor": "3",
        "--payload": "1200 kg",
        "--water": "190 l/day",
    }
    words = [word for option in options.items() for word in option]
    assert run("new", plan, "--no-questions", *words).status == 0
    ran = run("build", plan, "--now", "2026-11-28 18:40", "--out", tmp_path / "out")
    assert ran.status in (0, 1), ran.err
    assert json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))["status"] in (
        "ok",
        "tight",
        "unsafe",
        "cannot-be-done",
    )
