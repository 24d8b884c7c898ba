"""What the engines reach on the examples and on invented problems, written down to be compared with.

Run before and after a change::

    python -m tests.benchmarks.aims            # compares with what is written down, and tells what is worse
    python -m tests.benchmarks.aims --write    # writes it down

Effort is counted and not clocked, so that the values are the same on every machine with the same solver.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from moveplan import pipeline
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.objective.aims import EXPOSURE, HANDS, LATENESS
from moveplan.scheduling.schedule import Schedule
from moveplan.scheduling.solve import solve
from tests.benchmarks.own_tasks import staffed
from tests.cli.command import ROOT
from tests.scheduling.graded import graded
from tests.scheduling.instances import move

KEPT = Path(__file__).with_suffix(".json")
ANIMALS = (LATENESS, EXPOSURE, HANDS)
"""Aims that may never get worse; what comes after them may be traded among itself."""
EFFORTS: tuple[tuple[str, float], ...] = (("serial", 0.5), ("exact", 0.5), ("exact", 2.0))
MOVES = ((60, 2, 1), (60, 4, 1), (60, 4, 2), (120, 4, 1))
OWN = (30, 100, 300)


def _example(name: str, effort: Effort) -> Schedule:
    settings = pipeline.Settings(effort=effort)
    project = pipeline.compose(pipeline.read(ROOT / "examples" / f"{name}.yaml", settings))
    return pipeline.schedule(project, settings)[1]


def _problems() -> Iterator[tuple[str, Callable[[Effort], Schedule]]]:
    for path in sorted((ROOT / "examples").glob("*.yaml")):
        yield path.stem, lambda effort, name=path.stem: _example(name, effort)  # type: ignore[misc]
    for size, people, seed in MOVES:
        yield (
            f"move {size} tasks {people} people {seed}",
            lambda effort, of=(size, people, seed): solve(move(*of), effort),  # type: ignore[misc]
        )
    for size in OWN:
        yield f"own {size} tasks", lambda effort, of=size: solve(staffed(of, 1), effort)  # type: ignore[misc]
    for size in (60, 120):
        yield (
            f"graded {size} tasks",
            lambda effort, of=size: solve(graded(of, 1, 1.8, 0.75, 0.2), effort),  # type: ignore[misc]
        )


def _compared(row: str, now: dict[str, int], before: dict[str, int]) -> Iterator[str]:
    for name, value in now.items():
        if name in before and value != before[name]:
            mark = "WORSE" if value > before[name] else "better"
            yield f"  {mark}{' for animals' * (name in ANIMALS)}: {row}: {name}: {before[name]} -> {value}"


def main() -> None:
    """Measure, and compare or write."""
    known = json.loads(KEPT.read_text()) if KEPT.exists() else {}
    wanted = [word for word in sys.argv[1:] if not word.startswith("-")]
    for name, work in _problems():
        if wanted and not any(word in name for word in wanted):
            continue
        for engine, seconds in EFFORTS:
            row, began = f"{name}, {engine} {seconds} s", time.process_time()
            found = work(Effort(seconds=seconds, engine=engine))  # type: ignore[arg-type]
            now = {aim.name: aim.value for aim in found.aims}
            print(f"{row}: {time.process_time() - began:.1f} s of CPU, {found.status}", flush=True)  # noqa: T201
            for line in _compared(row, now, known.get(row, {})):
                print(line, flush=True)  # noqa: T201
            if "--write" in sys.argv:
                known[row] = now
                KEPT.write_text(json.dumps(known, indent=1) + "\n")


if __name__ == "__main__":
    main()
