"""A plan as small as they come: nothing on the list that does not apply, and nothing left out that is needed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.command import Run

PLAN = """\
# People and places are invented.
title: One clownfish
purpose: house-move
as-of: 2027-01-04 09:00
timezone: Europe/Dublin
currency: EUR
country: IE
dates: {move-day: 2027-02-20}
places: {old: {}, new: {distance: 5 km}}
systems: {nano: {tank: {length: 60 cm, width: 30 cm, height: 36 cm}, stand: 12 kg}}
livestock: {clown: {kind: clownfish, count: 1, size: 6 cm}}
people: {nora: {drives: yes}}
vehicles: {car: {payload: 400 kg}}
"""
ALONE = "{nora: {drives: yes}}"
STEPS = {
    "agree-plan",
    "ask-permission",
    "brief-crew",
    "carries-stock-nano",
    "catch-fish-nano",
    "charge-batteries",
    "check-new-floor",
    "check-new-power",
    "check-seams-nano",
    "check-water-unit",
    "clean-filters-nano",
    "clean-old-room",
    "connect-equipment-nano",
    "count-all-nano",
    "daily-look-nano",
    "disease-watch-nano",
    "drain-tank-nano",
    "draw-keep-water-nano",
    "drive-car",
    "feed-little-nano",
    "fill-bin",
    "fill-cans-nano",
    "fill-tank-nano",
    "filter-recovers-nano",
    "final-health-check-nano",
    "first-change-nano",
    "fish-warm-nano",
    "float-fish-nano",
    "go-or-no-go",
    "health-check-nano",
    "heaters-cool-nano",
    "heaters-off-nano",
    "keys-in-hand",
    "last-feed-nano",
    "lay-hoses-nano",
    "leak-check-nano",
    "list-livestock-nano",
    "load-animals-car",
    "load-tank-car",
    "look-back",
    "lower-water-nano",
    "make-afresh-change-nano",
    "make-water",
    "mark-positions-nano",
    "meal-nora",
    "measure-water-nano",
    "mix-afresh-change-nano",
    "mix-water",
    "mount-rest-nano",
    "no-way-back-nano",
    "order-missing",
    "pack-dry",
    "pack-kit",
    "pause-nora",
    "photograph-display-nano",
    "place-tank-nano",
    "plumb-tank-nano",
    "print-labels",
    "raise-light-nano",
    "record-baseline-nano",
    "record-morning-nano",
    "release-fish-nano-territorial",
    "restart-dosing-nano",
    "rinse-sand-nano",
    "rock-in-nano",
    "rock-out-nano",
    "sand-in-nano",
    "sand-out-nano",
    "seal-fish-nano",
    "set-out-nano",
    "settle-accounts",
    "settled-nano",
    "stand-water",
    "start-charging",
    "start-equipment-nano",
    "start-water",
    "strip-equipment-nano",
    "tank-off-nano",
    "test-air",
    "test-heaters",
    "trim-water",
    "unload-animals-car",
    "unload-rest-car",
    "unload-tank-car",
    "vehicle-here-car",
    "wait-gear",
    "wait-permission",
    "warm-new",
    "warm-water-nano",
    "wash-containers",
    "wash-gear",
    "watch-evening-nano",
    "water-matched-nano",
    "weather-fits",
    "weekly-tests-nano",
}
"""What moving a tank takes, however small; read through by hand, common practice, no source."""
FOR_OTHERS = ("book-fall-back", "rehearse-carry", "rehearse-drive", "return-borrowed")
"""What only helpers, a tank for two or a longer way ask for."""


@pytest.mark.parametrize("people", [ALONE, "{nora: {drives: yes}, sam: {}}"])
def test_one_small_fish_has_a_list_of_150_lines_with_every_step_and_each_caution_once_a_day(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, people: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("plan.yaml").write_text(PLAN.replace(ALONE, people), encoding="utf-8")
    assert run("build", "plan.yaml", "--out", "out", "--solver-seconds", "0.3").status == 0
    data = json.loads(Path("out/result.json").read_text("utf-8"))
    told = Path("out/checklist.md").read_text("utf-8").replace("\\", "")
    lines = told.splitlines()
    assert len(lines) <= 150
    tasks = {task["id"]: task for task in data["tasks"]}
    assert set(tasks) >= STEPS
    if people == ALONE:
        assert not set(FOR_OTHERS) & set(tasks)
    for task in tasks.values():
        line = next(one for one in lines if f". **{task['title']}**" in one)
        assert all(step.replace("\\", "") in line for step in task["steps"]), task["id"]
    full = {one["id"]: f"**Care, {one['id'].replace('-', ' ')}.** {one['text']}" for one in data["cautions"]}
    by_day: dict[str, set[str]] = {}
    for task in tasks.values():
        by_day.setdefault(task["start"][:10], set()).update(task["cautions"])
    for name, text in full.items():
        assert told.count(text) == sum(name in cautions for cautions in by_day.values()), name
