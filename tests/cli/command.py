"""Running the command line in processes of its own, and what the tests of it share."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.yaml"))
QUICK = ("--solver-seconds", "0.2", "--runs", "400")
"""Options of builds whose plan need not be the best one."""


@dataclass(frozen=True, slots=True)
class Ran:
    """What a run of the command line left behind."""

    status: int
    out: str
    err: str


Run = Callable[..., Ran]
"""Takes arguments of the command line."""


def process(*arguments: str | Path, folder: Path = ROOT, hash_seed: str = "0") -> subprocess.Popen[str]:
    """Start ``moveplan`` in a process of its own."""
    environment = dict(os.environ) | {"PYTHONHASHSEED": hash_seed, "PYTHONPATH": str(ROOT), "COLUMNS": "100"}
    return subprocess.Popen(
        [sys.executable, "-m", "moveplan", *map(str, arguments)],
        cwd=folder,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
    )


def ended(started: subprocess.Popen[str]) -> Ran:
    """Wait for a process."""
    out, err = started.communicate(timeout=240)
    assert "Traceback" not in err
    return Ran(started.returncode, out, err)


@dataclass(frozen=True, slots=True)
class Twice:
    """Two builds of one example, by processes that hash differently."""

    plan: Path
    first: Path
    second: Path
    ran: tuple[Ran, Ran]


FOOTBRIDGE = """\
title: Footbridge
purpose: own-tasks
timezone: Europe/Dublin
start: 2027-03-01 08:00                # the schedule begins here whatever the clock says
gear:
  - {id: pumps, count: 2}
tasks:
  - id: footing
    title: Pour the footing            # without a title the id serves
    duration: 3 h                      # or {low: 2 h, likely: 3 h, high: 6 h}; 0 h is allowed
    gear: {pumps: 1}
  - id: deck
    duration: 1 day                    # a day is 24 h, a week 7 days: elapsed time
    after: [footing]                   # finish to start, no gap: what a bare id means anywhere
  - id: rail
    duration: 90 min
    after:
      - {task: deck, relation: STARTTOSTART, gap: 30 min, at-most: 4 h}
    not-before: 2027-03-02 09:00
    finish-by: 2027-03-05 17:00
    may-pause: true
"""
"""A plan of own tasks with every key that such a plan has."""
