"""How long ``moveplan next`` takes as a whole process on a journal of 2,000 records; run it by hand.

It makes a journal in which the schedule was accepted five times and everything else is notes, readings and ticks.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path
from statistics import median

from moveplan.journal.records import Accepted, Done, Note, Reading, Record
from moveplan.journal.snapshot import snapshot_data
from moveplan.journal.store import append
from tests.journal.builders import PLAN_ID, T0, plan_file, planned, snapshot

RECORDS, TASKS, ACCEPTED, RUNS = 2000, 110, 5, 9
LONGEST_S = 0.4


def _records() -> list[Record]:
    small = snapshot()
    tasks = small.tasks + tuple(planned(f"task-{at}", 60 * at, 45, people=("ines",)) for at in range(TASKS))
    data = snapshot_data(replace(small, tasks=tasks))
    rows: list[Record] = [Accepted(at=T0 - 2000, schedule=data)]
    for at in range(RECORDS - 1):
        if at % (RECORDS // ACCEPTED) == RECORDS // ACCEPTED - 1:
            rows.append(Accepted(at=T0 + at, schedule=data))
        elif at % 3:
            rows.append(Reading(at=T0 + at, what="temperature", value=25.0, unit="°C", said="25 C"))
        elif at < 3 * TASKS // 2:
            rows.append(Done(at=T0 + at, task=f"task-{at // 3}"))
        else:
            rows.append(Note(at=T0 + at, text="nothing of note"))
    return rows


def main() -> int:
    """Measure, print, and fail where it takes too long."""
    with tempfile.TemporaryDirectory() as folder:
        plan = plan_file(Path(folder))
        append(plan, PLAN_ID, lambda _: [(record, "") for record in _records()])
        seconds = []
        for _ in range(RUNS):
            began = time.perf_counter()
            command = [sys.executable, "-m", "moveplan", "next", str(plan), "--now", "2027-03-14T12:00"]
            subprocess.run(command, check=True, capture_output=True)
            seconds.append(time.perf_counter() - began)
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    busy = (spent.ru_utime + spent.ru_stime) / RUNS
    sys.stdout.write(
        f"next on {RECORDS} records: best {min(seconds):.3f} s, median {median(seconds):.3f} s, "
        f"processor {busy:.3f} s\n"
    )
    return 0 if min(seconds) <= LONGEST_S else 1


if __name__ == "__main__":
    sys.exit(main())
