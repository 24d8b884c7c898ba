"""One person and a tank nobody carries alone: carriers are named with their price, and it works when it is typed in."""

from __future__ import annotations

import json
import re
from pathlib import Path

from tests.cli.command import Run
from tests.quantities.plans import TEXT

QUICK = ("--now", "2027-01-04T09:00", "--solver-seconds", "0.3", "--runs", "100")
TANK = "length: 90 cm, width: 45 cm, height: 45 cm, wall: 10 mm, base: 10 mm, water-height: 40 cm"
HEAVY = "length: 120 cm, width: 60 cm, height: 60 cm, wall: 17 mm, base: 17 mm, water-height: 40 cm"
LEO = "  leo: {name: Leo, lifts: yes, cares: yes}\n"
FEW = (
    "  corals: {name: Branching corals, kind: small-polyp-coral, count: 4, size: 8 cm}\n",
    "  goby: {name: Goby, kind: goby, count: 1, size: 8 cm, temperament: timid}\n",
)


def test_carriers_with_lifters_are_named_and_priced_and_do(run: Run, tmp_path: Path) -> None:
    text = TEXT.replace(TANK, HEAVY).replace(LEO, "")
    for line in FEW:
        text = text.replace(line, "")
    plan = tmp_path / "plan.yaml"
    plan.write_text(text, encoding="utf-8")
    first = run("build", plan, "--out", tmp_path / "one", *QUICK)
    result = json.loads((tmp_path / "one" / "result.json").read_text("utf-8"))
    assert (first.status, result["status"]) == (1, "cannot-be-done")
    (problem,) = result["problems"]
    assert "with suction lifters and straps; the plan has 1" in problem["message"]
    assert "two carriers come for the day, with lifters" in problem["remedy"]
    price = re.search(r"(\d+) EUR with lifters and straps", problem["remedy"])
    assert price is not None
    entries = re.findall(r'"people\.(carrier-\d): (\{.*?per hour\})"', problem["remedy"])
    assert entries
    lines = "".join(f"  {name}: {entry}\n" for name, entry in entries)
    plan.write_text(text.replace("vehicles:\n", f"{lines}vehicles:\n"), encoding="utf-8")
    again = run("build", plan, "--out", tmp_path / "two", *QUICK)
    done = json.loads((tmp_path / "two" / "result.json").read_text("utf-8"))
    assert again.status == 0, again.err
    items = {line["item"] for line in done["cost"]["lines"]}
    assert {"lifters", "straps"} <= items
    assert all(any(item.startswith(f"pay-carrier-{number}-") for item in items) for number in (1, 2))
