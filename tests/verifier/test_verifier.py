from __future__ import annotations

import ast
import json
from pathlib import Path
from typing import Any

from typer.testing import CliRunner

from moveplan.cli.app import app
from tests.verifier.verifier import faults, main

OWN = """\
title: Footbridge
purpose: own-tasks
timezone: Europe/Dublin
start: 2027-03-01 08:00
gear:
  - {id: pumps, count: 1}
tasks:
  - {id: footing, duration: 3 h, gear: {pumps: 1}}
  - {id: pit, duration: 2 h, gear: {pumps: 1}}
  - id: deck
    duration: 1 day
    after: [{task: footing, relation: STARTTOSTART, gap: -30 min, at-most: 8 h}]
"""


def _built(plan: Path, folder: Path) -> dict[str, Any]:
    CliRunner().invoke(app, ["build", str(plan), "--out", str(folder), "--runs", "0"])
    result: dict[str, Any] = json.loads((folder / "result.json").read_text(encoding="utf-8"))
    return result


def test_it_imports_nothing_of_the_program() -> None:
    tree = ast.parse((Path(__file__).parent / "verifier.py").read_text(encoding="utf-8"))
    modules = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    modules |= {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert not [name for name in modules if name.startswith("moveplan")]


def test_own_tasks_keep_every_limit_and_each_spoilt_one_is_found(tmp_path: Path) -> None:
    plan = tmp_path / "own.yaml"
    plan.write_text(OWN, encoding="utf-8")
    result = _built(plan, tmp_path / "out")
    assert list(faults(result)) == []
    assert main(str(tmp_path / "out" / "result.json")) == 0
    footing = next(task for task in result["tasks"] if task["id"] == "footing")
    pit = next(task for task in result["tasks"] if task["id"] == "pit")
    for key in ("start", "finish", "segments"):
        pit[key] = footing[key]
    pit["minutes"] = 1
    result["links"][0]["max_gap_minutes"] = -1000
    found = list(faults(result))
    assert "pumps: 2 in use, there are 1" in found
    assert "pit: takes 180 min in place of 1" in found
    assert any("at most -1000" in fault for fault in found)
