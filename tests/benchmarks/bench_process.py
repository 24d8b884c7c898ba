"""What whole processes take, start-up and all: ``--help``, ``check``, the first question, and the main job.

Run: ``pytest tests/benchmarks/bench_process.py -q -s``; or ``python -m tests.benchmarks.bench_process``.

Seconds are those of the processor, of all threads, with compiled bytecode, and the median of some runs; of the build
those of the clock, for the solver works beside the rest of it. The bars are those of a usual machine, and wider on a
slower one.
"""

from __future__ import annotations

import os
import pty
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

from tests.properties.bounds import slowness

ROOT = Path(__file__).parents[2]
RUNS = 5
BAR_HELP_S, BAR_CHECK_S, BAR_QUESTION_S, BAR_BUILD_S = 0.08, 0.6, 0.15, 2.0
BAR_KINDS_S, BAR_FORM_S = 0.15, 0.3
ENVIRONMENT = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"} | {
    "PYTHONPATH": str(ROOT)
}


def typical(once: Callable[[], float]) -> float:
    """Seconds of the processor, once everything is compiled."""
    once()
    return median(once() for _ in range(RUNS))


def command(*arguments: str) -> float:
    """What one command takes."""
    child = subprocess.Popen(
        [sys.executable, "-m", "moveplan", *arguments],
        cwd=ROOT,
        env=ENVIRONMENT,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    _pid, status, used = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    assert child.returncode == 0
    return used.ru_utime + used.ru_stime


def elapsed(*arguments: str) -> float:
    """What one command takes by the clock."""
    began = time.perf_counter()
    command(*arguments)
    return time.perf_counter() - began


def first_question(folder: str) -> float:
    """What the interview takes until its first prompt in a terminal, where it is left."""
    child, terminal = pty.fork()
    if child == 0:
        os.chdir(folder)
        os.execve(  # noqa: S606
            sys.executable, [sys.executable, "-m", "moveplan", "new", "none.yaml"], ENVIRONMENT
        )
    said = b""
    while not said.endswith(b"\n> "):
        said += os.read(terminal, 4096)
    os.close(terminal)
    _pid, _status, used = os.wait4(child, 0)
    return used.ru_utime + used.ru_stime


def test_whole_processes() -> None:
    slow = slowness()
    with tempfile.TemporaryDirectory() as folder:
        question_s = typical(lambda: first_question(folder))
        help_s = typical(lambda: command("--help"))
        kinds_s = typical(lambda: command("kinds", "tang"))
        form_s = typical(lambda: command("new", "--form", f"{folder}/form.html", "--force"))
        check_s = typical(lambda: command("check", "examples/house_move.yaml"))
        build_s = typical(lambda: elapsed("build", "examples/house_move.yaml", "--out", folder))
    print(  # noqa: T201 - a benchmark tells what it measured
        f"median of {RUNS}, on a machine {slow:.1f} times slower than the usual one of the bars: "
        f"--help {help_s:.2f} s (bar {BAR_HELP_S} s), check {check_s:.2f} s (bar {BAR_CHECK_S} s), "
        f"kinds {kinds_s:.2f} s (bar {BAR_KINDS_S} s), form {form_s:.2f} s (bar {BAR_FORM_S} s), "
        f"first question of new {question_s:.2f} s (bar {BAR_QUESTION_S} s), "
        f"build of the house move {build_s:.2f} s (bar {BAR_BUILD_S} s)"
    )
    assert help_s < BAR_HELP_S * slow
    assert kinds_s < BAR_KINDS_S * slow
    assert form_s < BAR_FORM_S * slow
    assert check_s < BAR_CHECK_S * slow
    assert question_s < BAR_QUESTION_S * slow
    assert build_s < BAR_BUILD_S * slow


if __name__ == "__main__":
    test_whole_processes()
