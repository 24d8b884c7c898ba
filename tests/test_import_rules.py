"""The directions in which packages may import each other, kept and watched."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
LINTER = "from importlinter.cli import lint_imports; import sys; sys.exit(lint_imports(no_cache=True))"

FORBIDDEN = {
    "outputs reach up into the command line": (
        "outputs/data/numbers.py",
        "from moveplan.cli import app",
        "one direction of imports",
    ),
    "science learns of plans": (
        "science/water/flow.py",
        "from moveplan.plan.systems import Tank",
        "one direction of imports",
    ),
    "the engine learns of aquariums": (
        "scheduling/effort.py",
        "from moveplan.science import flow",
        "network and scheduling know no aquarium",
    ),
    "a schedule is judged by how it is found": (
        "scheduling/objective/aims.py",
        "from moveplan.scheduling.construct import serial",
        "rooms of scheduling",
    ),
    "a container is chosen by the trips it makes": (
        "quantities/containers/offers.py",
        "from moveplan.quantities.leg import lading",
        "rooms of quantities",
    ),
    "YAML inside": ("cost/lines.py", "import yaml", "YAML, pydantic and typer stay at the border"),
    "pydantic inside": (
        "practice/ledger/holds.py",
        "import pydantic",
        "YAML, pydantic and typer stay at the border",
    ),
}
"""What must be caught: file, line to add, name of the rule that it breaks."""


def _linted(folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", LINTER],
        cwd=folder,
        env={"PYTHONPATH": str(folder), "PATH": "", "NO_COLOR": "1", "COLUMNS": "200"},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


@pytest.fixture
def copy(tmp_path: Path) -> Callable[[], Path]:
    """Copy the package, so that a wrong line can be added to it."""

    def _copy() -> Path:
        shutil.copytree(
            ROOT / "moveplan", tmp_path / "moveplan", ignore=shutil.ignore_patterns("__pycache__")
        )
        shutil.copy(ROOT / "pyproject.toml", tmp_path)
        return tmp_path

    return _copy


def test_every_rule_is_kept() -> None:
    found = _linted(ROOT)
    assert found.returncode == 0, found.stdout + found.stderr
    assert re.search(r"Contracts: (\d+) kept, 0 broken", found.stdout), found.stdout


@pytest.mark.parametrize(("file", "line", "rule"), FORBIDDEN.values(), ids=FORBIDDEN.keys())
def test_a_forbidden_import_is_caught(copy: Callable[[], Path], file: str, line: str, rule: str) -> None:
    folder = copy()
    module = folder / "moveplan" / file
    module.write_text(module.read_text("utf-8") + f"\n{line}\n", encoding="utf-8")
    found = _linted(folder)
    assert found.returncode != 0
    assert f"{rule} BROKEN" in found.stdout


def test_a_new_package_must_take_a_place(copy: Callable[[], Path]) -> None:
    folder = copy()
    (folder / "moveplan" / "gossip").mkdir()
    (folder / "moveplan" / "gossip" / "__init__.py").write_text('"""New."""\n', encoding="utf-8")
    found = _linted(folder)
    assert found.returncode != 0
    assert "gossip" in found.stdout + found.stderr


INSIDE_COMMANDS = (
    "screen.py",
    "findings.py",
    "diary.py",
    "pocket.py",
    "journal_data.py",
    "scribe.py",
    "happened.py",
    "handed_in.py",
)
"""Modules of the command line that are imported inside the commands."""


def test_the_command_line_imports_no_stage_when_it_is_loaded() -> None:
    imports = re.compile(r"^(?:from|import) +(moveplan[\w.]*)", re.MULTILINE)
    allowed = ("moveplan.cli", "moveplan.errors", "moveplan")
    for module in sorted((ROOT / "moveplan" / "cli").rglob("*.py")):
        if module.name in INSIDE_COMMANDS:
            continue
        for name in imports.findall(module.read_text("utf-8")):
            assert name in allowed or name.startswith("moveplan.cli."), f"{module.name} imports {name}"
