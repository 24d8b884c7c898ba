"""What a command loads: no more of the program than it needs, so that it begins at once."""

from __future__ import annotations

import re
import subprocess
import sys

import pytest

from tests.cli.command import EXAMPLES, ROOT

SOLVERS = {"ortools", "pandas", "networkx", "scipy"}
CALENDARS = {"icalendar", "holidays"}
SCHEDULES = {
    "moveplan.journal.records",
    "moveplan.outputs.documents.page",
    "moveplan.pipeline",
    "moveplan.risk.runs.simulate",
    "moveplan.scheduling.solve",
    "moveplan.scheduling.dates.critical",
}


def loaded(*arguments: str) -> set[str]:
    """Run a command, and name the modules that it has loaded, packages they lie in included."""
    ran = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "moveplan", *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    names = re.findall(r"(?m)^import time: +\d+ \| +\d+ \| +(\S+)$", ran.stderr)
    return {name for full in names for name in (full, full.partition(".")[0])}


def test_help_loads_no_stage() -> None:
    found = loaded("--help")
    assert "typer" in found
    assert not found & (SOLVERS | CALENDARS | {"numpy", "pydantic", "yaml", "jinja2", "babel"})
    assert not {name for name in found if re.match(r"moveplan\.(?!cli|errors)", name)}


@pytest.mark.parametrize("example", ["short_plan", "house_move"])
def test_check_loads_nothing_that_schedules(example: str) -> None:
    assert f"{example}.yaml" in {path.name for path in EXAMPLES}
    found = loaded("check", f"examples/{example}.yaml")
    assert {"numpy", "moveplan.practice.compose", "moveplan.cli.terminal.findings"} <= found
    assert not found & (SOLVERS | CALENDARS | SCHEDULES)
