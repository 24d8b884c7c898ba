"""A plan taken through ``build`` with little effort; that its accounts close is part of every run."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tests.cli.command import Run

LITTLE = ("--solver-seconds", "0.2", "--runs", "200")


def built(run: Run, plan: Path, out: Path, *more: str) -> dict[str, Any]:
    """Build a plan; whatever it asks for, the answer is a result and status 0 or 1."""
    ran = run("build", plan, "--out", out, *LITTLE, *more)
    assert ran.status in (0, 1), ran.err
    result: dict[str, Any] = json.loads((out / "result.json").read_text("utf-8"))
    return result
