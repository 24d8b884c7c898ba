"""Invented plans of somebody's own tasks with four people and three pumps, and what whole builds of them take.

Run: ``python -m tests.benchmarks.own_tasks [tasks ...]``. Seconds are those of the processor, of all threads: on a
machine with nothing else to do the clock shows the same, for the solver has one thread. The bar is 1.5 times the
seconds asked for, and one more.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import tempfile
from pathlib import Path

from moveplan import pipeline
from moveplan.scheduling.problem import SchedulingProblem

ROOT = Path(__file__).parents[2]
SECONDS, MOST_MIB = 2.0, 500
SIZES = (30, 100, 300, 1000, 3000)


def plan_text(size: int, seed: int) -> str:
    """A plan file: tasks that follow up to two of the twelve before them, some with a pump.

    Parameters
    ----------
    size : int
        How many tasks.
    seed : int
        Of every random choice.
    """
    draw = random.Random(seed)
    rows = []
    for n in range(size):
        after = sorted(draw.sample(range(max(0, n - 12), n), k=min(n, draw.choice([0, 1, 1, 2]))))
        pump = ", gear: {pumps: 1}" if draw.random() < 0.3 else ""
        ties = f", after: [{', '.join(f't{one}' for one in after)}]" if after else ""
        minutes, people = 15 * draw.randint(1, 12), draw.choice([1, 1, 1, 2])
        rows.append(f"  - {{id: t{n}, duration: {minutes} min, people: {people}{pump}{ties}}}\n")
    return (
        "title: Four people and three pumps (invented)\npurpose: own-tasks\ntimezone: Europe/Dublin\n"
        "start: 2027-03-01 08:00\ngear: [{id: pumps, count: 3}]\npeople:\n"
        + "".join(f"  p{n}: {{hours: {{mon-fri: 08:00-17:00, sat-sun: 10:00-14:00}}}}\n" for n in range(4))
        + "tasks:\n"
        + "".join(rows)
    )


def staffed(size: int, seed: int) -> SchedulingProblem:
    """The scheduling problem of such a plan.

    Parameters
    ----------
    size : int
        How many tasks.
    seed : int
        Of every random choice.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "plan.yaml"
        path.write_text(plan_text(size, seed))
        return pipeline.compose(pipeline.read(path, pipeline.Settings())).scheduling


def build(size: int, seconds: float = SECONDS) -> tuple[float, float]:
    """Build a plan as a process of its own.

    Parameters
    ----------
    size : int
        How many tasks.
    seconds : float
        Effort asked for. [s]

    Returns
    -------
    tuple of (float, float)
        What it took of the processor, and of memory at most. [s, MiB]
    """
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "plan.yaml"
        path.write_text(plan_text(size, 1))
        child = subprocess.Popen(
            [
                *(sys.executable, "-m", "moveplan", "build", path),
                *("--out", Path(folder) / "out", "--solver-seconds", str(seconds)),
            ],
            cwd=ROOT,
            env=os.environ | {"PYTHONPATH": str(ROOT)},
            stdout=subprocess.DEVNULL,
        )
        _pid, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        assert child.returncode == 0, size
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def main() -> None:
    """Print what each size takes."""
    for size in map(int, sys.argv[1:]) if sys.argv[1:] else SIZES:
        took, memory = build(size)
        bar = 1.5 * SECONDS + 1
        print(  # noqa: T201
            f"{size} tasks, {SECONDS} s asked: {took:.1f} s of CPU (bar {bar} s), "
            f"{memory:.0f} MiB (bar {MOST_MIB} MiB)",
            flush=True,
        )


if __name__ == "__main__":
    main()
