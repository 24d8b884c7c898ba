"""How long whole processes take, start-up and all: ``--help``, ``check``, the first question, and the main job.

Run: ``pytest tests/benchmarks/bench_process.py -q -s``; or ``python -m tests.benchmarks.bench_process``.
"""

from __future__ import annotations

import os
import pty
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
RUNS = 5
BAR_HELP_S, BAR_CHECK_S, BAR_QUESTION_S, BAR_BUILD_S = 0.25, 0.6, 0.4, 3.0


def timed(*arguments: str) -> float:
    """The best of some runs: what the program takes, not what its neighbours on the machine take."""
    best = float("inf")
    for _ in range(RUNS):
        begin = time.perf_counter()
        subprocess.run(
            [sys.executable, "-m", "moveplan", *arguments],
            cwd=ROOT,
            env=dict(os.environ) | {"PYTHONPATH": str(ROOT)},
            check=True,
            capture_output=True,
        )
        best = min(best, time.perf_counter() - begin)
    return best


def first_question(folder: str) -> float:
    """The best of some runs: from the command to the first prompt in a terminal."""
    best = float("inf")
    for _ in range(RUNS):
        begin = time.perf_counter()
        child, terminal = pty.fork()
        if child == 0:
            os.environ["PYTHONPATH"] = str(ROOT)
            os.chdir(folder)
            os.execv(  # noqa: S606
                sys.executable, [sys.executable, "-m", "moveplan", "new", "none.yaml"]
            )
        said = b""
        while not said.endswith(b"\n> "):
            said += os.read(terminal, 4096)
        best = min(best, time.perf_counter() - begin)
        os.close(terminal)
        os.waitpid(child, 0)
    return best


def test_whole_processes() -> None:
    with tempfile.TemporaryDirectory() as folder:
        question_s = first_question(folder)
        help_s = timed("--help")
        check_s = timed("check", "examples/house_move.yaml")
        build_s = timed("build", "examples/house_move.yaml", "--out", folder)
    print(  # noqa: T201 - a benchmark tells what it measured
        f"best of {RUNS}: --help {help_s:.2f} s (bar {BAR_HELP_S} s), check {check_s:.2f} s (bar {BAR_CHECK_S} s), "
        f"first question of new {question_s:.2f} s (bar {BAR_QUESTION_S} s), "
        f"build of the house move {build_s:.2f} s (bar {BAR_BUILD_S} s)"
    )
    assert help_s < BAR_HELP_S
    assert check_s < BAR_CHECK_S
    assert question_s < BAR_QUESTION_S
    assert build_s < BAR_BUILD_S


if __name__ == "__main__":
    test_whole_processes()
