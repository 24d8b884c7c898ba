"""How often the promise is kept against the effort spent, and what judging it by simulation costs of that.

Run ``python -m tests.benchmarks.bench_promise [EXAMPLE ...]``. The bar: at most half of the effort goes into judging.
Shares are of 10,000 runs: a standard error of 0.4 % of all runs at 80 %. Seconds are of computing, not of the clock.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from unittest.mock import patch

from moveplan.pipeline import Settings, outlook_of
from moveplan.practice.project import Project
from moveplan.risk.promise.judge import promise_of
from moveplan.risk.promise.values import Promise
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Schedule
from moveplan.stages import surer

EXAMPLES = Path(__file__).parents[2] / "examples"
USUAL = ("house_move", "small_tank_move", "tight_day", "larger_tank_same_spot")
EFFORTS_S = (0.5, 2.0, 8.0)
RUNS = 10_000


class Judging:
    """Counts what judgements cost while it stands in the place of the judge."""

    def __init__(self) -> None:
        self.seconds = 0.0
        self.times = 0

    def __call__(self, project: Project, schedule: Schedule, seed: int) -> Promise | None:
        begin = time.process_time()
        try:
            return promise_of(project, schedule, seed)
        finally:
            self.seconds += time.process_time() - begin
            self.times += 1


def measured(example: str, effort_s: float) -> str:
    """Plan an example with so much effort, and tell what is kept of its promise."""
    judging = Judging()
    settings = Settings(runs=RUNS, effort=Effort(seconds=effort_s))
    begin = time.process_time()
    with patch.object(surer, "promise_of", judging):
        outlook = outlook_of(EXAMPLES / f"{example}.yaml", settings)
    whole = time.process_time() - begin
    kept = f"{outlook.risk.promise.kept:6.1%}" if outlook.risk and outlook.risk.promise else "  none"
    share = judging.seconds / whole
    return f"{example:28} {effort_s:4} s  kept {kept}  whole {whole:5.1f} s  {judging.times:2} judged, {share:4.0%}"


if __name__ == "__main__":
    for name in sys.argv[1:] or USUAL:
        for seconds in EFFORTS_S:
            sys.stdout.write(measured(name, seconds) + "\n")
