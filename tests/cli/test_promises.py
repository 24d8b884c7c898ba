"""Plans that ask for a promise which cannot be kept so often: what they are told, in full sentences."""

from __future__ import annotations

import json
from pathlib import Path

from tests.cli.command import EXAMPLES, Run

SHORT = next(path for path in EXAMPLES if path.stem == "short_plan").read_text("utf-8")
QUICK = ("--solver-seconds", "0.1", "--runs", "2000")
STORM = """
risks:
  bridge-shut: {event: The bridge is shut, probability: 45 %, delay: 1 day, tasks: [go-or-no-go]}
"""


def built(run: Run, folder: Path, text: str) -> str:
    plan = folder / "plan.yaml"
    plan.write_text(text, "utf-8")
    ran = run("build", plan, "--out", folder / "out", *QUICK)
    assert ran.status == 0
    return ran.out


def test_more_confidence_than_can_be_had_says_what_stands_in_its_way(run: Run, tmp_path: Path) -> None:
    out = built(run, tmp_path, f"confidence: 99.9 %\n{SHORT}")
    assert "it can be done, but it is tight: kept as promised in 9" in out.splitlines()[0]
    assert "the plan asks for 99.9 %." in out
    assert ": the move slips to the day to fall back on" in out
    assert "No change that was tried " in out
    promise = json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))["promise"]
    surest = f"“confidence: {int(100 * promise['kept'])} %”, which is kept without a change."
    assert f"It needs more room where it breaks, or {surest}" in out
    often = [one for one in promise["breaks"] if one["chance"] > 0.001 and one["what"] != "safe-time"]
    told = out.partition("it breaks (these overlap):")[2].partition("what helps")[0]
    assert sum(line.startswith("    ") for line in told.splitlines()) >= len(often)


def test_a_risk_that_makes_a_promise_impossible_is_named(run: Run, tmp_path: Path) -> None:
    out = built(run, tmp_path, SHORT + STORM)
    assert "No schedule can keep that promise: “The bridge is shut” alone lets it hold in 5" in out
    assert "and the plan asks for 80 %. Take a measure against it, or write a lower confidence." in out
    assert "No schedule can keep that promise" in (tmp_path / "out" / "summary.md").read_text("utf-8")


def test_a_plan_that_holds_has_no_such_sentence(run: Run, tmp_path: Path) -> None:
    out = built(run, tmp_path, SHORT)
    assert "it can be done (" in out
    assert "No schedule can keep" not in out
    assert "No change that was tried" not in out


def test_the_example_that_is_meant_to_be_tight_is(run: Run, tmp_path: Path) -> None:
    """With the usual effort, as somebody sees it who tries the example."""
    (plan,) = (path for path in EXAMPLES if path.stem == "tight_day")
    ran = run("build", plan, "--out", tmp_path)
    found = json.loads((tmp_path / "result.json").read_text("utf-8"))
    assert (ran.status, found["status"]) == (0, "tight")
    promise = found["promise"]
    assert 0.5 < promise["kept"] < promise["confidence"]
    assert [one["id"] for one in promise["breaks"]][:1] == ["dara"]
    assert promise["helps"]
    assert all(one["kept"] > promise["kept"] and one["tried"] for one in promise["helps"])
