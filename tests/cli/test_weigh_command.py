"""Ways are weighed on the terminal, in a Markdown file and as JSON, of one plan or of several."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.command import EXAMPLES, QUICK, Run

SMALL, SHUT = (
    next(path for path in EXAMPLES if path.stem == name)
    for name in ("small_tank_move", "shut_down_and_restart")
)
WAYS = {"same-day", "hold-over", "new-tank-ahead", "same-spot", "shut-down"}


def test_several_plans_are_weighed_against_each_other(run: Run, tmp_path: Path) -> None:
    page = tmp_path / "ways.md"
    ran = run("weigh", SMALL, SHUT, "--out", page, *QUICK)
    assert (ran.status, ran.err) == (0, "")
    text = page.read_text("utf-8")
    for name in ("small_tank_move.yaml", "shut_down_and_restart.yaml"):
        assert f"({name})" in ran.out
        assert "From {}.".format(name.replace("_", "\\_")) in text
    for way in WAYS:
        assert text.count(f"| {way} | ") == 2
        assert ran.out.count(f" (way: {way}): ") == 2
    assert "first choice: everything in one day (way: same-day)" in ran.out
    assert "animals that find new keepers: 19" in ran.out


def test_every_way_is_told_with_its_figures_or_with_why_it_is_out(run: Run) -> None:
    ran = run(
        "weigh", SMALL, "--json", "--runs", "400"
    )  # with less effort the search ends before it finds every way
    assert (ran.status, ran.err) == (0, "")
    (found,) = json.loads(ran.out)["plans"]
    assert found["first_choice"] == "same-day"
    assert {way["way"] for way in found["ways"]} == WAYS
    figures = {
        "animals_over_limit",
        "transit_minutes",
        "cost",
        "labour_hours",
        "weeks",
        "must_go_right",
        "settled",
    }
    first, *_ = found["ways"]
    assert first["way"] == found["first_choice"]
    assert first["status"] in ("ok", "tight")
    for way in found["ways"]:
        if way["fits"]:
            assert way["status"] in ("ok", "tight", "unsafe")
            assert figures <= way.keys()
            assert way["must_go_right"]
        assert bool(way["problems"]) == (not way["fits"] or way["status"] == "unsafe")
        assert all(problem["where"] and problem["remedy"] for problem in way["problems"])
    assert sum(way["fits"] for way in found["ways"]) == 3


def test_words_of_a_plan_do_no_harm_in_the_comparison(run: Run, tmp_path: Path) -> None:
    plan, page = tmp_path / "plan.yaml", tmp_path / "ways.md"
    text = SHUT.read_text("utf-8")
    title = next(line for line in text.splitlines() if line.startswith("title: "))
    plan.write_text(text.replace(title, 'title: "<b>Reef</b> | [x](http://y)"'), "utf-8")
    ran = run("weigh", plan, "--out", page, *QUICK)
    assert (ran.status, ran.err) == (0, "")
    heading = page.read_text("utf-8").splitlines()[0]
    assert heading == r"# \<b\>Reef\</b\> \| \[x\](http\://y): the ways side by side"
    assert "<b>" not in page.read_text("utf-8")


@pytest.mark.parametrize("missing_first", [True, False])
def test_a_plan_that_is_not_there_stops_all_of_them(run: Run, tmp_path: Path, missing_first: bool) -> None:
    nowhere = tmp_path / "nowhere.yaml"
    plans = (nowhere, SHUT) if missing_first else (SHUT, nowhere)
    ran = run("weigh", *plans, "--out", tmp_path / "ways.md", *QUICK)
    assert ran.status == 2
    assert f"{nowhere}: there is no such file" in ran.err
    assert not (tmp_path / "ways.md").exists()
