"""How long ``moveplan next`` takes as a whole process on a journal of 2,000 records; run it by hand.

It makes a journal in which the house move was accepted five times and everything else is notes, readings and ticks.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from moveplan.journal.file.kept import snapshot_data
from moveplan.journal.file.store import append
from moveplan.journal.records import Accepted, Done, Note, Reading, Record
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.pipeline import judge
from moveplan.stages.reading import Settings
from tests.examples import scheduled
from tests.journal.builders import PLAN_ID, plan_file

RECORDS, ACCEPTED, RUNS, DONE = 2000, 5, 9, 60
LONGEST_S = 0.4


def _records() -> list[Record]:
    snapshot = snapshot_of_outlook(judge(*scheduled("house_move"), Settings()))
    data, first = snapshot_data(snapshot), snapshot.now
    early = sorted((task.finish, task.id) for task in snapshot.tasks if task.times == 1)[:DONE]
    last = early[-1][0]
    rows: list[Record] = [Accepted(at=first, schedule=data)]
    rows += [Done(at=finish, task=name) for finish, name in early]
    for at in range(RECORDS - len(rows)):
        if at % (RECORDS // ACCEPTED) == RECORDS // ACCEPTED - 1:
            rows.append(Accepted(at=last + at, schedule=data))
        elif at % 3:
            rows.append(Reading(at=last + at, what="temperature", value=25.0, unit="°C", said="25 C"))
        else:
            rows.append(Note(at=last + at, text="nothing of note"))
    return rows


def main() -> int:
    """Measure, print, and fail where it takes too long."""
    with tempfile.TemporaryDirectory() as folder:
        plan = plan_file(Path(folder))
        append(plan, PLAN_ID, lambda _: [(record, "") for record in _records()])
        seconds = []
        for _ in range(RUNS):
            began = time.perf_counter()
            command = [sys.executable, "-m", "moveplan", "next", str(plan), "--now", "2027-03-13T09:00"]
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
